import { createEffect, onCleanup } from 'solid-js';
import { footerCss } from './pageFooter.ts';

/**
 * Puts a line at the foot of every printed page while this page is shown.
 *
 * The line is only known when the record is shown, so it goes into a style sheet made for it.
 */
export function createPageFooter(words: () => string): void {
  createEffect(() => {
    if (!('adoptedStyleSheets' in document)) return;
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(footerCss(words()));
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
    onCleanup(() => {
      document.adoptedStyleSheets = document.adoptedStyleSheets.filter((one) => one !== sheet);
    });
  });
}
