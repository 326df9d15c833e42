import { verdictOf } from '#engine/closures/verdictOf.ts';
import { verdictWords } from '#engine/closures/verdictWords.ts';
import type { Case } from '#engine/state.ts';
import { say, sayOf } from '#words/say.ts';

/** What stands at the foot of every page: whose record it is, and how it ended. */
export function footerWords(current: Case, code: string): string {
  const { name, number } = current.patient;
  const practice = current.practice ? say`PRACTICE, not a patient · ` : '';
  return `${practice}${name}, ${number} · ${sayOf(verdictWords[verdictOf(current)])} · ${code}`;
}

/** A browser without page margins prints the page without the line; the first page says it in any case. */
export const footerCss = (words: string): string =>
  `@page { @bottom-left { content: ${quoted(words)}; font-size: 8pt; } }`;

/** A text as a CSS string: nothing in it can end the string or begin a rule. */
export const quoted = (text: string): string =>
  `"${text.replace(/[^\p{L}\p{M}\p{N} ,.:·-]/gu, (sign) => `\\${sign.codePointAt(0)?.toString(16)} `)}"`;
