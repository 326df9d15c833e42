/**
 * Everything that people read is said here, so that it can be said in another language.
 *
 * The English sentence is the key. A phrase book holds the same sentence in another language, with `{0}`, `{1}` for
 * the values of the English one, and may give them in another order. What a phrase book lacks is said in English: a
 * sentence is never left out. Nothing that is decided depends on the language.
 */

/** A language that is spoken, with its sentences by the English ones. */
export type PhraseBook = {
  /** As pages and files name it (BCP 47). */
  readonly language: string;
  readonly phrases: { readonly get: (english: string) => string | undefined };
  /** Whether a name keeps its capital letter in the middle of a sentence, as German nouns do. */
  readonly keepsCapitals: boolean;
};

type Value = string | number | null | undefined;

let openBook: () => PhraseBook | undefined = () => undefined;

/** From where the phrase book is taken each time something is said. Without one, English is spoken. */
export function readPhrasesFrom(reader: () => PhraseBook | undefined): void {
  openBook = reader;
}

/** Makes something in English whatever language is spoken: files for other programs. */
export function inEnglish<Made>(make: () => Made): Made {
  const before = openBook;
  openBook = () => undefined;
  try {
    return make();
  } finally {
    openBook = before;
  }
}

/** What was said last: a list of holds says one sentence for many lines. */
let lastWords: TemplateStringsArray | undefined;
let lastKnown: Known = { key: '', english: { texts: [''], places: [] } };

/** Says a sentence with its values, in the language that is spoken now. It may go over several lines of code. */
export function say(words: TemplateStringsArray, ...values: readonly Value[]): string {
  if (words !== lastWords) {
    lastKnown = known.get(words) ?? learn(words);
    lastWords = words;
  }
  const said = openBook()?.phrases.get(lastKnown.key);
  return filled(said === undefined ? lastKnown.english : partsOf(said), values);
}

/**
 * Says words that came as data: of a table, of a sheet, of an earlier entry. What the phrase book does not know was
 * written by a person, and stays as it is.
 */
export const sayOf = (text: string): string => openBook()?.phrases.get(text) ?? text;

/** The language that is spoken now, as pages and files name it. */
export const spokenLanguage = (): string => openBook()?.language ?? 'en-GB';

/** A name in the middle of a sentence: in small letters, where the language writes it so. */
export const sayInside = (name: string): string =>
  openBook()?.keepsCapitals ? sayOf(name) : sayOf(name).toLowerCase();

/** Names, with the word for "and" between them. */
export const sayAll = (names: readonly string[]): string => names.join(say` and `);

/** A sentence taken apart: its words, and between them which value stands there. */
type Parts = { readonly texts: readonly string[]; readonly places: readonly number[] };
type Known = { readonly key: string; readonly english: Parts };

/** The sentences of the program that were said already, by where they stand in it. */
const known = new WeakMap<TemplateStringsArray, Known>();

/** The key of a sentence is its English words, with `{0}` and so on where the values stand. */
function learn(words: TemplateStringsArray): Known {
  const key = words
    .reduce((before, part, place) => `${before}{${place - 1}}${part}`)
    .split('\n')
    .map((line, place) => (place === 0 ? line : line.trimStart()))
    .join(' ');
  const learnt = { key, english: partsOf(key) };
  known.set(words, learnt);
  return learnt;
}

/** Sentences taken apart. There are as many as the program and its books have. */
const apart = new Map<string, Parts>();

function partsOf(said: string): Parts {
  const before = apart.get(said);
  if (before) return before;
  const turns = said.split(/\{(\d)\}/);
  const parts = {
    texts: turns.filter((_, turn) => turn % 2 === 0),
    places: turns.filter((_, turn) => turn % 2 === 1).map(Number),
  };
  apart.set(said, parts);
  return parts;
}

function filled({ texts, places }: Parts, values: readonly Value[]): string {
  let whole = texts[0] ?? '';
  for (let turn = 0; turn < places.length; turn += 1)
    whole += `${values[places[turn] ?? 0]}${texts[turn + 1]}`;
  return whole;
}
