/**
 * Sees that Chromium is there for the browser tests, and what looks at the pages it prints: poppler's programs and a
 * typeface with Chinese. As root on Debian they are installed by apt.
 */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { chromiumPath } from './browser/launch.ts';

type Needed = { readonly name: string; readonly file: string; readonly from: string };

const needed: readonly Needed[] = [
  { name: 'Chromium', file: chromiumPath, from: 'chromium' },
  { name: "poppler's programs", file: '/usr/bin/pdftoppm', from: 'poppler-utils' },
  {
    name: 'a typeface with Chinese',
    file: '/usr/share/fonts/truetype/wqy/wqy-microhei.ttc',
    from: 'fonts-wqy-microhei',
  },
];

function give(sentence: string): never {
  console.error(sentence);
  process.exit(1);
}

function apt(...words: readonly string[]): void {
  const options = ['-o', 'DPkg::Lock::Timeout=300', '-qq'];
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const { status } = spawnSync('apt-get', [...options, ...words], {
    stdio: ['ignore', 'inherit', 'inherit'],
    env,
  });
  if (status !== 0) give(`apt-get ${words.join(' ')} failed.`);
}

const missing = needed.filter(({ file }) => !existsSync(file));
if (missing.length > 0) {
  const names = missing.map(({ name }) => name).join(', ');
  const from = missing.map((one) => one.from);
  const advice = `Install it (apt-get install ${from.join(' ')}).`;
  if (process.env.CHROMIUM !== undefined && !existsSync(chromiumPath))
    give(`There is no Chromium at ${chromiumPath}, which CHROMIUM names.`);
  if (process.getuid?.() !== 0 || !existsSync('/usr/bin/apt-get'))
    give(`The browser tests need ${names}, which is not on this machine. ${advice}`);
  apt('update');
  apt('install', '-y', '--no-install-recommends', ...from);
  const still = needed.find(({ file }) => !existsSync(file));
  if (still) give(`${still.name} was installed, but ${still.file} is not there.`);
}
