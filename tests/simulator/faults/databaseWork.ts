/** Transactions of the simulated database: one at a time, each whole or not there, failing as told. */
import type { Chance } from '../studyChance.ts';
import { type DatabaseMishap, hangMs, type MishapAt, slowMs } from './mishaps.ts';
import type { Owner, Time } from './time.ts';

type Entry = { readonly key: unknown; readonly value: unknown };
type Heard = (() => void) | null | undefined;

/** A request, or a transaction: both tell how they ended in the same way. */
export type Asked = {
  result: unknown;
  error: DOMException | null;
  onsuccess?: Heard;
  oncomplete?: Heard;
  onerror?: Heard;
  onabort?: Heard;
};

export type Connection = { readonly owner: Owner; isDead: boolean; onclose: Heard };

type Transaction = Asked & {
  readonly owner: Owner;
  readonly connection: Connection;
  readonly isWriting: boolean;
  readonly fate: DatabaseMishap | undefined;
  readonly work: { readonly request: Asked; readonly run: () => unknown }[];
  readonly undo: (() => void)[];
  readonly listeners: Map<string, (() => void)[]>;
  fillerBytes: number;
  isOver: boolean;
};

/** All that the browser keeps of the database, in memory and on disk. Changed by what happens. */
export type Disk = {
  readonly time: Time;
  readonly chance: Chance;
  readonly mishapAt: MishapAt<DatabaseMishap>;
  stores: Map<string, Map<string, Entry>> | undefined;
  /** The last record of the log is not whole. */
  isTorn: boolean;
  /** Something was written behind it. */
  isBuried: boolean;
  hasLost: boolean;
  wipes: number;
  calls: number;
  running: Transaction | undefined;
  waiting: Transaction[];
};

/** Much enough that the browser begins a new log. */
const rotatingBytes = 2_000_000;

export const wrong = (name: string): DOMException => new DOMException(`Simulated: ${name}`, name);
export const latency = ({ chance }: Disk): number => 1 + chance() * 8;

export function mishap(disk: Disk): DatabaseMishap | undefined {
  disk.calls += 1;
  return disk.mishapAt(disk.calls);
}

export function transaction(disk: Disk, connection: Connection, mode: string): Transaction {
  const { owner } = connection;
  if (connection.isDead) throw wrong('InvalidStateError');
  const fate = mishap(disk);
  if (fate === 'blocked') throw wrong('InvalidStateError');
  const now: Transaction = {
    ...{ owner, connection, fate, isWriting: mode === 'readwrite' },
    ...{ result: undefined, error: null, work: [], undo: [], listeners: new Map() },
    ...{ fillerBytes: 0, isOver: false },
  };
  const addEventListener = (name: string, listener: () => void) =>
    now.listeners.set(name, [...(now.listeners.get(name) ?? []), listener]);
  Object.assign(now, {
    addEventListener,
    objectStore: (name: string) => storeIn(disk, now, name),
    abort: () => abort(disk, now, null),
    // What was asked for is done first, so it comes to the same as waiting.
    commit: () => undefined,
  });
  // Not before whoever began it has asked for something.
  const begun = (): void => {
    if (disk.running) disk.waiting.push(now);
    else begin(disk, now);
  };
  disk.time.after(0, begun, owner);
  return now;
}

function begin(disk: Disk, now: Transaction): void {
  disk.running = now;
  step(disk, now, now.fate !== undefined && disk.chance() < 0.5);
}

function step(disk: Disk, now: Transaction, isFailing: boolean): void {
  const next = (): void => {
    if (now.isOver) return;
    const one = now.work.shift();
    if (!one || isFailing) {
      end(disk, now, one?.request);
      return;
    }
    one.request.result = one.run();
    one.request.onsuccess?.();
    step(disk, now, false);
  };
  disk.time.after(latency(disk), next, now.owner);
}

function end(disk: Disk, now: Transaction, failing: Asked | undefined): void {
  const { fate, owner, connection } = now;
  if (fate === undefined) complete(disk, now);
  else if (fate === 'slow') disk.time.after(slowMs, () => complete(disk, now), owner);
  else if (fate === 'hangs')
    disk.time.after(hangMs, () => abort(disk, now, wrong('AbortError')), owner);
  else {
    if (fate === 'done-but-denied') now.undo.length = 0;
    if (failing) {
      failing.error = wrong('UnknownError');
      failing.onerror?.();
    }
    if (fate !== 'quota' && fate !== 'no-reason') connection.isDead = true;
    if (fate === 'connection-lost') connection.onclose?.();
    const name = fate === 'quota' ? 'QuotaExceededError' : 'UnknownError';
    abort(disk, now, fate === 'no-reason' ? null : wrong(name));
  }
}

