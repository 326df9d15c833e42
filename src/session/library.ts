import { say } from '#words/say.ts';
import { type Core, saveFirst } from './core.ts';
import { createListing } from './listing.ts';
import { parseRows, recover } from './recovery.ts';
import { toldIn } from './reportNotes.ts';
import { type Route, startRoute } from './route.ts';
import type { RecordedRow } from './state.ts';

/** The cases on this tablet: listing, opening, taking out and bringing in. */
export type Library = {
  readonly list: () => Promise<void>;
  readonly open: (route: Route) => Promise<void>;
  readonly load: (caseId: string, how?: 'take-over') => Promise<void>;
  readonly exportCase: (caseId: string) => Promise<string | undefined>;
  readonly importCase: (
    text: string,
  ) => Promise<{ readonly ok: boolean; readonly sentence: string }>;
};

/** Reads cases from the journal into the store. Never an empty list without a word. */
export function createLibrary(core: Core): Library {
  const { ports, state, change, goTo } = core;

  async function load(caseId: string, how?: 'take-over'): Promise<void> {
    const role = await ports.writer.claim(caseId, how);
    const recovered = await recover({ ...core, journal: ports.journal }, caseId, role);
    const { current, last, head, damaged } = recovered;
    const epoch = recovered.epoch + 1;
    const follows = role === 'reader';
    const told = toldIn(state(), recovered.reports);
    change({ current, last, head, epoch, damaged, follows, savedAt: current?.lastAt, ...told });
  }

  const { list, endIfOver } = createListing(core);
  const isShut = (caseId: string) => ports.vault?.cases.canOpen(caseId) === false;

  async function hide(): Promise<void> {
    change({ current: undefined, last: undefined, head: '' });
    await list();
    goTo(startRoute);
  }

  return {
    list,
    load,
    open: async (route) => {
      const { notSaved, current: shown } = state();
      const isLeaving = route.screen !== 'case' || route.caseId !== shown?.id;
      if (notSaved !== undefined && shown && isLeaving) {
        change({ notice: { kind: 'failed', sentence: saveFirst } });
        return;
      }
      if (route.screen !== 'case') {
        ports.writer.release();
        await list();
        change({ unread: [] }); // the first page says them all
        goTo(route);
        return;
      }
      if (isShut(route.caseId)) return hide();
      if (state().current?.id !== route.caseId) {
        await load(route.caseId);
        await endIfOver(state().current);
        if (isShut(route.caseId)) return hide();
      }
      const { current, damaged } = state();
      if (!current && damaged) change({ notice: { kind: 'failed', sentence: damaged } });
      goTo(current ? route : startRoute);
    },
    exportCase: async (caseId) => {
      const exported = await ports.journal.exportCase(caseId);
      if (exported.ok) return exported.text;
      change({ notice: { kind: 'failed', sentence: exported.failure.sentence } });
      return undefined;
    },
    importCase: async (text) => {
      const imported = await ports.journal.importCase(text);
      if (!imported.ok) return { ok: false, sentence: imported.failure.sentence };
      await core.queued(async () => {
        if (state().current?.id === imported.caseId) await load(imported.caseId);
        await list();
      });
      const isHere = imported.outcome === 'already-here';
      const sentence = isHere
        ? say`This case is on the tablet already. Nothing was changed.`
        : say`The case was brought in whole.`;
      return { ok: true, sentence };
    },
  };
}

/** Every entry of the open case, up to the last that is shown. Undefined where no copy of it can be read now. */
export async function readRows({
  ports,
  state,
}: Core): Promise<readonly RecordedRow[] | undefined> {
  const { current, last } = state();
  if (!current || !last) return [];
  const read = await ports.journal.readCase(current.id, 'reader');
  return read.ok ? parseRows(read.rows.slice(0, last.seq)).rows : undefined;
}
