import { tabletName } from '#engine/people.ts';
import { bookId } from '#journal/collect.ts';
import type { Journal } from '#journal/openJournal.ts';
import type { BookPort } from '#vault/ports.ts';
import type { Clock, Ids } from './ports.ts';

export type BookParts = {
  readonly journal: Pick<Journal, 'append' | 'readCase'>;
  readonly clock: Clock;
  readonly ids: Ids;
  readonly app: string;
  /** Keeps two windows from writing at once; without it the journal refuses the second. */
  readonly locks?: Pick<LockManager, 'request'> | undefined;
};

/** The book of the tablet in the journal: one row for what belongs together, written after reading what is there. */
export function makeBook({ journal, clock, ids, app, locks }: BookParts): BookPort {
  const alone = <T>(work: () => Promise<T>): Promise<T> =>
    locks ? locks.request('lastlook-book', work) : work();
  return {
    read: async () => {
      const read = await journal.readCase(bookId, 'reader');
      return read.ok ? { ok: true, events: read.rows.flatMap(({ events }) => events) } : read;
    },
    write: (events) =>
      alone(async () => {
        const read = await journal.readCase(bookId, 'writer');
        if (!read.ok) return read;
        const epoch = (read.rows.at(-1)?.epoch ?? 0) + 1;
        const draft = { id: ids.next(), at: clock.now(), by: tabletName, epoch, app, events };
        return journal.append(bookId, draft);
      }),
  };
}
