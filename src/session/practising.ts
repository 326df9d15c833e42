import type { Command } from '#engine/case/events.ts';
import type { Core } from './core.ts';
import type { Library } from './library.ts';
import { recover } from './recovery.ts';

/** An entry that a practice makes before the person begins. */
export type Prepared = { readonly command: Command; readonly by: string };

/** What only practice cases allow. */
export type Practising = {
  /** Takes a practice case off this tablet. Nothing happens to any other case. */
  readonly removePractice: (caseId: string) => Promise<void>;
};

/** Makes it over the library. */
export function createPractising(
  { ports, state, change, queued, readRules }: Core,
  library: Library,
): Practising {
  return {
    removePractice: (caseId) =>
      queued(async () => {
        // The case itself must say that it is practice: the record of a patient is never taken away here.
        const { current } = await recover({ journal: ports.journal, readRules }, caseId, 'reader');
        if (!current?.practice) return;
        const removed = await ports.journal.removeCase(caseId);
        if (removed.ok && state().current?.id === caseId)
          change({ current: undefined, last: undefined, head: '' });
        await library.list();
        if (!removed.ok) change({ notice: { kind: 'failed', sentence: removed.failure.sentence } });
      }),
  };
}
