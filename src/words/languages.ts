import type { PhraseBook } from './say.ts';

/** What the program speaks. The names are those that their speakers look for. */
export const languages = [
  { id: 'en-GB', name: 'English (UK)' },
  { id: 'en-US', name: 'English (US)' },
  { id: 'de', name: 'Deutsch' },
] as const;
export type LanguageId = (typeof languages)[number]['id'];

/** The language of that name; British English, in which the program is written, where there is none. */
export const languageOf = (id: string | undefined): LanguageId =>
  languages.find((one) => one.id === id)?.id ?? 'en-GB';

/**
 * The first language of a browser's list that is spoken here, else British English. Any English is British
 * until somebody chooses: most browsers say en-US wherever they are.
 */
export function firstSpoken(wanted: readonly string[]): LanguageId {
  const family = (id: string): string => id.toLowerCase().split('-')[0] ?? '';
  for (const one of wanted) {
    const spoken = languages.find(({ id }) => family(id) === family(one));
    if (spoken) return spoken.id;
  }
  return 'en-GB';
}

/** Reads the phrase book of a language; British English needs none. Fails where its file is not there. */
export async function readPhraseBook(id: LanguageId): Promise<PhraseBook | undefined> {
  if (id === 'en-GB') return undefined;
  if (id === 'en-US') {
    const { american } = await import('./american.ts');
    return { language: id, phrases: { get: american }, keepsCapitals: false };
  }
  const [{ default: said }, { default: ofSheets }] = await Promise.all([
    import('./german.json', { with: { type: 'json' } }),
    import('./germanSheets.json', { with: { type: 'json' } }),
  ]);
  const phrases = new Map(Object.entries({ ...ofSheets, ...said }));
  return { language: id, phrases, keepsCapitals: true };
}
