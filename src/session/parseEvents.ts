import type { CaseEvent } from '#engine/case/events.ts';
import { isInstant } from '#engine/quantities.ts';

/** Every event type that this version can apply. A new one is added here and in `evolve`, never removed. */
const known: Readonly<Record<CaseEvent['type'], true>> = {
  opened: true,
  variantChanged: true,
  corrected: true,
  added: true,
  moved: true,
  turned: true,
  broken: true,
  carriedIn: true,
  explained: true,
  noneFound: true,
  countBegun: true,
  entered: true,
  countAgreed: true,
  countAbandoned: true,
  recounted: true,
  relieved: true,
  waived: true,
  discrepancyStepped: true,
  found: true,
  declared: true,
  amended: true,
  xrayRead: true,
  xrayDeferred: true,
  specimenAdded: true,
  specimenTaken: true,
  specimenContained: true,
  specimenLabelled: true,
  specimenReadBack: true,
  specimenHandedOver: true,
  specimenNotTaken: true,
  specimenPartLeft: true,
  checkpointBegun: true,
  answered: true,
  checkpointFinished: true,
  checkpointReopened: true,
  incised: true,
  dosed: true,
  looked: true,
  closed: true,
  reopened: true,
  finished: true,
  noteWritten: true,
  weighed: true,
  fluidMeasured: true,
  handedOver: true,
  allergiesSaid: true,
};

/** The names of all events that this version can apply. */
export const eventTypes: readonly string[] = Object.keys(known);

/**
 * The events of one row, or undefined where one is not an event of this version.
 *
 * The chain has shown that the row is as it was written; what is checked here is that this program knows it.
 */
export function parseEvents(events: readonly unknown[]): readonly CaseEvent[] | undefined {
  const parsed: CaseEvent[] = [];
  for (const event of events) {
    if (!isEvent(event)) return undefined;
    parsed.push(event);
  }
  return parsed;
}

function isEvent(value: unknown): value is CaseEvent {
  if (typeof value !== 'object' || value === null) return false;
  const { type, entry, at, by, id } = value as Record<string, unknown>; // a parser: unknown until here
  if (typeof type !== 'string' || !Object.hasOwn(known, type)) return false;
  return (
    Number.isInteger(entry) && isInstant(at) && typeof by === 'string' && typeof id === 'string'
  );
}