function complete(disk: Disk, now: Transaction): void {
  if (now.isOver) return;
  if (now.isWriting && disk.isTorn) {
    if (now.fillerBytes >= rotatingBytes) disk.isTorn = false;
    else disk.isBuried = true;
  }
  over(disk, now);
  now.oncomplete?.();
  for (const listener of now.listeners.get('complete') ?? []) listener();
}

function abort(disk: Disk, now: Transaction, error: DOMException | null): void {
  if (now.isOver) return;
  for (const back of now.undo.reverse()) back();
  now.error = error;
  over(disk, now);
  now.onabort?.();
  for (const listener of now.listeners.get('abort') ?? []) listener();
}

function over(disk: Disk, now: Transaction): void {
  now.isOver = true;
  disk.running = undefined;
  disk.waiting = disk.waiting.filter(({ owner }) => !owner.isDead);
  const next = disk.waiting.shift();
  if (next) begin(disk, next);
}

/** The transaction that a killed window had begun is whole or not there, and its record may be torn. */
export function killTransaction(disk: Disk, owner: Owner): void {
  const now = disk.running;
  if (now?.owner !== owner) return;
  const isWhole = now.work.length === 0 && disk.chance() < 0.5;
  if (!isWhole) for (const back of now.undo.reverse()) back();
  disk.isTorn ||= now.isWriting && disk.chance() < 0.5;
  over(disk, now);
}

function storeIn(disk: Disk, now: Transaction, name: string) {
  const entries = (): Map<string, Entry> => disk.stores?.get(name) ?? new Map();
  function ask(run: () => unknown): Asked {
    if (now.isOver) throw wrong('TransactionInactiveError');
    const request: Asked = { result: undefined, error: null };
    now.work.push({ request, run });
    return request;
  }
  function change(key: unknown, value: unknown): void {
    const [there, name] = [entries(), JSON.stringify(key)];
    const before = there.get(name);
    now.undo.push(() => {
      if (before) there.set(name, before);
      else there.delete(name);
    });
    if (value === undefined) there.delete(name);
    else there.set(name, { key, value });
    if (value instanceof Uint8Array) now.fillerBytes += value.length;
  }
  const remove = (range: unknown) =>
    within(entries(), range).map(({ key }) => change(key, undefined));
  return {
    transaction: now,
    get: (key: unknown) => ask(() => entries().get(JSON.stringify(key))?.value),
    getAll: (range?: unknown) => ask(() => within(entries(), range).map(({ value }) => value)),
    getKey: (range: unknown) => ask(() => within(entries(), range)[0]?.key),
    getAllKeys: (range?: unknown, most?: number) =>
      ask(() =>
        within(entries(), range)
          .slice(0, most)
          .map(({ key }) => key),
      ),
    count: (range?: unknown) => ask(() => within(entries(), range).length),
    add: (value: unknown, key: unknown) => ask(() => change(key, value)),
    put: (value: unknown, key: unknown) => ask(() => change(key, value)),
    delete: (range: unknown) => ask(() => remove(range)),
    clear: () => ask(() => remove(undefined)),
  };
}

/** A range, as the simulated `IDBKeyRange` makes it: both ends are in it. */
export const rangeFrom = (lower: unknown, upper: unknown) => ({ lower, upper });

/** In order of their keys. A key alone is the range of itself. */
export function within(entries: ReadonlyMap<string, Entry>, range: unknown): readonly Entry[] {
  const all = [...entries.values()].sort((one, other) => compared(one.key, other.key));
  if (range === undefined) return all;
  const { lower, upper } = isRange(range) ? range : { lower: range, upper: range };
  return all.filter(({ key }) => compared(lower, key) <= 0 && compared(key, upper) <= 0);
}

const isRange = (value: unknown): value is ReturnType<typeof rangeFrom> =>
  typeof value === 'object' && value !== null && 'lower' in value && 'upper' in value;

/** Source: Indexed Database API 3.0, "compare two keys": numbers before texts before arrays. */
function compared(one: unknown, other: unknown): number {
  const kinds = rankOf(one) - rankOf(other);
  if (kinds !== 0) return kinds;
  if (!Array.isArray(one) || !Array.isArray(other)) return comparedPlain(one, other);
  for (let at = 0; at < Math.min(one.length, other.length); at += 1) {
    const part = compared(one[at], other[at]);
    if (part !== 0) return part;
  }
  return one.length - other.length;
}

const rankOf = (key: unknown): number => ['number', 'string', 'object'].indexOf(typeof key);

function comparedPlain(one: unknown, other: unknown): number {
  if (typeof one === 'number' && typeof other === 'number') return one - other;
  const [left, right] = [String(one), String(other)];
  return left < right ? -1 : left > right ? 1 : 0;
}
