import { minutesBetween } from '#engine/quantities.ts';
import { say } from '#words/say.ts';
import type { Core } from './core.ts';
import type { Guard } from './guard.ts';
import type { Library } from './library.ts';
import type { CaseSummary, SessionState } from './state.ts';

/** Taking cases out as files, bringing them in, and away: each asks somebody of the unit, and stands in the book. */
export type TakeOut = Pick<Library, 'exportCase' | 'importCase'> & {
  readonly removeCase: (caseId: string) => Promise<void>;
};

const minutesADay = 24 * 60;

/** Why a case may not be taken away yet, in a sentence; undefined where it may. */
export function whyNotRemove(
  state: SessionState,
  one: CaseSummary,
  now: string,
): string | undefined {
  const { keepDays } = state.unit.policy;
  if (state.unit.stage !== 'open') return say`Somebody of the unit gives a PIN first.`;
  if (one.isLocked || !one.finishedAt) return say`The case has not ended.`;
  if (state.unit.takenOut[one.caseId]?.head !== one.head)
    return say`It was not taken out as a file since its last entry.`;
  if (minutesBetween(one.finishedAt, now) < keepDays * minutesADay)
    return say`Cases stay ${keepDays} days after their end.`;
  return undefined;
}

/** Makes it over the library. Where nobody is set up it is the library itself, and nothing is taken away. */
export function createTakeOut(core: Core, library: Library, guard: Guard): TakeOut {
  const { ports, state, change, queued, lately } = core;

  async function headOf(caseId: string) {
    const { current, last, head } = state();
    if (current?.id === caseId) return { caseId, rows: last?.seq ?? 0, head };
    const known = state().cases.find((one) => one.caseId === caseId);
    return known && { caseId, rows: known.rows, head: known.head };
  }

  async function exportCase(caseId: string): Promise<string | undefined> {
    const isPractice = state().current?.id === caseId && state().current?.practice === true;
    const signed = isPractice ? [] : await guard.anyone(say`Take the case out as a file`);
    if (signed === 'left') return undefined;
    const text = await library.exportCase(caseId);
    const mark = await headOf(caseId);
    // Without a book, or on a tablet that lost its key, the file is given all the same.
    if (text !== undefined && mark && signed.length > 0)
      await ports.vault?.tookOut(
        mark,
        signed.map(({ name }) => name),
      );
    return text;
  }

  async function removeCase(caseId: string): Promise<void> {
    const one = state().cases.find((known) => known.caseId === caseId);
    const { vault } = ports;
    if (!one || !vault) return;
    const sentence = whyNotRemove(state(), one, ports.clock.now());
    if (sentence) return change({ notice: { kind: 'failed', sentence } });
    const signed = await guard.anyone(say`Take the case off this tablet for good`);
    if (signed === 'left') return;
    await queued(async () => {
      const mark = { caseId, rows: one.rows, head: one.head };
      const written = await vault.removed(
        mark,
        signed.map(({ name }) => name),
      );
      lately.forget();
      const gone = written.ok ? await ports.journal.removeCase(caseId) : written;
      await library.list();
      if (!gone.ok) change({ notice: { kind: 'failed', sentence: gone.failure.sentence } });
    });
  }

  return {
    exportCase,
    removeCase,
    importCase: async (text) => {
      const signed = await guard.anyone(say`Bring in a case`);
      return signed === 'left'
        ? { ok: false, sentence: say`It was not confirmed, so nothing was brought in.` }
        : library.importCase(text);
    },
  };
}
