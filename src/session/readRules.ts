import type { Rules } from './ports.ts';

/**
 * What decides about commands, what folds the events of a case, and what a list says of it. A tablet without a case
 * needs none of it on its first screen; where there are cases they are read beside the first of them.
 *
 * Fails: where a file of the program is not there; the next call tries again.
 */
export async function readRules(): Promise<Rules> {
  const [{ decide }, { openCase }, { evolve }, { replay }, { outcomeOf }] = await Promise.all([
    import('#engine/case/decide.ts'),
    import('#engine/case/open.ts'),
    import('#engine/case/evolve.ts'),
    import('#engine/history/replay.ts'),
    import('#engine/case/outcomeOf.ts'),
  ]);
  return { decide, openCase, evolve, replay, outcomeOf };
}
