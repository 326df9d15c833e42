/** Where the other browsers are: Debian's, or for Firefox the one that FIREFOX names. */
import { existsSync, globSync } from 'node:fs';

export const firefoxPath = process.env.FIREFOX ?? '/usr/bin/firefox-esr';

/** The small browser that WebKitGTK brings along; empty where there is none. The library has no program of its own. */
export const webKitPath = (): string =>
  globSync('/usr/lib/*/webkit2gtk-4.*/MiniBrowser').toSorted().at(-1) ?? '';

export const isFirefoxHere = (): boolean => existsSync(firefoxPath);

/** It needs its driver, and a screen that nobody sees. */
export const isWebKitHere = (): boolean =>
  webKitPath() !== '' &&
  ['WebKitWebDriver', 'Xvfb'].every((name) => existsSync(`/usr/bin/${name}`));
