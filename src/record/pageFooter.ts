import { createEffect, onCleanup } from 'solid-js';

/**
 * Puts a line at the foot of every printed page: whose record it is, and how it ended.
 *
 * The line is only known when the record is shown, so it goes into a style sheet made for it. A browser
 * without page margins prints the page without the line; the first page says it in any case.
 */
export function createPageFooter(words: () => string): void {
  createEffect(() => {
    if (!('adoptedStyleSheets' in document)) return;
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(`@page { @bottom-left { content: ${quoted(words())}; font-size: 8pt; } }`);
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
    onCleanup(() => {
      document.adoptedStyleSheets = document.adoptedStyleSheets.filter((one) => one !== sheet);
    });
  });
}

/** A text as a CSS string: nothing in it can end the string or begin a rule. */
export const quoted = (text: string): string =>
  `"${text.replace(/[^\p{L}\p{N} ,.:·-]/gu, (sign) => `\\${sign.codePointAt(0)?.toString(16)} `)}"`;
