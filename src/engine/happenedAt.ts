import type { Context } from './decision.ts';

/** When something happened: as the paper says, else when it was entered. */
export const happenedAt = (stamp: Pick<Context, 'at' | 'paperAt'>): string =>
  stamp.paperAt ?? stamp.at;
