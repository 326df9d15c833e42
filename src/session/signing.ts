import type { Signature } from '#engine/decision.ts';
import { samePerson } from '#engine/people.ts';
import type { PersonView } from '#vault/ports.ts';
import type { Asking, ToSign } from './asking.ts';
import type { Core } from './core.ts';

/** Asks people for their PINs, one question at a time. */
export type Signing = {
  /** Who stands for it; undefined when it was left. */
  readonly ask: (
    wanted: ToSign,
    canGoWithout: boolean,
  ) => Promise<readonly Signature[] | undefined>;
  readonly give: (person: string, pin: string) => Promise<void>;
  /** Goes on without the PIN of the person whose turn it is. */
  readonly without: (name: string, reason: string) => void;
  readonly leave: () => void;
};

/** The person of the unit with this name. */
export const personNamed = (people: readonly PersonView[], name: string): PersonView | undefined =>
  people.find((person) => samePerson(person.name, name));

/** Makes the asking over the vault. */
export function createSigning({ ports, state, change }: Core): Signing {
  let answer: ((signed: readonly Signature[] | undefined) => void) | undefined;

  function end(signed: readonly Signature[] | undefined): void {
    const waiting = answer;
    answer = undefined;
    change({ asking: undefined });
    waiting?.(signed);
  }

  function add(asking: Asking, signature: Signature): void {
    const done = [...asking.done, signature];
    if (done.length >= Math.max(1, asking.names.length)) end(done);
    else change({ asking: { ...asking, done, ...quiet } });
  }

  return {
    ask: (wanted, canGoWithout) => {
      end(undefined); // A question that was left open is answered with no.
      change({ asking: { ...wanted, canGoWithout, done: [], ...quiet } });
      return new Promise((resolve) => {
        answer = resolve;
      });
    },
    give: async (person, pin) => {
      const { asking, unit } = state();
      const name = unit.people.find(({ id }) => id === person)?.name;
      if (!asking || asking.isChecking || !name) return;
      change({ asking: { ...asking, ...quiet, isChecking: true } });
      const checked = await ports.vault?.check({ person, pin });
      const now = state().asking;
      if (!now || now.done !== asking.done) return; // It was left meanwhile.
      if (checked?.ok) return add(now, { name, how: 'pin' });
      const { sentence = '', waitMs = 0 } = checked?.failure ?? {};
      change({ asking: { ...now, isChecking: false, failure: sentence, waitMs } });
    },
    without: (name, reason) => {
      const { asking } = state();
      if (asking?.canGoWithout && !asking.isChecking) add(asking, { name, how: 'without', reason });
    },
    leave: () => end(undefined),
  };
}

const quiet = { isChecking: false, failure: undefined, waitMs: 0 } as const;
