/** Where Firefox is for `npm run test:browsers`: Debian's, or the one that FIREFOX names. It is never installed. */
import { existsSync } from 'node:fs';

export const firefoxPath = process.env.FIREFOX ?? '/usr/bin/firefox-esr';

export const isFirefoxHere = (): boolean => existsSync(firefoxPath);
