/** The questions of the whole-case tests, asked again until the page has the answer, in place of Playwright's. */
import { expect as expectOf } from 'vitest';
import { Part, until, within } from './page.ts';

type Said = Awaited<ReturnType<Part['say']>>;

const tidy = (words: string | null): string => (words ?? '').replace(/\s+/g, ' ').trim();

const contains = (said: string | null, words: string | RegExp): boolean =>
  words instanceof RegExp ? words.test(said ?? '') : tidy(said).includes(tidy(words));

const is = (said: string | null | undefined, words: string | RegExp): boolean =>
  words instanceof RegExp ? words.test(said ?? '') : said === words;

/** What a part can be asked. Each says whether it is so now. */
const questions = {
  toBeVisible: (said: Said) => said.isVisible,
  toBeAttached: (said: Said) => said.count > 0,
  toBeFocused: (said: Said) => said.isFocused,
  toHaveCount: (said: Said, n: number) => said.count === n,
  toContainText: (said: Said, words: string | RegExp) => contains(said.text, words),
  toHaveText: (said: Said, words: string | RegExp) =>
    words instanceof RegExp ? words.test(said.text ?? '') : tidy(said.text) === tidy(words),
  toHaveAttribute: (said: Said, name: string, value: string | RegExp) =>
    name in said.attributes && is(said.attributes[name], value),
};

/** One part, where the question is about one. */
const isOne = (question: string, { count }: Said) => question === 'toHaveCount' || count <= 1;

function askedOf(part: Part, wanted: boolean) {
  const ask = (question: keyof typeof questions) => {
    // Each question takes the words that belong to it, as its user in the tests gives them.
    const answer = questions[question] as (said: Said, ...words: unknown[]) => boolean;
    return async (...words: readonly unknown[]): Promise<void> => {
      const so = (said: Said) => isOne(question, said) && answer(said, ...words) === wanted;
      const said = await until(part.say, so);
      if (so(said)) return;
      const not = wanted ? '' : 'not.';
      const told = JSON.stringify({ ...said, text: said.text?.slice(0, 400) });
      throw new Error(
        `${part} ${not}${question}(${words.map(String).join(', ')}) was not so: ${told}`,
      );
    };
  };
  const names = Object.keys(questions) as (keyof typeof questions)[]; // TypeScript knows no other keys either
  return Object.fromEntries(names.map((question) => [question, ask(question)]));
}

function poll<T>(ask: () => Promise<T>) {
  return {
    toBe: async (wanted: T): Promise<void> => {
      expectOf(await until(ask, (answer) => Object.is(answer, wanted), within)).toBe(wanted);
    },
  };
}

export const expect = Object.assign(
  (value: unknown) =>
    value instanceof Part
      ? { ...askedOf(value, true), not: askedOf(value, false) }
      : expectOf(value),
  { poll },
);
