import { verdictOf, verdictWords } from '#engine/closures/verdictOf.ts';
import type { Case } from '#engine/state.ts';

/** What stands at the foot of every page: whose record it is, and how it ended. */
export const footerWords = (current: Case, code: string): string =>
  `${current.practice ? 'PRACTICE, not a patient · ' : ''}${current.patient.name}, ${current.patient.number} · ${verdictWords[verdictOf(current)]} · ${code}`;

/** A browser without page margins prints the page without the line; the first page says it in any case. */
export const footerCss = (words: string): string =>
  `@page { @bottom-left { content: ${quoted(words)}; font-size: 8pt; } }`;

/** A text as a CSS string: nothing in it can end the string or begin a rule. */
export const quoted = (text: string): string =>
  `"${text.replace(/[^\p{L}\p{M}\p{N} ,.:·-]/gu, (sign) => `\\${sign.codePointAt(0)?.toString(16)} `)}"`;
