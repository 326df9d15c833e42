import { say } from '#words/say.ts';
import type { Stamp } from './decision.ts';
import { type Posting, post } from './ledger.ts';
import { isInside } from './places.ts';
import type { Case, Log, Undo } from './state.ts';

/** What one event did, beside its own fields. */
export type Effect = {
  readonly type: string;
  readonly subject: string;
  readonly postings?: readonly Posting[];
  /** Makes the counts stale. */
  readonly ages?: boolean;
  /** Something inside changed, so that the last look is asked again. */
  readonly asksLook?: boolean;
  readonly canTakeBack?: boolean;
  readonly undo?: readonly Undo[];
};

/** Shared, since most entries have nothing to put back and a case keeps them all. */
const nothing: readonly never[] = [];

/** Posts, ages, asks the last look again, and notes the entry and what can be taken back. Once for each event. */
export function applied(current: Case, stamp: Stamp, effect: Effect): Case {
  const { postings = nothing, ages = false, asksLook = false, undo = nothing } = effect;
  const log: Log = {
    entry: stamp.entry,
    id: stamp.id,
    type: effect.type,
    subject: effect.subject,
    postings,
    ages,
    asksLook,
    canTakeBack: effect.canTakeBack ?? false,
    undo: undo.length > 0 ? undo : nothing,
    corrected: false,
    tail: current.log,
  };
  return {
    ...current,
    entry: stamp.entry,
    lastAt: stamp.at,
    ledger: post(current.ledger, postings),
    counts: ages ? voided(current, stamp) : current.counts,
    agedEntry: ages ? stamp.entry : current.agedEntry,
    looks: asksLook ? openLooks(current) : current.looks,
    log,
  };
}

/** Whether these postings change what is in the patient. */
export const touchesInside = (postings: readonly Posting[]): boolean =>
  postings.some((posting) => isInside(posting.place));

/** The counts when something makes them stale: one that is running is void. */
function voided(current: Case, stamp: Stamp): Case['counts'] {
  const { running } = current.counts;
  if (!running) return current.counts;
  const broken = {
    moment: running.moment,
    reason: say`Something was entered while the count was running.`,
    at: stamp.at,
  };
  return { ...current.counts, running: undefined, broken };
}

/** The last-look answers that still stand: those of closures that are made. */
function openLooks(current: Case): Case['looks'] {
  const isMade = (closure: string) => current.closures[closure]?.closedAt !== undefined;
  if (Object.keys(current.looks).every(isMade)) return current.looks;
  return Object.fromEntries(Object.entries(current.looks).filter(([closure]) => isMade(closure)));
}
