/** Sees that Chromium is there for the browser tests; as root on Debian it is installed by apt. */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { chromiumPath } from './browser/launch.ts';

const advice = 'Install it (apt-get install chromium), or set CHROMIUM to the path of a Chromium.';

function give(sentence: string): never {
  console.error(`${sentence} ${advice}`);
  process.exit(1);
}

function apt(...words: readonly string[]): void {
  const options = ['-o', 'DPkg::Lock::Timeout=300', '-qq'];
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const { status } = spawnSync('apt-get', [...options, ...words], {
    stdio: ['ignore', 'inherit', 'inherit'],
    env,
  });
  if (status !== 0) give(`The browser tests need Chromium, and apt-get ${words[0]} failed.`);
}

if (!existsSync(chromiumPath)) {
  if (process.env.CHROMIUM !== undefined) give(`There is no Chromium at ${chromiumPath}.`);
  if (process.getuid?.() !== 0 || !existsSync('/usr/bin/apt-get'))
    give('The browser tests need Chromium, which is not on this machine.');
  apt('update');
  apt('install', '-y', '--no-install-recommends', 'chromium');
  if (!existsSync(chromiumPath)) give(`Chromium was installed, but not at ${chromiumPath}.`);
}
