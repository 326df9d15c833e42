import type { NewPerson, Say } from '#vault/members.ts';
import { say } from '#words/say.ts';
import type { Core } from './core.ts';
import type { Guard } from './guard.ts';

/** How a change of the people ended. `code`: to be written on paper, shown once. */
export type PeopleOutcome =
  | { readonly ok: true; readonly code?: string }
  | { readonly ok: false; readonly sentence: string };

/** Changes of the people of the unit. What is not the first step asks somebody for a PIN. */
export type People = {
  /** The first person brings the keys of the tablet and the code for paper. */
  readonly add: (person: NewPerson) => Promise<PeopleOutcome>;
  readonly leave: (person: string) => Promise<PeopleOutcome>;
  /** What the badge of a person says when it is scanned. */
  readonly setBadge: (person: string, badge: string) => Promise<PeopleOutcome>;
  /** A new PIN in place of a lost one: two others confirm, or the code on paper has opened the tablet. */
  readonly resetPin: (
    person: string,
    pin: string,
    others: readonly Say[],
  ) => Promise<PeopleOutcome>;
  readonly openByCode: (typed: string) => Promise<PeopleOutcome>;
  readonly newCode: () => Promise<PeopleOutcome>;
  readonly setPolicy: (policy: Policy) => Promise<PeopleOutcome>;
};

type Policy = { readonly idleMinutes: number; readonly keepDays: number };

const left = (): PeopleOutcome => ({
  ok: false,
  sentence: say`It was not confirmed, so nothing was changed.`,
});

/** Makes it over the vault. Without one everything is answered with no. */
export function createPeople({ ports: { vault }, state }: Core, guard: Guard): People {
  type Done =
    | { readonly ok: true; readonly code?: string }
    | { readonly ok: false; readonly failure: { readonly sentence: string } };

  const said = (done: Done | undefined): PeopleOutcome => {
    if (done?.ok) return done;
    return {
      ok: false,
      sentence: done?.failure.sentence ?? say`There is no place for people here.`,
    };
  };

  /** Does it in the name of somebody who gave a PIN. */
  async function confirmed(
    words: string,
    work: (by: readonly string[]) => Promise<Done> | undefined,
  ): Promise<PeopleOutcome> {
    if (state().unit.isByCode) return said(await work([say`recovery code`]));
    const signed = await guard.anyone(words);
    return signed === 'left' ? left() : said(await work(signed.map(({ name }) => name)));
  }

  return {
    add: async (person) =>
      state().unit.stage === 'none'
        ? said(await vault?.setUp(person))
        : confirmed(say`Set up ${person.name.trim()}`, (by) => vault?.add(person, by)),
    leave: (person) => confirmed(say`Take a person off the list`, (by) => vault?.leave(person, by)),
    setBadge: (person, badge) =>
      confirmed(say`Say whose badge it is`, (by) => vault?.setBadge(person, badge, by)),
    resetPin: async (person, pin, others) =>
      said(
        state().unit.isByCode
          ? await vault?.setPinByCode(person, pin)
          : await vault?.resetPin(person, pin, others),
      ),
    openByCode: async (typed) => said(await vault?.openByCode(typed)),
    newCode: () => confirmed(say`Make a new code for paper`, (by) => vault?.newCode(by)),
    setPolicy: (policy) =>
      confirmed(say`Change how this tablet is kept`, (by) => vault?.setPolicy(policy, by)),
  };
}
