import type { Core } from './core.ts';
import type { Report } from './ports.ts';
import { recover, summaryOf } from './recovery.ts';
import { type Route, startRoute } from './route.ts';
import type { CaseSummary } from './state.ts';

/** The cases on this tablet: listing, opening, taking out and bringing in. */
export type Library = {
  readonly list: () => Promise<void>;
  readonly open: (route: Route) => Promise<void>;
  readonly load: (caseId: string) => Promise<void>;
  readonly exportCase: (caseId: string) => Promise<string | undefined>;
  readonly importCase: (
    text: string,
  ) => Promise<{ readonly ok: boolean; readonly sentence: string }>;
};

/** What was said before, and what is new: the same thing is said once. */
export function withNew(said: readonly Report[], more: readonly Report[]): readonly Report[] {
  const known = new Set(said.map((report) => report.sentence));
  return [...said, ...more.filter((report) => !known.has(report.sentence))];
}

/** Reads cases from the journal into the store. Never an empty list without a word. */
export function createLibrary(core: Core): Library {
  const { ports, state, change, goTo } = core;

  async function load(caseId: string): Promise<void> {
    const role = await ports.writer.claim(caseId);
    const recovered = await recover(ports.journal, caseId, role);
    const { current, rows, head, damaged } = recovered;
    const epoch = recovered.epoch + 1;
    const reports = withNew(state().reports, recovered.reports);
    const follows = role === 'reader';
    change({ current, rows, head, epoch, damaged, follows, savedAt: current?.lastAt, reports });
  }

  async function list(): Promise<void> {
    const listed = await ports.journal.listCases();
    if (!listed.ok) {
      change({ notice: { kind: 'failed', sentence: listed.failure.sentence } });
      return;
    }
    const cases: CaseSummary[] = [];
    for (const { caseId } of listed.cases)
      cases.push(summaryOf(caseId, await recover(ports.journal, caseId, 'reader')));
    cases.sort((one, other) => (one.startedAt < other.startedAt ? 1 : -1));
    change({ cases, reports: withNew(state().reports, listed.reports) });
  }

  return {
    list,
    load,
    open: async (route) => {
      if (route.screen !== 'case') {
        ports.writer.release();
        await list();
        goTo(route);
        return;
      }
      if (state().current?.id !== route.caseId) await load(route.caseId);
      const isThere = state().current !== undefined;
      if (!isThere && state().damaged)
        change({ notice: { kind: 'failed', sentence: state().damaged ?? '' } });
      goTo(isThere ? route : startRoute);
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
        ? 'This case is on the tablet already. Nothing was changed.'
        : 'The case was brought in whole.';
      return { ok: true, sentence };
    },
  };
}
