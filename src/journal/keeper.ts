import type { Failed } from './failures.ts';
import { ask, type Home, type Stored } from './home.ts';

export type NotesHeld =
  | { readonly ok: true; readonly notes: readonly (readonly [name: string, text: string])[] }
  | Failed;

/**
 * What a home can do besides adding rows: keep short texts that may be written over and taken away, such as the key of
 * a case, and take a whole case away.
 *
 * Rules: each answers ok only when a power cut would not undo it.
 */
export type Keeper = {
  readonly readNotes: () => Promise<NotesHeld>;
  readonly putNote: (name: string, text: string) => Promise<Stored>;
  readonly dropNote: (name: string) => Promise<Stored>;
  /** Takes away all rows of a case, and what was set aside of it. */
  readonly remove: (caseId: string) => Promise<Stored>;
};

export type KeepingHome = Home & Keeper;

/** The notes of all homes together. */
export type Notes = {
  readonly get: (name: string) => string | undefined;
  readonly names: () => readonly string[];
  /** Fails: home-failed, home-silent. Some homes may then hold it. */
  readonly put: (name: string, text: string) => Promise<Stored>;
  readonly drop: (name: string) => Promise<Stored>;
  /** Looks again what is kept: another window may have written. */
  readonly refresh: () => Promise<void>;
};

/** Units: milliseconds. */
const limitMs = 5000;

/**
 * Reads the notes once, and makes good what one home lacks. Where two differ the first home is right, since it is
 * written first. Work is done in the order asked.
 */
export async function openNotes(homes: readonly KeepingHome[]): Promise<Notes> {
  const known = new Map<string, string>();
  const look = () => Promise.all(homes.map((home) => ask(home.name, limitMs, home.readNotes)));
  const held = await look();
  learn(known, held);
  let queue: Promise<unknown> = Promise.resolve();

  /** One home after the other, so that at any moment one of them is whole. */
  function inAll(change: (home: KeepingHome) => Promise<Stored>, only = homes): Promise<Stored> {
    const answer = queue.then(async () => {
      let worst: Stored = { ok: true };
      for (const home of only) {
        const stored = await ask(home.name, limitMs, () => change(home));
        if (!stored.ok) worst = stored;
      }
      return worst;
    });
    queue = answer.catch(() => undefined);
    return answer;
  }

  for (const [name, text] of known) {
    const lacking = homes.filter((_, index) => {
      const one = held[index];
      return one?.ok && !one.notes.some((note) => note[0] === name && note[1] === text);
    });
    if (lacking.length > 0) await inAll((home) => home.putNote(name, text), lacking);
  }

  return {
    get: (name) => known.get(name),
    names: () => [...known.keys()],
    // Said once more at the end, since a look that was asked for before may come in between.
    put: async (name, text) => {
      known.set(name, text);
      const stored = await inAll((home) => home.putNote(name, text));
      known.set(name, text);
      return stored;
    },
    drop: async (name) => {
      known.delete(name);
      const stored = await inAll((home) => home.dropNote(name));
      known.delete(name);
      return stored;
    },
    refresh: () => {
      const answer = queue.then(async () => learn(known, await look()));
      queue = answer.catch(() => undefined);
      return answer;
    },
  };
}

/** Takes over what the homes hold, if any of them answered. */
function learn(known: Map<string, string>, held: readonly NotesHeld[]): void {
  if (!held.some(({ ok }) => ok)) return;
  known.clear();
  for (const one of [...held].reverse())
    if (one.ok) for (const [name, text] of one.notes) known.set(name, text);
}
