/** Time that passes only when told to, so that a simulation is the same on every machine. */
import { AsyncLocalStorage } from 'node:async_hooks';
import { createHash } from 'node:crypto';
import { rangeFrom } from './databaseWork.ts';

/** A window of the browser. What a dead one has still to do is never done; a frozen one does it later. */
export type Owner = { readonly name: string; isDead: boolean; isFrozen: boolean };

type Waiting = {
  readonly order: number;
  readonly owner: Owner | undefined;
  readonly run: () => void;
  at: number;
};

export type Time = {
  /** Units: milliseconds since the simulation began. */
  readonly now: () => number;
  /** Answers how to call it off. */
  readonly after: (ms: number, run: () => void, owner?: Owner) => () => void;
  /** Never ends for a window that was killed. */
  readonly sleep: (ms: number, owner?: Owner) => Promise<void>;
  /** Lets things happen, one after another, until it is so. Throws when nothing is left to happen. */
  readonly runUntil: (isSo: () => boolean) => Promise<void>;
};

const owners = new AsyncLocalStorage<Owner>();
const times = new AsyncLocalStorage<Time>();
const realTimeout = globalThis.setTimeout;
const realClear = globalThis.clearTimeout;

/** Everything that is done in here, and what comes of it later, belongs to the window. */
export const as = <T>(owner: Owner, work: () => T): T => owners.run(owner, work);
export const within = <T>(time: Time, work: () => T): T => times.run(time, work);

const turn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** Makes a clock that stands still. */
export function makeTime(): Time {
  let now = 0;
  let order = 0;
  const waiting = new Set<Waiting>();

  function after(ms: number, run: () => void, owner = owners.getStore()): () => void {
    order += 1;
    const one: Waiting = { at: now + Math.max(0, ms), order, owner, run };
    waiting.add(one);
    return () => void waiting.delete(one);
  }

  function next(): Waiting | undefined {
    let first: Waiting | undefined;
    for (const one of waiting) {
      if (one.owner?.isDead) waiting.delete(one);
      else if (one.owner?.isFrozen) continue;
      else if (!first || one.at < first.at || (one.at === first.at && one.order < first.order))
        first = one;
    }
    return first;
  }

  async function runUntil(isSo: () => boolean): Promise<void> {
    for (;;) {
      await turn();
      if (isSo()) return;
      const one = next();
      if (!one) throw new Error('Nothing is left to happen.');
      waiting.delete(one);
      now = Math.max(now, one.at);
      if (one.owner) as(one.owner, one.run);
      else one.run();
    }
  }

  return {
    now: () => now,
    after,
    sleep: (ms, owner) => new Promise((resolve) => void after(ms, resolve, owner)),
    runUntil,
  };
}

/**
 * Gives the program simulated timers, and hashes and random bytes that do not leave the process: those
 * of the platform end in whatever order they like. Answers how to put the real ones back.
 */
export function installTime(): () => void {
  const { subtle } = globalThis.crypto;
  const digest = async (_name: string, data: Uint8Array): Promise<ArrayBuffer> => {
    const made = createHash('sha256').update(data).digest();
    return new Uint8Array(made).buffer;
  };
  const setTimeout = (run: () => void, ms = 0, ...more: unknown[]): unknown => {
    const time = times.getStore();
    return time ? time.after(ms, run) : realTimeout(run, ms, ...more);
  };
  const clearTimeout = (late: unknown): void => {
    if (typeof late === 'function') late();
    else realClear(Number(late));
  };
  const real = { getRandomValues: crypto.getRandomValues, IDBKeyRange: globalThis.IDBKeyRange };
  Reflect.set(globalThis, 'setTimeout', setTimeout);
  Reflect.set(globalThis, 'clearTimeout', clearTimeout);
  Reflect.set(globalThis, 'IDBKeyRange', { bound: rangeFrom });
  Object.defineProperty(subtle, 'digest', { value: digest, configurable: true });
  Object.defineProperty(crypto, 'getRandomValues', {
    value: (bytes: Uint8Array) => bytes,
    configurable: true,
  });
  return () => {
    Reflect.set(globalThis, 'setTimeout', realTimeout);
    Reflect.set(globalThis, 'clearTimeout', realClear);
    Reflect.set(globalThis, 'IDBKeyRange', real.IDBKeyRange);
    Reflect.deleteProperty(subtle, 'digest');
    Reflect.deleteProperty(crypto, 'getRandomValues');
  };
}
