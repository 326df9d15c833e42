import type { Core } from './core.ts';
import { withNew } from './listing.ts';
import type { Report } from './ports.ts';
import type { SessionState } from './state.ts';

export type ReportNotes = {
  /** Somebody has read the first of the reports that the open case shows. */
  readonly heedReport: () => void;
};

const ofTheTablet = ['one-home', 'home-left-out', 'database-wiped'];

/** What a case that was read has to say of its record, beside what is said of the tablet itself. */
export const toldIn = (
  state: SessionState,
  own: readonly Report[],
): Pick<SessionState, 'reports' | 'unread'> => ({
  reports: withNew(state.reports, own),
  unread: unreadOf(state, [
    ...state.reports.filter(({ code }) => ofTheTablet.includes(code)),
    ...own,
  ]),
});

/** Of these, each once, what nobody has read yet. A team that goes on with a case never sees the first page. */
export function unreadOf({ heeded }: SessionState, reports: readonly Report[]): readonly Report[] {
  const known = new Set(heeded.map(({ sentence }) => sentence));
  return reports.filter(({ sentence }) => {
    const isNew = !known.has(sentence);
    known.add(sentence);
    return isNew;
  });
}

export const createReportNotes = ({ state, change }: Core): ReportNotes => ({
  heedReport: () => {
    const [read, ...unread] = state().unread;
    if (read) change({ unread, heeded: [...state().heeded, read] });
  },
});
