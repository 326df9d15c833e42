import { unreachable } from '#engine/assert.ts';
import { say } from '#words/say.ts';
import { type Branch, el } from '../tree.ts';
import type { WholeRecord } from '../wholeRecord.ts';
import { type Timeline, type TimeMark, timelineOf } from './timeline.ts';

/* Units of the drawing: 720 across a page of 180 mm, so that four are a millimetre. */
const width = 720;
const left = 74;
const right = 12;
const rowHeight = 12.5;
const insideHeight = 50;

type Row = { readonly mark: TimeMark; readonly row: number };

/** The case in time: stations, pieces inside, counts, what was added, and who took over. */
export function timelinePicture(record: WholeRecord): Branch {
  const line = timelineOf(record);
  const of = (...kinds: readonly TimeMark['kind'][]) =>
    line.marks.filter(({ kind }) => kinds.includes(kind));
  const stations = lane(line, of('station', 'incision'), 0, say`Stations`);
  const inside = insideLane(line, stations.below);
  const counts = lane(line, of('agreed', 'differed', 'waived'), inside.below, say`Counts`);
  const added = lane(line, of('added'), counts.below, say`Added`);
  const reliefs = lane(line, of('relieved'), added.below, say`Reliefs`);
  const axis = timeAxis(line, reliefs.below);
  const height = axis.below;
  return el(
    'figure',
    { class: 'record-picture' },
    el(
      'svg',
      { viewBox: `0 0 ${width} ${height}`, role: 'img', 'aria-label': aloud(line) },
      guides(line, axis.top),
      ...[stations, inside, counts, added, reliefs, axis].map(({ drawn }) => drawn),
    ),
    line.hasClockBack
      ? el(
          'figcaption',
          {},
          say`The clock of the tablet went back once: the order is that of the entries.`,
        )
      : undefined,
  );
}

/** The same in a sentence, for who does not see it. */
const aloud = (line: Timeline): string =>
  say`The case in time, ${Math.round(line.minutes)} minutes; at most ${line.insideMax} pieces inside.
    ${line.marks.map(({ words, minute }) => say`${words} at ${clock(line, minute)}`).join('; ')}.`;

const x = (line: Timeline, minute: number): number =>
  round(left + ((width - left - right) * Math.min(minute, line.minutes)) / line.minutes);

const round = (value: number): number => Math.round(value * 10) / 10;

/** The time of day in the room at a minute of the case: the offset is that of the first entry. */
function clock({ startedAt }: Timeline, minute: number): string {
  const [hours = 0, minutes = 0] = startedAt.slice(11, 16).split(':').map(Number);
  const of = (((hours * 60 + minutes + Math.floor(minute)) % 1440) + 1440) % 1440;
  return [Math.floor(of / 60), of % 60].map((part) => String(part).padStart(2, '0')).join(':');
}

type Lane = { readonly drawn: readonly Branch[]; readonly below: number };

/** Marks with words beside them, in as many rows as they need not to touch. A lane without marks takes no room. */
function lane(line: Timeline, marks: readonly TimeMark[], top: number, name: string): Lane {
  if (marks.length === 0) return { drawn: [], below: top };
  const rows = inRows(line, marks);
  const count = Math.max(...rows.map(({ row }) => row)) + 1;
  const drawn = rows.flatMap(({ mark, row }) => drawnMark(line, mark, top + row * rowHeight));
  return { drawn: [laneName(name, top + 12), ...drawn], below: top + count * rowHeight + 7 };
}

const laneName = (name: string, y: number): Branch =>
  el('text', { class: 'picture-lane', x: 0, y }, name);

/** Each mark in the first row where it has room; words near the right edge stand to the left of their mark. */
function inRows(line: Timeline, marks: readonly TimeMark[]): readonly Row[] {
  const ends: number[] = [];
  return [...marks]
    .sort((one, other) => one.minute - other.minute)
    .map((mark) => {
      const [from, to] = spanOf(line, mark);
      let row = ends.findIndex((end) => end <= from);
      if (row < 0) row = ends.push(0) - 1;
      ends[row] = to + 4;
      return { mark, row };
    });
}

/** A count that differed says so in words as well. */
const wordsOf = ({ kind, words }: TimeMark): string =>
  kind === 'differed' ? say`${words} differed` : words;

const wordsWidth = (mark: TimeMark): number => 12 + wordsOf(mark).length * 5.6;

function spanOf(line: Timeline, mark: TimeMark): readonly [number, number] {
  const at = x(line, mark.minute);
  return isLeftward(line, mark) ? [at - wordsWidth(mark), at + 4] : [at - 4, at + wordsWidth(mark)];
}

const isLeftward = (line: Timeline, mark: TimeMark): boolean =>
  x(line, mark.minute) + wordsWidth(mark) > width;

