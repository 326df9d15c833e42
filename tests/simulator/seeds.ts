/**
 * Random cases on which the engine and the naive model once differed, cut down to what mattered. Each says which
 * seed of the random cases met it first (0: it was found by reading one beside the other) and what it showed.
 * They are played again by every test run.
 */
import type { Command } from '#engine/case/events.ts';
import type { MomentId, Sheet } from '#engine/sheet.ts';
import { nestedSites, oneSite, turnsAndFragments } from './sheets.ts';

export type Kept = {
  readonly seed: number;
  readonly showed: string;
  readonly sheet: Sheet;
  readonly commands: readonly Command[];
};

type Numbers = Readonly<Record<string, number>>;

const count = (moment: MomentId, seen: Numbers): readonly Command[] => [
  { type: 'beginCount', moment },
  ...Object.entries(seen).map(([line, field]): Command => {
    const isPack = moment === 'first' && line === 'swab';
    return isPack
      ? { type: 'enter', line, packs: [field] }
      : { type: 'enter', line, field, off: 0 };
  }),
  { type: 'agree' },
];

const timeOut: readonly Command[] = [
  { type: 'beginCheckpoint', id: 'time-out', present: ['circulator', 'surgeon'] },
  { type: 'answer', checkpoint: 'time-out', step: 'time-out-said', value: 'yes' },
  { type: 'finishCheckpoint', id: 'time-out' },
];

const started = (seen: Numbers): readonly Command[] => [
  ...count('first', seen),
  ...timeOut,
  { type: 'incision' },
];
const oneStarted = started({ swab: 5, port: 2 });

const lookAt = (closure: string): readonly Command[] => [
  { type: 'look', closure, answers: { [`${closure}-seen`]: 'yes' } },
];
const move = (line: string, from: string, to: string): Command => ({
  type: 'move',
  line,
  from,
  to,
  n: 1,
});
const step = (line: string, one: 'surgeon-told' | 'record-read'): Command => ({
  type: 'discrepancy',
  line,
  step: one,
  by: 'surgeon',
});
const searched = (line: string): readonly Command[] => [
  step(line, 'surgeon-told'),
  step(line, 'record-read'),
  { type: 'discrepancy', line, step: 'field-searched', by: 'surgeon' },
  { type: 'discrepancy', line, step: 'room-searched', by: 'surgeon' },
  { type: 'discrepancy', line, step: 'xray', skip: 'no time' },
];
const recount = (line: string, field: number): Command => ({
  type: 'recount',
  lines: { [line]: { field, off: 0 } },
});

const stays = { type: 'move', line: 'port', from: 'table', to: 'stays', n: 1 } as const;

