import { applied } from '../applied.ts';
import { fitsVariant } from '../applies.ts';
import { accept, type Decision, refuse, type Stamped } from '../decision.ts';
import { transfer } from '../ledger.ts';
import type { PlannedSpecimen } from '../sheet.ts';
import { freeLetter } from '../specimens/freeLetter.ts';
import type { Case, Specimen } from '../state.ts';
import type { ChangeVariant, VariantChanged } from './events.ts';
import { plannedSpecimen } from './open.ts';

/**
 * Another way of doing the operation. What it opens is on the table at once, not counted in: `baseline-open`
 * holds every closure until it is.
 *
 * Refuses, first match wins: unknown-variant, already-done.
 * Rules: L13, X11.
 */
export function decideVariant(current: Case, command: ChangeVariant): Decision<VariantChanged> {
  const variant = current.sheet.variants.find((known) => known.id === command.to);
  if (!variant) return refuse('unknown-variant', command.to);
  const from = current.variants[variant.group] ?? '';
  if (from === variant.id) return refuse('already-done', variant.name);
  const opened = current.counts.first === 'open' ? {} : variant.opens;
  const postings = Object.entries(opened).flatMap(([line, n]) =>
    transfer(line, 'supply', 'table', n),
  );
  return accept<VariantChanged>({
    type: 'variantChanged',
    group: variant.group,
    from,
    to: variant.id,
    opened,
    postings,
  });
}

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
