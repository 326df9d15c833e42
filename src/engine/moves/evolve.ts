import { applied, touchesInside } from '../applied.ts';
import { unreachable } from '../assert.ts';
import type { Stamped } from '../decision.ts';
import { openLine } from '../ledger.ts';
import { isInside } from '../places.ts';
import type { AwayPieces, Case, FragmentSet, LeftPieces, Undo } from '../state.ts';
import type {
  Added,
  Broken,
  CarriedIn,
  Explained,
  Moved,
  MovesEvent,
  NoneFound,
  Turned,
} from './events.ts';

/** Applies what was moved, opened, turned or broken. */
export function evolveMoves(current: Case, event: Stamped<MovesEvent>): Case {
  switch (event.type) {
    case 'added':
      return evolveAdded(current, event);
    case 'moved':
      return evolveMoved(current, event);
    case 'turned':
      return evolveTurned(current, event);
    case 'broken':
      return evolveBroken(current, event);
    case 'carriedIn':
      return evolveCarriedIn(current, event);
    case 'explained':
      return evolveExplained(current, event);
    case 'noneFound':
      return evolveNoneFound(current, event);
    default:
      return unreachable(event);
  }
}

function evolveAdded(current: Case, event: Stamped<Added>): Case {
  const ages = event.n > 0;
  const next = applied(current, event, {
    type: event.type,
    subject: event.line,
    postings: event.postings,
    ages,
    canTakeBack: true,
    ...(event.scanned ? { undo: [{ slice: 'scanned', before: current.scanned }] } : {}),
  });
  const known = event.scanned ? { ...next, scanned: withPacks(next.scanned, event) } : next;
  if (event.setAside.length === 0) return known;
  const aside = event.setAside.map((pieces) => ({ line: event.line, pieces, at: event.at }));
  return { ...known, counts: { ...known.counts, setAside: [...known.counts.setAside, ...aside] } };
}

const withPacks = (scanned: Case['scanned'], event: Stamped<Added>): Case['scanned'] => [
  ...scanned,
  { line: event.line, n: event.n, words: event.scanned ?? [], at: event.at },
];

function evolveMoved(current: Case, event: Stamped<Moved>): Case {
  const touches = touchesInside(event.postings) || isStayMoved(event);
  const undo: Undo[] = [];
  let { left, away } = current;
  if (event.left) {
    undo.push({ slice: 'left', key: event.line, before: left[event.line] });
    left = { ...left, [event.line]: [...(left[event.line] ?? []), event.left] };
  }
  if (event.from === 'stays') {
    undo.push({ slice: 'left', key: event.line, before: left[event.line] });
    left = { ...left, [event.line]: without(left[event.line] ?? [], event.n) };
  }
  if (event.with !== undefined) {
    undo.push({ slice: 'away', before: away });
    away = [...away, { line: event.line, n: event.n, with: event.with, at: event.at }];
  }
  if (event.from === 'away') {
    undo.push({ slice: 'away', before: away });
    away = lessAway(away, event.line, event.n);
  }
  const next = applied(current, event, {
    type: event.type,
    subject: event.line,
    postings: event.postings,
    ages: touches && !event.inUse,
    asksLook: touches && !event.inUse,
    canTakeBack: true,
    undo,
  });
  return left === next.left && away === next.away ? next : { ...next, left, away };
}

/** What stays is in the patient, although it is no longer looked for. */
const isStayMoved = ({ from, to }: Moved): boolean => from === 'stays' || to === 'stays';

/** Who has what after `n` pieces came back, the latest first. */
function lessAway(away: Case['away'], line: string, n: number): Case['away'] {
  const kept: AwayPieces[] = [];
  let toGo = n;
  for (const pieces of [...away].reverse()) {
    const gone = pieces.line === line ? Math.min(toGo, pieces.n) : 0;
    toGo -= gone;
    if (pieces.n > gone) kept.unshift({ ...pieces, n: pieces.n - gone });
  }
  return kept;
}

