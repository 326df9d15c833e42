/** Programs that tests need, installed from Debian by apt where that can be done. */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

export type Needed = {
  readonly name: string;
  /** Whether it is on this machine. */
  readonly isHere: () => boolean;
  /** The package of Debian. */
  readonly from: string;
};

/** A sentence, if apt failed. */
function apt(...words: readonly string[]): string | undefined {
  const options = ['-o', 'DPkg::Lock::Timeout=300', '-qq'];
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const { status } = spawnSync('apt-get', [...options, ...words], {
    stdio: ['ignore', 'inherit', 'inherit'],
    env,
  });
  return status === 0 ? undefined : `apt-get ${words.join(' ')} failed.`;
}

/** Installs what is not here. A sentence says what is wrong, if something is; undefined when all is here. */
export function installed(needed: readonly Needed[]): string | undefined {
  const missing = needed.filter(({ isHere }) => !isHere());
  if (missing.length === 0) return undefined;
  const names = missing.map(({ name }) => name).join(', ');
  const from = missing.map((one) => one.from);
  if (process.getuid?.() !== 0 || !existsSync('/usr/bin/apt-get'))
    return `${names} is not on this machine. Install it (apt-get install ${from.join(' ')}).`;
  const failed = apt('update') ?? apt('install', '-y', '--no-install-recommends', ...from);
  if (failed !== undefined) return failed;
  const still = needed.find(({ isHere }) => !isHere());
  return still && `${still.name} was installed from ${still.from}, but is not found.`;
}
