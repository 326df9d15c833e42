import { applied } from '../applied.ts';
import { fitsVariant } from '../applies.ts';
import type { Stamped } from '../decision.ts';
import type { PlannedSpecimen } from '../sheet.ts';
import { freeLetter } from '../specimens/freeLetter.ts';
import type { Case, Specimen } from '../state.ts';
import type { VariantChanged } from './events.ts';
import { plannedSpecimen } from './opened.ts';

/** Applies a change of variant: what it opens waits to be counted in, what it plans is planned. */
export function evolveVariant(current: Case, event: Stamped<VariantChanged>): Case {
  const { opened, group, to } = event;
  const lines = Object.keys(opened);
  const next = applied(current, event, {
    type: event.type,
    subject: to,
    postings: event.postings,
    ages: lines.length > 0 || current.counts.running !== undefined,
  });
  const uncounted = { ...next.counts.uncounted };
  // What is only followed by number is in no count, and must not wait for one.
  for (const line of lines) if (next.lines.get(line)?.counted) uncounted[line] = event.entry;
  const variants = { ...next.variants, [group]: to };
  const specimens = replanned(next, variants);
  return { ...next, variants, specimens, counts: { ...next.counts, uncounted } };
}

/**
 * Planned specimens of the new variant; those of the old that were never begun are no longer planned. Specimens of
 * different variants may share a letter on the sheet: in one case each has its own.
 *
 * Rules: S1.
 */
function replanned(current: Case, variants: Case['variants']): Case['specimens'] {
  const planned = current.sheet.specimens.filter((one) => one.planned);
  const fits = (one: PlannedSpecimen): boolean => fitsVariant({ variants }, one.when);
  const dropped = planned.filter(
    (one) => !fits(one) && current.specimens[one.id]?.stage === 'planned',
  );
  const specimens: Record<string, Specimen> = { ...current.specimens };
  for (const { id } of dropped) delete specimens[id];
  for (const one of planned) {
    if (!fits(one) || specimens[one.id]) continue;
    const letter = freeLetter(specimens, one.letter);
    specimens[one.id] = { ...plannedSpecimen(current.sheet, one), letter };
  }
  return specimens;
}
