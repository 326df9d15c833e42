import type { Case, Log } from './state.ts';

/** The ids of a log, where they were asked for: they go on with the log that grows from it. */
const known = new WeakMap<Log, Set<string>>();

/**
 * Whether a command of this id was recorded. Costs the same after 20 entries and after 20,000, when it was asked of the
 * case shortly before; a case that was never asked is read through once.
 */
export const isRecorded = ({ openedId, log }: Case, id: string): boolean =>
  id === openedId || (log !== undefined && idsOf(log).has(id));

function idsOf(log: Log): ReadonlySet<string> {
  const newer: Log[] = [];
  let at: Log | undefined = log;
  for (; at && !known.has(at); at = at.tail) newer.push(at);
  const ids = (at && known.get(at)) ?? new Set();
  // From now on they say more than that log holds: whoever asks it again reads it again.
  if (at) known.delete(at);
  for (const { id } of newer) ids.add(id);
  known.set(log, ids);
  return ids;
}
