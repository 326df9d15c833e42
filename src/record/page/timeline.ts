import type { CaseEvent } from '#engine/case/events.ts';
import { evolve } from '#engine/case/evolve.ts';
import { stationsOf } from '#engine/case/stationsOf.ts';
import { piecesInside } from '#engine/closures/verdictOf.ts';
import { momentName } from '#engine/counts/countsDue.ts';
import { happenedAt } from '#engine/happenedAt.ts';
import { rowOf } from '#engine/ledger.ts';
import { minutesBetween } from '#engine/quantities.ts';
import type { Case } from '#engine/state.ts';
import { say } from '#words/say.ts';
import { eventsIn, type WholeRecord } from '../wholeRecord.ts';

/** Something that happened at one time. Units: `minute` since the case was opened. */
export type TimeMark = {
  readonly minute: number;
  readonly kind: 'station' | 'incision' | 'agreed' | 'differed' | 'waived' | 'added' | 'relieved';
  readonly words: string;
};

/** The case in time. Units: minutes since it was opened; pieces. */
export type Timeline = {
  readonly startedAt: string;
  readonly minutes: number;
  readonly marks: readonly TimeMark[];
  /** Pieces inside the patient from this minute on, and those that stay on purpose. */
  readonly inside: readonly {
    readonly minute: number;
    readonly pieces: number;
    readonly stays: number;
  }[];
  readonly insideMax: number;
  /** The tablet's clock went back: what came later is drawn where the earlier was. */
  readonly hasClockBack: boolean;
};

/** Reads the entries in order and keeps what a person looks for: when, how many inside, what was counted. */
export function timelineOf(record: WholeRecord): Timeline {
  const { current } = record;
  const { startedAt } = current;
  const inside = [{ minute: 0, pieces: 0, stays: 0 }];
  const marks: TimeMark[] = [];
  let folded: Case | undefined;
  let latest = 0;
  let hasClockBack = false;
  for (const event of eventsIn(record)) {
    folded = evolve(folded, event);
    const minute = minutesBetween(startedAt, happenedAt(event));
    hasClockBack ||= minute < latest;
    latest = Math.max(latest, minute);
    const now = { minute: latest, ...insideNow(folded) };
    const before = inside.at(-1);
    if (now.pieces !== before?.pieces || now.stays !== before.stays) inside.push(now);
    const mark = markOf(current, folded, event);
    if (mark) marks.push({ minute: latest, ...mark });
    // What is noted in the weeks after would squeeze the operation into a stroke.
    if (event.type === 'finished') break;
  }
  const stations = stationsOf(current)
    .filter(({ at, kind }) => at !== undefined && kind !== 'prepare' && kind !== 'operating')
    .filter(({ kind }) => kind !== 'first-count')
    .map(({ at = startedAt, name }): TimeMark => {
      const minute = Math.max(0, minutesBetween(startedAt, at));
      return { minute, kind: 'station', words: name };
    });
  return {
    startedAt,
    minutes: Math.max(latest, 1),
    marks: joined([...stations, ...marks]),
    inside,
    insideMax: Math.max(...inside.map(({ pieces, stays }) => Math.max(pieces, stays))),
    hasClockBack,
  };
}

function insideNow(current: Case): { readonly pieces: number; readonly stays: number } {
  const sum = (numbers: readonly number[]): number => numbers.reduce((all, n) => all + n, 0);
  return {
    pieces: sum(piecesInside(current).map(({ n }) => n)),
    stays: sum([...current.lines.keys()].map((line) => rowOf(current.ledger, line).stays)),
  };
}

function markOf(
  current: Case,
  folded: Case,
  event: CaseEvent,
): Omit<TimeMark, 'minute'> | undefined {
  switch (event.type) {
    case 'incised':
      return { kind: 'incision', words: say`Incision` };
    case 'countAgreed': {
      const differed = folded.counts.history.at(-1)?.differing.length ?? 0;
      const words = momentName(current, event.moment);
      return { kind: differed > 0 ? 'differed' : 'agreed', words };
    }
    case 'recounted': {
      const isOpen = event.outcomes.some(({ line }) => folded.differing[line]);
      return { kind: isOpen ? 'differed' : 'agreed', words: say`Recount` };
    }
    case 'waived':
      return { kind: 'waived', words: momentName(current, event.moment) };
    case 'added':
      return event.n > 0 ? { kind: 'added', words: `+${event.n}` } : undefined;
    case 'relieved':
      return { kind: 'relieved', words: say`${event.to} for ${event.from}` };
    default:
      return undefined;
  }
}

/** What was added in the same minute is one mark; so are recounts that follow each other in it. */
function joined(marks: readonly TimeMark[]): readonly TimeMark[] {
  const kept: TimeMark[] = [];
  for (const mark of marks) {
    const same = kept.findIndex(
      (one) => one.kind === mark.kind && Math.floor(one.minute) === Math.floor(mark.minute),
    );
    const before = kept[same];
    if (mark.kind === 'added' && before)
      kept[same] = { ...before, words: `+${Number(before.words) + Number(mark.words)}` };
    else if (!before || before.words !== mark.words) kept.push(mark);
  }
  return kept;
}
