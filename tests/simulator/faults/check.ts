/** What must hold of the record after a restart, worked out from the stored rows alone. */
import { replay } from '#engine/history/replay.ts';
import type { Case } from '#engine/state.ts';
import { parseEvents } from '#session/parseEvents.ts';
import type { Window } from './tablet.ts';
import type { Theatre } from './theatre.ts';

export type StoredRow = {
  readonly id: string;
  readonly seq: number;
  readonly hash: string;
  readonly prev: string;
  readonly events: readonly unknown[];
};

/** The longer of what the homes hold, as data. */
export function rowsOf(one: readonly string[], other: readonly string[]): readonly StoredRow[] {
  const longer = one.length >= other.length ? one : other;
  return longer.map((text) => JSON.parse(text));
}

/** Equal in all that is defined. */
export function isSame(one: unknown, other: unknown): boolean {
  if (Object.is(one, other)) return true;
  if (typeof one !== 'object' || typeof other !== 'object' || !one || !other) return false;
  if (one instanceof Map && other instanceof Map)
    return isSame(Object.fromEntries(one), Object.fromEntries(other));
  const [left, right] = [definedIn(one), definedIn(other)];
  return (
    left.length === right.length &&
    left.every(([key, part]) => isSame(part, Reflect.get(other, key)))
  );
}

const definedIn = (value: object): readonly [string, unknown][] =>
  Object.entries(value).filter(([, part]) => part !== undefined);

export function foldRows(rows: readonly StoredRow[]): Case | undefined {
  const parsed = rows.map((row) => ({ events: parseEvents(row.events) ?? [] }));
  const folded = replay(parsed);
  return folded.ok ? folded.current : undefined;
}

export function wrongRows(theatre: Theatre, window: Window): readonly string[] {
  const { acknowledged, told } = theatre;
  const { database, files } = theatre.storage;
  const { current, head, reports } = window.state();
  const caseId = current?.id ?? '';
  const [one, other] = [database.rowsOf(caseId), files.rowsNow(caseId)];
  const rows = rowsOf(one, other);
  const wrong: string[] = [];
  if (JSON.stringify(one) !== JSON.stringify(other))
    wrong.push(`the homes differ: ${one.length} and ${other.length} rows`);
  for (const { code } of reports) told.add(code);
  for (const { seq, hash, homes, caseId: of } of acknowledged) {
    if (of !== caseId || rows[seq - 1]?.hash === hash) continue;
    // Kept in one home only, as was said then; if that one was lost or another history was longer, it is said.
    const isTold = ['rows-lost', 'homes-disagree', 'database-wiped', 'tail-damaged'].some((code) =>
      told.has(code),
    );
    if (homes.length > 1 || !isTold) wrong.push(`acknowledged entry ${seq} is lost (${homes})`);
  }
  if (new Set(rows.map(({ id }) => id)).size !== rows.length) wrong.push('an entry is there twice');
  if (rows.some(({ seq }, index) => seq !== index + 1)) wrong.push('the rows are not in order');
  if (rows.at(-1)?.hash !== head) wrong.push('the screen does not end where the record ends');
  const folded = foldRows(rows);
  if (!folded || !current || !isSame(folded, current)) wrong.push('the fold differs');
  return [...wrong, ...wrongSums(rows)];
}

/** Every line sums to zero over all places, and no place but the contra accounts is below zero. */
function wrongSums(rows: readonly StoredRow[]): readonly string[] {
  const balances = new Map<string, number>();
  for (const { line, place, by } of rows.flatMap(({ events }) => events.flatMap(postingsOf))) {
    const key = `${line}@${place}`;
    balances.set(key, (balances.get(key) ?? 0) + by);
  }
  const sums = new Map<string, number>();
  const wrong: string[] = [];
  for (const [key, by] of balances) {
    const [line = '', place = ''] = key.split('@');
    sums.set(line, (sums.get(line) ?? 0) + by);
    if (by < 0 && place !== 'supply' && place !== 'changed') wrong.push(`${key} is ${by}`);
  }
  for (const [line, sum] of sums) if (sum !== 0) wrong.push(`${line} sums to ${sum}`);
  return wrong;
}

type Posting = { readonly line: string; readonly place: string; readonly by: number };

const postingsOf = (event: unknown): readonly Posting[] =>
  typeof event === 'object' &&
  event !== null &&
  'postings' in event &&
  Array.isArray(event.postings)
    ? event.postings
    : [];
