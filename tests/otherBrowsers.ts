/**
 * Sees that Firefox and WebKit are there for the whole case in other browsers. As root on Debian they are installed
 * by apt; elsewhere it is said what is missing, and the case is played in those that are here.
 */
import { existsSync } from 'node:fs';
import { isFirefoxHere, isWebKitHere } from './browser/others/found.ts';
import { installed } from './fromDebian.ts';

const wrong = installed([
  { name: 'Firefox', isHere: isFirefoxHere, from: 'firefox-esr' },
  {
    name: 'a screen that nobody sees',
    isHere: () => existsSync('/usr/bin/Xvfb'),
    from: 'xvfb',
  },
  { name: 'WebKit', isHere: isWebKitHere, from: 'webkit2gtk-driver' },
]);

if (wrong !== undefined) console.error(wrong);
