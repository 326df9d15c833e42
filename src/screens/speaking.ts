import { createSignal } from 'solid-js';
import { type LanguageId, readPhraseBook } from '#words/languages.ts';
import { type PhraseBook, readPhrasesFrom } from '#words/say.ts';

const [book, setBook] = createSignal<PhraseBook>();
let asked = 0;

/**
 * Reads the phrase book and speaks from it, on every screen at once. Of several that are asked for at the same
 * time the last is spoken, whichever is read first.
 *
 * Fails where the book cannot be read; what was spoken before is spoken then.
 */
export async function speak(language: LanguageId): Promise<void> {
  asked += 1;
  const own = asked;
  const read = await readPhraseBook(language);
  if (own !== asked) return;
  readPhrasesFrom(book);
  setBook(read);
}