/** Every kind has a shape of its own: a page is printed in grey. */
function drawnMark(line: Timeline, mark: TimeMark, top: number): readonly Branch[] {
  const at = x(line, mark.minute);
  const y = top + 8;
  const isLeft = isLeftward(line, mark);
  const words = el(
    'text',
    {
      class: 'picture-words',
      x: isLeft ? at - 6 : at + 6,
      y: y + 3.5,
      'text-anchor': isLeft ? 'end' : 'start',
    },
    wordsOf(mark),
  );
  return [shapeOf(mark.kind, at, y), words];
}

function shapeOf(kind: TimeMark['kind'], at: number, y: number): Branch {
  switch (kind) {
    case 'agreed':
      return el('circle', { class: 'picture-solid', cx: at, cy: y, r: 3.6 });
    case 'differed':
      return el('circle', { class: 'picture-open', cx: at, cy: y, r: 3.4 });
    case 'waived':
      return el('path', { class: 'picture-open', d: `M${at - 4} ${y + 3.5}h8l-4 -7.5z` });
    case 'incision':
      return el('path', { class: 'picture-solid', d: `M${at - 4} ${y - 4}h8l-4 8z` });
    case 'relieved':
      return el('path', { class: 'picture-line', d: `M${at - 4} ${y - 2}h8M${at - 4} ${y + 2}h8` });
    case 'added':
      return el('path', { class: 'picture-line', d: `M${at} ${y - 4}v8M${at - 4} ${y}h8` });
    case 'station':
      return el('path', { class: 'picture-solid', d: `M${at} ${y - 4}l4 4l-4 4l-4 -4z` });
    default:
      return unreachable(kind);
  }
}

/** How many pieces were inside, as steps over time. */
function insideLane(line: Timeline, top: number): Lane {
  const base = top + insideHeight;
  const y = (pieces: number): number =>
    round(base - ((insideHeight - 12) * pieces) / Math.max(line.insideMax, 1));
  const stepsOf = (of: 'pieces' | 'stays'): string =>
    line.inside.map((one) => `H${x(line, one.minute)}V${y(one[of])}`).join('');
  const area = `M${left} ${base}${stepsOf('pieces')}H${width - right}V${base}Z`;
  const stays = line.inside.at(-1)?.stays ?? 0;
  const hasStays = line.inside.some((one) => one.stays > 0);
  const scale = line.insideMax === 0 ? [0] : [0, line.insideMax];
  return {
    drawn: [
      laneName(say`Inside`, top + 14),
      el('text', { class: 'picture-lane', x: 0, y: top + 25 }, say`the patient`),
      el('path', { class: 'picture-area', d: area }),
      ...(hasStays
        ? [
            el('path', {
              class: 'picture-stays',
              d: `M${left} ${base}${stepsOf('stays')}H${width - right}`,
            }),
            el(
              'text',
              { class: 'picture-words', x: width - right, y: y(stays) - 3, 'text-anchor': 'end' },
              say`${stays} on purpose`,
            ),
          ]
        : []),
      ...scale.map((pieces) =>
        el(
          'text',
          { class: 'picture-number', x: left - 5, y: y(pieces) + 3, 'text-anchor': 'end' },
          pieces,
        ),
      ),
    ],
    below: base + 8,
  };
}

/** Minutes between two times on the axis, so that there are four to ten of them. */
const steps = [1, 2, 5, 10, 15, 30, 60, 120, 240, 480, 1440];

function ticksOf(line: Timeline): readonly number[] {
  const days = Math.ceil(line.minutes / 9 / 1440) * 1440;
  const step = steps.find((one) => line.minutes / one <= 9) ?? days;
  const [hours = 0, minutes = 0] = line.startedAt.slice(11, 16).split(':').map(Number);
  const first = (step - ((hours * 60 + minutes) % step)) % step;
  const ticks: number[] = [];
  for (let minute = first; minute <= line.minutes && ticks.length < 40; minute += step)
    ticks.push(minute);
  return ticks;
}

function guides(line: Timeline, bottom: number): readonly Branch[] {
  return ticksOf(line).map((minute) => {
    const at = x(line, minute);
    return el('path', { class: 'picture-guide', d: `M${at} 0V${bottom}` });
  });
}

function timeAxis(line: Timeline, top: number): Lane & { readonly top: number } {
  const times = ticksOf(line).map((minute) =>
    el(
      'text',
      { class: 'picture-number', x: x(line, minute), y: top + 11, 'text-anchor': 'middle' },
      clock(line, minute),
    ),
  );
  const base = el('path', { class: 'picture-line', d: `M${left} ${top}H${width - right}` });
  return { drawn: [base, ...times], below: top + 14, top };
}
