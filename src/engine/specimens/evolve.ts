import { applied, touchesInside } from '../applied.ts';
import { unreachable } from '../assert.ts';
import type { Stamped } from '../decision.ts';
import type { Case, Specimen } from '../state.ts';
import type { SpecimenReadBack, SpecimensEvent } from './events.ts';

/** Applies one step of a specimen. */
export function evolveSpecimens(current: Case, event: Stamped<SpecimensEvent>): Case {
  const postings = event.type === 'specimenTaken' ? event.postings : [];
  const before = current.specimens[event.specimen];
  const touches = touchesInside(postings);
  const isTorn = event.type === 'specimenTaken' && event.bag === 'torn';
  const next = applied(current, event, {
    type: event.type,
    subject: event.specimen,
    postings,
    ages: touches,
    asksLook: touches || isTorn,
    canTakeBack: true,
    undo: [{ slice: 'specimens', key: event.specimen, before }],
  });
  const after = stepped(before, event);
  if (!after) return next;
  return { ...next, specimens: { ...next.specimens, [event.specimen]: after } };
}

function stepped(
  before: Specimen | undefined,
  event: Stamped<SpecimensEvent>,
): Specimen | undefined {
  if (event.type === 'specimenAdded') {
    const { name, letter, site, siteWords, side, test, media } = event;
    const id = event.specimen;
    return {
      id,
      name,
      letter,
      site,
      siteWords,
      side,
      test,
      media,
      bagWanted: false,
      stage: 'planned',
    };
  }
  if (!before) return undefined;
  const { at } = event;
  switch (event.type) {
    case 'specimenTaken': {
      const { pieces, whole, bag } = event;
      const carries = summed(before.carries ?? {}, event.carries);
      const takenAt = before.takenAt ?? at;
      return { ...before, stage: 'taken', pieces, isWhole: whole, bag, carries, takenAt };
    }
    case 'specimenContained': {
      const { pot, medium, seenBy, reason } = event;
      const why = reason === undefined ? {} : { mediumReason: reason };
      return { ...before, stage: 'contained', pot, medium, seenBy, containedAt: at, ...why };
    }
    case 'specimenLabelled':
      return { ...before, stage: 'labelled', labelledBy: event.labelledBy, labelledAt: at };
    case 'specimenReadBack':
      return readBack(before, event);
    case 'specimenHandedOver':
      return { ...before, stage: 'handedOver', handedTo: event.to, handedAt: at };
    case 'specimenNotTaken':
      return { ...before, stage: 'notTaken', partReason: event.reason };
    case 'specimenPartLeft':
      return { ...before, partReason: event.reason };
    default:
      return unreachable(event);
  }
}

function readBack(before: Specimen, event: Stamped<SpecimenReadBack>): Specimen {
  if (!event.agrees) return { ...before, stage: 'contained' };
  return { ...before, stage: 'readBack', readBackBy: event.readBy, readBackAt: event.at };
}

function summed(
  one: Readonly<Record<string, number>>,
  other: Readonly<Record<string, number>>,
): Readonly<Record<string, number>> {
  const sums: Record<string, number> = { ...one };
  for (const [line, n] of Object.entries(other)) sums[line] = (sums[line] ?? 0) + n;
  return sums;
}
