import type { NotesPort } from './ports.ts';
import { waitAfterMs } from './waits.ts';

/** Wrong PINs in a row, person by person. */
export type Tries = {
  /** Units: milliseconds until a PIN of this person is taken again. */
  readonly waitMs: (person: string) => number;
  /** Counts a try before it is looked at, so that switching off in between wins nothing. */
  readonly begin: (person: string) => Promise<void>;
  readonly right: (person: string) => Promise<void>;
};

const noteName = 'tries';

/**
 * Counts wrong PINs and keeps the counts. After a restart a wait begins from its start: the clock of the device can
 * be set, and is not asked.
 *
 * Where the tablet cannot write, the count still holds until the restart.
 */
export function makeTries(notes: NotesPort, steadyMs: () => number): Tries {
  const wrong = parseCounts(notes.get(noteName));
  const startedMs = steadyMs();
  const sinceMs = new Map<string, number>();

  const keep = async () => {
    await notes.put(noteName, JSON.stringify(Object.fromEntries(wrong)));
  };

  return {
    waitMs: (person) => {
      const passedMs = steadyMs() - (sinceMs.get(person) ?? startedMs);
      return Math.max(0, waitAfterMs(wrong.get(person) ?? 0) - passedMs);
    },
    begin: async (person) => {
      wrong.set(person, (wrong.get(person) ?? 0) + 1);
      sinceMs.set(person, steadyMs());
      await keep();
    },
    right: async (person) => {
      wrong.delete(person);
      await keep();
    },
  };
}

function parseCounts(text: string | undefined): Map<string, number> {
  const counts = new Map<string, number>();
  for (const [person, count] of Object.entries(parsed(text)))
    if (Number.isSafeInteger(count) && Number(count) > 0) counts.set(person, Number(count));
  return counts;
}

function parsed(text: string | undefined): object {
  try {
    const value: unknown = JSON.parse(text ?? '{}');
    return typeof value === 'object' && value !== null ? value : {};
  } catch {
    return {};
  }
}
