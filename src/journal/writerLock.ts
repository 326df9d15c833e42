/** One writer a case, among all windows of this browser. */
export type WriterLock = {
  /**
   * Takes the writing of a case, and lets go of the case before. A window that cannot take it may only
   * read, also where the browser has no locks. `take-over` takes it from the window that has it: one that
   * is frozen never lets go by itself.
   */
  readonly claim: (caseId: string, how?: 'take-over') => Promise<'writer' | 'reader'>;
  readonly release: () => void;
  /** Tells the other windows that a row was written. */
  readonly wrote: (caseId: string, seq?: number) => void;
  /** Calls back when another window wrote a row. */
  readonly onWritten: (listener: (caseId: string, seq: number | undefined) => void) => void;
  /** Calls back when another window took the writing over. */
  readonly onLost: (listener: (caseId: string) => void) => void;
  readonly close: () => void;
};

/** What goes to the other windows after each row. */
type Written = { readonly caseId: string; readonly seq: number | undefined };

/** The part of the browser's LockManager that is used. */
export type Locks = {
  readonly request: (
    name: string,
    options: { readonly ifAvailable: true } | { readonly steal: true },
    callback: (lock: object | null) => Promise<void>,
  ) => Promise<unknown>;
};

/**
 * Keeps the lock of one case as long as this window lives or until it lets go.
 *
 * Source: W3C Web Locks API; a lock ends by itself with its window.
 */
export function makeWriterLock(
  locks: Locks | undefined = globalThis.navigator?.locks,
  channel: BroadcastChannel = new BroadcastChannel('lastlook-written'),
): WriterLock {
  let held: { readonly caseId: string; readonly lock: Taken } | undefined;
  /** A lock is free only some time after it was let go of. */
  let released: Promise<unknown> = Promise.resolve();
  const losers = new Set<(caseId: string) => void>();

  function release(): void {
    held?.lock.letGo();
    released = held?.lock.isFree ?? released;
    held = undefined;
  }

  /** A lock that ends although we hold it was taken over. */
  function lost(caseId: string, lock: Taken): void {
    if (held?.lock !== lock) return;
    held = undefined;
    for (const listener of losers) listener(caseId);
  }

  async function claim(caseId: string, how?: 'take-over'): Promise<'writer' | 'reader'> {
    if (held?.caseId === caseId) return 'writer';
    release();
    if (!locks) return 'reader';
    await released;
    const lock = await take(locks, `lastlook-case-${caseId}`, how);
    if (!lock) return 'reader';
    release(); // Another claim may have come first.
    held = { caseId, lock };
    void lock.isFree.then(() => lost(caseId, lock));
    return 'writer';
  }

  function wrote(caseId: string, seq?: number): void {
    const written: Written = { caseId, seq };
    channel.postMessage(written);
  }

  function onWritten(listener: (caseId: string, seq: number | undefined) => void): void {
    channel.addEventListener('message', ({ data }: MessageEvent<Written>) =>
      listener(data.caseId, data.seq),
    );
  }

  return {
    claim,
    release,
    wrote,
    onWritten,
    onLost: (listener) => void losers.add(listener),
    close: () => {
      release();
      channel.close();
    },
  };
}

type Taken = { readonly letGo: () => void; readonly isFree: Promise<unknown> };

/** Answers a lock that is held until it is let go of, or undefined if somebody else has it. */
function take(
  locks: Locks,
  name: string,
  how: 'take-over' | undefined,
): Promise<Taken | undefined> {
  return new Promise((resolve) => {
    const { promise: end, letGo } = ending();
    const options =
      how === 'take-over' ? ({ steal: true } as const) : ({ ifAvailable: true } as const);
    const isFree = locks
      .request(name, options, (lock) => {
        resolve(lock ? { letGo, isFree } : undefined);
        return lock ? end : Promise.resolve();
      })
      .catch(() => resolve(undefined));
  });
}

function ending(): { readonly promise: Promise<void>; readonly letGo: () => void } {
  let letGo = (): void => undefined;
  const promise = new Promise<void>((resolve) => {
    letGo = resolve;
  });
  return { promise, letGo };
}
