import { foundIn } from '#engine/counts/foundIn.ts';
import type { Case } from '#engine/state.ts';

/** What was seen so far in the count that runs, by line; undefined while none runs. */
export const seen = ({ counts: { running } }: Case) => running && foundIn(running);
