/** What no template of ours holds. Markup from data would have to hold some of it to do anything. */
const foreign =
  /<(?:script|iframe|frame|object|embed|link|meta|base|style|template)\b|\bon[a-z]+\s*=|\bsrcdoc\b|javascript:/i;

/** Whether text may become markup: that of the screens' templates, which the build writes. */
export const isOurMarkup = (html: string): boolean => !foreign.test(html);

/** Whether an address may be run: the worker of the files and the worker of the offline program. */
export function isOurScript(address: string, page: string): boolean {
  const { origin, pathname } = new URL(address, page);
  return origin === new URL(page).origin && /^\/(?:sw\.js|assets\/[\w.-]+\.js)$/.test(pathname);
}

function only<T extends string>(text: T, isOurs: boolean): T {
  if (!isOurs) throw new TypeError('The page makes no markup and no script from data.');
  return text;
}

/**
 * Gives the browser the one policy by which text may become markup or script; the page's own policy allows no other,
 * and none for text that is run. The templates of Solid are the only markup that is made from text.
 *
 * Source: W3C Trusted Types. A browser without them works as before.
 */
export function allowOnlyOurMarkup(): void {
  const types: unknown = Reflect.get(globalThis, 'trustedTypes');
  if (typeof types !== 'object' || types === null || !('createPolicy' in types)) return;
  const { createPolicy } = types;
  if (typeof createPolicy !== 'function') return;
  createPolicy.call(types, 'default', {
    createHTML: (html: string) => only(html, isOurMarkup(html)),
    createScriptURL: (address: string) => only(address, isOurScript(address, location.href)),
  });
}
