import type { Case } from '#engine/state.ts';
import type { Core } from './core.ts';
import type { Report } from './ports.ts';
import { lockedSummary, recover, summaryOf } from './recovery.ts';
import type { CaseSummary } from './state.ts';

/** A case that nobody ended lies open no longer than this after its last entry. Units: milliseconds. */
const openForMs = 24 * 60 * 60_000;

/** What was said before, and what is new: the same thing is said once. */
export function withNew(said: readonly Report[], more: readonly Report[]): readonly Report[] {
  const known = new Set(said.map((report) => report.sentence));
  return [...said, ...more.filter((report) => !known.has(report.sentence))];
}

export type Listing = {
  readonly list: () => Promise<void>;
  /** The key of a case that is over lies open no longer, as soon as a PIN opens it otherwise. */
  readonly endIfOver: (current: Case | undefined) => Promise<void>;
};

/** Reads what the first screen says of each case, as far as it can be read now. */
export function createListing({ ports, state, change, readRules, lately }: Core): Listing {
  const reading = { journal: ports.journal, readRules, lately };

  async function endIfOver(current: Case | undefined): Promise<void> {
    if (!ports.vault || !current) return;
    const restMs = Date.parse(ports.clock.now()) - Date.parse(current.lastAt);
    if (current.finishedAt !== undefined || restMs > openForMs)
      await ports.vault.cases.end(current.id);
  }

  async function summary(caseId: string): Promise<CaseSummary> {
    if (ports.vault?.cases.canOpen(caseId) === false) return lockedSummary(caseId);
    const recovered = await recover(reading, caseId, 'reader');
    if (state().current?.id !== caseId) await endIfOver(recovered.current);
    const isLocked = ports.vault?.cases.canOpen(caseId) === false;
    return isLocked ? lockedSummary(caseId) : summaryOf(caseId, recovered, await readRules());
  }

  async function list(): Promise<void> {
    const listed = await ports.journal.listCases();
    if (!listed.ok) {
      change({ notice: { kind: 'failed', sentence: listed.failure.sentence } });
      return;
    }
    const cases: CaseSummary[] = [];
    const removed = state().unit.removed;
    for (const { caseId } of listed.cases) {
      // A kill in the middle of a removal leaves a part of it.
      if (removed.includes(caseId)) await ports.journal.removeCase(caseId);
      else cases.push(await summary(caseId));
    }
    cases.sort((one, other) => (one.startedAt < other.startedAt ? 1 : -1));
    change({ cases, reports: withNew(state().reports, listed.reports) });
  }

  return { list, endIfOver };
}