/** What stays after `n` pieces were taken out again, the latest first. */
function without(left: readonly LeftPieces[], n: number): readonly LeftPieces[] {
  const kept: LeftPieces[] = [];
  let toGo = n;
  for (const pieces of [...left].reverse()) {
    const gone = Math.min(toGo, pieces.n);
    toGo -= gone;
    if (pieces.n > gone) kept.unshift({ ...pieces, n: pieces.n - gone });
  }
  return kept;
}

function evolveTurned(current: Case, event: Stamped<Turned>): Case {
  const undo = Object.keys(event.left).map(
    (line): Undo => ({ slice: 'left', key: line, before: current.left[line] }),
  );
  const next = applied(current, event, {
    type: event.type,
    subject: event.line,
    postings: event.postings,
    ages: true,
    asksLook: touchesInside(event.postings),
    canTakeBack: true,
    undo,
  });
  if (undo.length === 0) return next;
  const left = { ...next.left };
  for (const [line, pieces] of Object.entries(event.left))
    left[line] = [...(left[line] ?? []), pieces];
  return { ...next, left };
}

function evolveBroken(current: Case, event: Stamped<Broken>): Case {
  const { fragment } = event;
  const known = current.lines.has(fragment.id);
  const opened: Case = known
    ? current
    : {
        ...current,
        lines: new Map(current.lines).set(fragment.id, fragment),
        ledger: openLine(current.ledger, fragment.id),
      };
  const next = applied(opened, event, {
    type: event.type,
    subject: event.line,
    postings: event.postings,
    ages: true,
    asksLook: isInside(event.place),
    canTakeBack: true,
    undo: [{ slice: 'fragments', before: current.fragments }],
  });
  const whole = current.lines.get(event.line)?.lengthMm;
  const set: FragmentSet = {
    line: fragment.id,
    of: event.line,
    entry: event.entry,
    into: event.into,
    ...(event.lengths ? { lengths: event.lengths } : {}),
    ...(whole === undefined ? {} : { wholeMm: whole }),
  };
  return { ...next, fragments: [...next.fragments, set] };
}

function evolveCarriedIn(current: Case, event: Stamped<CarriedIn>): Case {
  const { line, n, site, from, at } = event;
  const next = applied(current, event, {
    type: event.type,
    subject: line,
    postings: event.postings,
    ages: true,
    asksLook: true,
    canTakeBack: true,
    undo: [{ slice: 'carried', before: current.carried }],
  });
  return { ...next, carried: [...next.carried, { line, n, site, from, at }] };
}

/** Accepted lengths change the fragments and nothing that stays; a reason changes what stays and no fragments. */
function evolveExplained(current: Case, event: Stamped<Explained>): Case {
  const { line, lengths } = event;
  const touches = touchesInside(event.postings);
  const next = applied(current, event, {
    type: event.type,
    subject: line,
    postings: event.postings,
    ages: touches,
    asksLook: touches,
    canTakeBack: true,
    undo:
      lengths === undefined
        ? [{ slice: 'left', key: line, before: current.left[line] }]
        : [{ slice: 'fragments', before: current.fragments }],
  });
  if (lengths === undefined) return { ...next, left: { ...next.left, [line]: event.left } };
  const fragments = next.fragments.map((set) =>
    set.line === line ? { ...set, explained: lengths } : set,
  );
  return { ...next, fragments };
}

function evolveNoneFound(current: Case, event: Stamped<NoneFound>): Case {
  const { line, n, reason, surgeon, at } = event;
  const next = applied(current, event, {
    type: event.type,
    subject: line,
    postings: event.postings,
    asksLook: true,
    canTakeBack: true,
    undo: [{ slice: 'missing', before: current.missing }],
  });
  const mark = { line, n, why: 'searched-none', reason, by: [surgeon], at } as const;
  return { ...next, missing: [...next.missing, mark] };
}