export const kept: readonly Kept[] = [
  {
    seed: 0,
    showed: 'Taking back the move out of a site that was closed since put the swab into it.',
    sheet: oneSite,
    commands: [
      ...oneStarted,
      move('swab', 'table', 'patient/abdomen'),
      move('swab', 'patient/abdomen', 'table'),
      ...count('closing', { swab: 5, port: 2 }),
      ...lookAt('abdomen'),
      { type: 'close', closure: 'abdomen' },
      { type: 'correct', entry: 11 },
      { type: 'reopen', closure: 'abdomen', reason: 'bleeding' },
      { type: 'correct', entry: 11 },
    ],
  },
  {
    seed: 1,
    showed: 'Taking back an answer opened a checkpoint that was finished.',
    sheet: oneSite,
    commands: [...oneStarted, { type: 'correct', entry: 7 }],
  },
  {
    seed: 0,
    showed: 'Taking back a step of the search opened again what was declared.',
    sheet: oneSite,
    commands: [
      ...oneStarted,
      ...count('closing', { swab: 4, port: 2 }),
      recount('swab', 4),
      ...searched('swab'),
      { type: 'declare', line: 'swab', n: 1, reason: 'lost', by: ['surgeon', 'scrub'] },
      { type: 'correct', entry: 19 },
    ],
  },
  {
    seed: 1,
    showed: 'Taking back a later look brought an earlier one back, after the inside had changed.',
    sheet: nestedSites,
    commands: [
      ...started({ swab: 5, needle: 2, protector: 1 }),
      ...lookAt('uterus'),
      ...lookAt('uterus'),
      move('swab', 'table', 'patient/abdomen'),
      { type: 'correct', entry: 12 },
    ],
  },
  {
    seed: 1,
    showed: 'A piece in the inner site was let pass by the outer gate that lists it as in use.',
    sheet: nestedSites,
    commands: [
      ...started({ swab: 5, needle: 2, protector: 1 }),
      move('protector', 'table', 'patient/uterus'),
    ],
  },
  {
    seed: 1,
    showed: 'A turn on the table put pieces inside before the incision.',
    sheet: turnsAndFragments,
    commands: [
      ...count('first', { swab: 5, needle: 2, grasper: 1 }),
      { type: 'add', line: 'strand', n: 1 },
      { type: 'turn', line: 'strand', turn: 'tied', at: 'table', n: 1 },
      ...timeOut,
      { type: 'incision' },
      { type: 'turn', line: 'strand', turn: 'tied', at: 'table', n: 1 },
    ],
  },
  {
    seed: 1,
    showed: 'A count that the sheet does not have could be waived.',
    sheet: oneSite,
    commands: [
      ...oneStarted,
      { type: 'waive', moment: 'cavity', reason: 'bleeding', by: ['surgeon', 'scrub'] },
    ],
  },
  {
    seed: 0,
    showed: 'A film that was read before a count was waived cleared it.',
    sheet: oneSite,
    commands: [
      ...oneStarted,
      { type: 'xray', wholeField: true, result: 'nothing-seen', readBy: 'Sample' },
      { type: 'waive', moment: 'closing', reason: 'bleeding', by: ['surgeon', 'scrub'] },
      { type: 'xray', wholeField: true, result: 'nothing-seen', readBy: 'Sample' },
    ],
  },
  {
    seed: 0,
    showed: 'A found piece could go to where nothing holds it, and to a closed site.',
    sheet: oneSite,
    commands: [
      ...oneStarted,
      ...count('closing', { swab: 4, port: 2 }),
      recount('swab', 4),
      { type: 'discrepancy', line: 'swab', step: 'found', place: 'stays' },
      { type: 'discrepancy', line: 'swab', step: 'found', place: 'away' },
      { type: 'discrepancy', line: 'swab', step: 'found', from: 'stays', place: 'off' },
      { type: 'discrepancy', line: 'swab', step: 'found', place: 'patient/abdomen' },
    ],
  },
  {
    seed: 1,
    showed: 'While a line waited for its recount, finding told which way it differed.',
    sheet: oneSite,
    commands: [
      ...oneStarted,
      ...count('closing', { swab: 6, port: 2 }),
      { type: 'discrepancy', line: 'swab', step: 'found', place: 'off' },
      recount('swab', 6),
      { type: 'discrepancy', line: 'swab', step: 'found', place: 'off' },
    ],
  },
  {
    seed: 2,
    showed: 'What lies nowhere in the field was said to be in more than one place.',
    sheet: oneSite,
    commands: [
      ...oneStarted,
      ...count('closing', { swab: 5, port: 1 }),
      recount('port', 1),
      { type: 'move', line: 'port', from: 'table', to: 'away', n: 2, with: 'Testfriend' },
      { type: 'discrepancy', line: 'port', step: 'found', place: 'off' },
    ],
  },
  {
    seed: 8,
    showed: 'A search at a site that does not exist was taken for the only site.',
    sheet: oneSite,
    commands: [
      ...oneStarted,
      { type: 'carriedIn', line: 'stone', n: 2, site: 'abdomen', from: 'imaging' },
      {
        type: 'searchedNone',
        line: 'stone',
        n: 2,
        site: 'elsewhere',
        reason: 'none seen',
        by: 'surgeon',
      },
    ],
  },
  {
    seed: 5,
    showed: 'Taking back a move to where a piece stays did not ask the last look again.',
    sheet: nestedSites,
    commands: [
      ...started({ swab: 5, needle: 2, protector: 1 }),
      move('needle', 'table', 'stays'),
      ...lookAt('uterus'),
      { type: 'correct', entry: 11 },
    ],
  },
  {
    seed: 0,
    showed: 'A reason of more than 500 letters was left out without a word.',
    sheet: oneSite,
    commands: [
      ...oneStarted,
      { ...stays, reason: 'm'.repeat(501) },
      { ...stays, reason: 'm'.repeat(500) },
    ],
  },
];
