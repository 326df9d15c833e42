import { createSignal } from 'solid-js';
import { type LanguageId, readPhraseBook } from '#words/languages.ts';
import { type PhraseBook, readPhrasesFrom } from '#words/say.ts';

const [book, setBook] = createSignal<PhraseBook>();

/**
 * Reads the phrase book and speaks from it, on every screen at once.
 *
 * Fails where the book cannot be read; what was spoken before is spoken then.
 */
export async function speak(language: LanguageId): Promise<void> {
  const read = await readPhraseBook(language);
  readPhrasesFrom(book);
  setBook(read);
}
