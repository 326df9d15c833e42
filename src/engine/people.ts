import { type Role, roles } from './sheet.ts';
import type { Case, Team } from './state.ts';

/** Who an entry is by where the tablet itself made it, or nobody was named. */
export const tabletName = 'theatre tablet';

export const isRole = (words: string): words is Role => roles.some((role) => role === words);

/** Of the two who count, the one who is not in this role. */
export function otherCounter(role: Role): Role | undefined {
  if (role === 'scrub') return 'circulator';
  return role === 'circulator' ? 'scrub' : undefined;
}

/** The person meant: whoever is in the role now, or the name itself. */
export function personFrom(team: Team, words: string): string {
  const said = words.trim();
  return isRole(said) ? team[said] : said;
}

/** Two names, or none of it: names that differ, whatever the spelling of capitals. */
export const samePerson = (one: string, other: string): boolean =>
  one.trim().toLowerCase() === other.trim().toLowerCase();

/** The people meant, each once. */
export function peopleFrom(team: Team, words: readonly string[]): readonly string[] {
  const people: string[] = [];
  for (const word of words) {
    const person = personFrom(team, word);
    if (person && !people.some((known) => samePerson(known, person))) people.push(person);
  }
  return people;
}

/** Whether the surgeon and at least one other are among these people. */
export function hasSurgeonAndOther(current: Case, people: readonly string[]): boolean {
  return people.length >= 2 && people.some((person) => samePerson(person, current.team.surgeon));
}
