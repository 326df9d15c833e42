import type { Rules } from './ports.ts';

/**
 * What decides about commands. Reading what is recorded does not need it, so it comes after the first screen.
 *
 * Fails: where a file of the program is not there; the next call tries again.
 */
export async function readRules(): Promise<Rules> {
  const [{ decide }, { openCase }] = await Promise.all([
    import('#engine/case/decide.ts'),
    import('#engine/case/open.ts'),
  ]);
  return { decide, openCase };
}
