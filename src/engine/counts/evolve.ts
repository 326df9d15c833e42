import { applied } from '../applied.ts';
import { assert, unreachable } from '../assert.ts';
import type { Counts, DoneCount, Entered, RunningCount } from '../countState.ts';
import type { Stamped } from '../decision.ts';
import { otherCounter } from '../people.ts';
import type { Case } from '../state.ts';
import { afterOutcomes } from './afterOutcomes.ts';
import type {
  CountAgreed,
  CountBegun,
  CountsEvent,
  Recounted,
  Relieved,
  Waived,
} from './events.ts';
import { keptOf } from './keptOf.ts';

/** Applies what was counted, recounted, relieved or waived. */
export function evolveCounts(current: Case, event: Stamped<CountsEvent>): Case {
  switch (event.type) {
    case 'countBegun':
      return withCounts(noted(current, event), { running: begun(event), broken: undefined });
    case 'entered': {
      const running = runningOf(current);
      const entered = { line: event.line, seen: event.found, before: running.entered };
      const lines = running.lines.includes(event.line)
        ? running.lines
        : [...running.lines, event.line];
      return withCounts(noted(current, event), { running: { ...running, entered, lines } });
    }
    case 'countAbandoned': {
      const running = runningOf(current);
      const { moment } = running;
      const kept = keptOf(current, running, event.entry);
      const broken = { moment, reason: event.reason, at: event.at, ...(kept && { kept }) };
      return withCounts(noted(current, event), { running: undefined, broken });
    }
    case 'countAgreed':
      return evolveAgreed(current, event);
    case 'recounted':
      return afterOutcomes(compared(current, event), event, undefined);
    case 'relieved':
      return evolveRelieved(current, event);
    case 'waived':
      return evolveWaived(current, event);
    default:
      return unreachable(event);
  }
}

function runningOf(current: Case): RunningCount {
  const { running } = current.counts;
  assert(running !== undefined, 'what is counted belongs to a count that runs');
  return running;
}

function noted(
  current: Case,
  event: Stamped<CountsEvent>,
  postings: CountAgreed['postings'] = [],
): Case {
  const subject = event.type === 'entered' ? event.line : '';
  return applied(current, event, { type: event.type, subject, postings });
}

/** Not taken back; but it stands in the way of taking back the steps of a line that it counted. */
function compared(current: Case, event: Stamped<CountAgreed | Recounted>): Case {
  const lines = event.outcomes.map(({ line }) => line).filter((line) => current.differing[line]);
  return applied(current, event, {
    type: event.type,
    subject: '',
    postings: event.postings,
    undo: lines.map((key) => ({ slice: 'differing', key, before: current.differing[key] })),
  });
}

const withCounts = (current: Case, counts: Partial<Counts>): Case => ({
  ...current,
  counts: { ...current.counts, ...counts },
});

function begun(event: Stamped<CountBegun>): NonNullable<Counts['running']> {
  const { moment, scrub, circulator, lines, found = {}, entry, at } = event;
  const entered = Object.entries(found).reduce<Entered | undefined>(
    (before, [line, seen]) => ({ line, seen, before }),
    undefined,
  );
  return { moment, scrub, circulator, lines, entered, entry, startedAt: at };
}

function evolveAgreed(current: Case, event: Stamped<CountAgreed>): Case {
  const { moment, entry, at } = event;
  const posted = compared(current, event);
  const isFirst = moment === 'first';
  const judged = isFirst || moment === 'added' ? posted : afterOutcomes(posted, event, event);
  const { counts } = judged;
  const done: DoneCount = {
    entry,
    at,
    by: event.agreedBy,
    waived: false,
    differing: event.outcomes.map(({ line }) => line).filter((line) => judged.differing[line]),
    lines: event.outcomes.length,
  };
  const setAside = event.setAside.map((pack) => ({ ...pack, at }));
  const counted = withCounts(judged, {
    first: isFirst ? 'agreed' : counts.first,
    running: undefined,
    done: { ...counts.done, [moment]: done },
    history: [...counts.history, { ...done, moment }],
    findings: [...counts.findings, ...event.findings],
    setAside: [...counts.setAside, ...setAside],
    reliefDue: moment === 'relief' ? [] : counts.reliefDue,
  });
  return moment === 'added' ? countedIn(counted, event) : counted;
}

/** What was opened was counted in, all of it. Late, when something was used between its opening and its count. */
function countedIn(current: Case, event: Stamped<CountAgreed>): Case {
  const { counts } = current;
  const opened = Math.min(...Object.values(counts.uncounted), event.entry);
  const isLate = counts.isLate || current.agedEntry > opened;
  return { ...withCounts(current, { isLate, uncounted: {} }), agedEntry: event.entry };
}

function evolveRelieved(current: Case, event: Stamped<Relieved>): Case {
  const { role, from, to, short, at } = event;
  const noted_ = noted(current, event);
  const { counts } = noted_;
  const reliefs = [...counts.reliefs, { role, from, to, at, short }];
  const team = { ...noted_.team, [role]: to };
  if (short || !otherCounter(role)) return { ...withCounts(noted_, { reliefs }), team };
  const reliefDue = counts.reliefDue.includes(role)
    ? counts.reliefDue
    : [...counts.reliefDue, role];
  const isFirstOpen = counts.first === 'open';
  const broken = counts.running
    ? { moment: counts.running.moment, reason: 'Somebody was relieved while it ran.', at }
    : counts.broken;
  const next = {
    ...noted_,
    team,
    agedEntry: event.entry,
    counts: { ...counts, running: undefined, reliefs, broken },
  };
  return isFirstOpen ? next : withCounts(next, { reliefDue });
}

function evolveWaived(current: Case, event: Stamped<Waived>): Case {
  const { moment, reason, at, agreedBy } = event;
  const posted = noted(current, event, event.postings);
  const { counts } = posted;
  const done = {
    entry: event.entry,
    at,
    by: agreedBy,
    waived: true,
    differing: [],
    lines: event.lines,
  };
  return withCounts(posted, {
    first: moment === 'first' ? 'waived' : counts.first,
    running: undefined,
    done: { ...counts.done, [moment]: done },
    history: [...counts.history, { ...done, moment }],
    waivers: [...counts.waivers, { entry: event.entry, moment, reason, by: agreedBy, at }],
    reliefDue: moment === 'relief' ? [] : counts.reliefDue,
  });
}
