/**
 * Sees that Chromium is there for the browser tests, and what looks at the pages it prints: poppler's programs and a
 * typeface with Chinese. As root on Debian they are installed by apt.
 */
import { existsSync } from 'node:fs';
import { chromiumPath } from './browser/launch.ts';
import { installed } from './fromDebian.ts';

const typeface = '/usr/share/fonts/truetype/wqy/wqy-microhei.ttc';

const isMisnamed = process.env.CHROMIUM !== undefined && !existsSync(chromiumPath);

const wrong = isMisnamed
  ? `There is no Chromium at ${chromiumPath}, which CHROMIUM names.`
  : installed([
      { name: 'Chromium', isHere: () => existsSync(chromiumPath), from: 'chromium' },
      {
        name: "poppler's programs",
        isHere: () => existsSync('/usr/bin/pdftoppm'),
        from: 'poppler-utils',
      },
      {
        name: 'a typeface with Chinese',
        isHere: () => existsSync(typeface),
        from: 'fonts-wqy-microhei',
      },
    ]);

if (wrong !== undefined) {
  console.error(`The browser tests cannot be run. ${wrong}`);
  process.exit(1);
}
