import type {
  Answering,
  Checkpoint,
  Closure,
  Line,
  LineClass,
  Medicine,
  Moment,
  MomentId,
  Sheet,
  Step,
} from '#engine/sheet.ts';

/** A small sheet for stories about one rule. Made up; not for use on patients. */

const source = 'made up for tests';
const everyClass: readonly LineClass[] = ['swab', 'sharp', 'small', 'instrument'];

/** A line that says only what differs from a small item which may not stay. */
export function line(id: string, more: Partial<Line> = {}): Line {
  const bare: Line = {
    id,
    name: id,
    section: 'tray',
    class: 'small',
    opening: 0,
    tracked: true,
    counted: true,
    stay: { may: 'no' },
    film: 'yes',
    cuttable: true,
    brings: [],
    turns: [],
    source,
  };
  return { ...bare, ...more };
}

export function step(id: string, answering: Answering, more: Partial<Step> = {}): Step {
  const bare: Step = {
    id,
    who: 'surgeon',
    ask: `${id}?`,
    short: id,
    answering,
    stopOn: [],
    mayNotApply: false,
    source,
  };
  return { ...bare, ...more };
}

const confirm: Answering = { kind: 'confirm' };

const moment = (id: MomentId, classes: readonly LineClass[] = everyClass): Moment => ({
  id,
  name: `${id} count`,
  classes,
});

const lines: readonly Line[] = [
  line('swab', { class: 'swab', opening: 5, pack: 5, cuttable: false, dryG: 5 }),
  line('large-swab', {
    class: 'swab',
    pack: 5,
    cuttable: false,
    stay: { may: 'reason', needs: ['reason', 'where'] },
  }),
  line('needle', { class: 'sharp', opening: 2, lengthMm: 26, sizeMm: 26 }),
  line('seal', { opening: 2, film: 'no' }),
  line('loop', {
    turns: [
      {
        id: 'placed',
        name: 'Placed',
        at: 'patient',
        gives: [
          { line: 'ligature', n: 1, place: 'stays' },
          { line: 'pusher', n: 1, place: 'patient' },
          { line: 'end-piece', n: 1, place: 'table' },
        ],
      },
    ],
  }),
  line('ligature', { stay: { may: 'yes' } }),
  line('pusher'),
  line('end-piece'),
  line('reel', {
    turns: [
      {
        id: 'cut',
        name: 'Cut',
        at: 'table',
        asks: 'lengths',
        gives: [{ line: 'strand', n: 'asked', place: 'here' }],
      },
    ],
  }),
  line('strand'),
  line('reload', { brings: [{ line: 'shim', n: 1 }] }),
  line('shim'),
  line('drain', { stay: { may: 'reason', needs: ['reason', 'where'] } }),
  line('implant', { stay: { may: 'reason', needs: ['lot'] } }),
  line('faecolith', { counted: false, startsIn: 'imaging' }),
  line('old-pack', { class: 'swab', cuttable: false, startsIn: 'earlier-operation' }),
  line('tray', { class: 'instrument', opening: 3 }),
  line('open-tray', { class: 'instrument' }),
];

const checkpoints: readonly Checkpoint[] = [
  {
    id: 'sign-in',
    name: 'Sign in',
    before: 'anaesthesia',
    leader: 'circulator',
    present: ['circulator', 'anaesthetist'],
    steps: [
      step(
        'sterility',
        {
          kind: 'choice',
          options: [
            { id: 'fine', name: 'Fine' },
            { id: 'problem', name: 'A problem' },
          ],
        },
        { stopOn: ['problem'] },
      ),
      step('marked', confirm, { mayNotApply: true }),
      step('blood-loss', { kind: 'number', unit: 'mL', flag: 'blood-loss' }, { usual: '50' }),
      step('ready', confirm, { when: { step: 'blood-loss', flagged: true } }),
    ],
  },
  {
    id: 'time-out',
    name: 'Time out',
    before: 'incision',
    leader: 'surgeon',
    present: ['surgeon', 'scrub', 'circulator', 'anaesthetist'],
    steps: [
      step('stones', {
        kind: 'number',
        opens: { line: 'faecolith', site: 'abdomen', from: 'imaging' },
      }),
      step('antibiotic', { kind: 'computed', from: 'prophylaxis' }, { mayNotApply: true }),
      step('first-count', { kind: 'computed', from: 'first-count' }),
    ],
  },
  {
    id: 'sign-out',
    name: 'Sign out',
    before: 'leaving',
    leader: 'circulator',
    present: ['circulator', 'surgeon'],
    steps: [
      step('counts', { kind: 'computed', from: 'counts' }),
      step('specimens', { kind: 'computed', from: 'specimens' }),
      step('left', { kind: 'computed', from: 'left' }),
    ],
  },
];

const closure = (
  id: string,
  sites: readonly string[],
  count: MomentId,
  more: Partial<Closure> = {},
): Closure => ({ id, name: id, sites, count, inUse: [], look: [], ...more });

const medicines: readonly Medicine[] = [
  { id: 'cefuroxime', name: 'Cefuroxime', windowMinutes: 60, redoseHours: 4, source },
  { id: 'vancomycin', name: 'Vancomycin', windowMinutes: 120, redoseHours: null, source },
];

/** Uterus inside abdomen, and a vagina that is open before the incision; a specimen; a conversion. */
export const storySheet: Sheet = {
  id: 'story',
  title: 'Story',
  version: '2026-01',
  aims: [],
  sites: [
    { id: 'uterus', name: 'Uterus', kind: 'cavity' },
    { id: 'abdomen', name: 'Abdomen', kind: 'cavity' },
    { id: 'vagina', name: 'Vagina', kind: 'orifice' },
  ],
  variants: [
    { id: 'keyhole', name: 'Keyhole', group: 'approach', opens: {} },
    { id: 'open', name: 'Open', group: 'approach', opens: { 'open-tray': 4, 'large-swab': 5 } },
  ],
  sections: [{ id: 'tray', name: 'Tray' }],
  lines,
  moments: [
    moment('first'),
    moment('cavity', ['swab', 'sharp', 'small']),
    moment('closing'),
    moment('final'),
  ],
  checkpoints,
  specimens: [
    {
      id: 'lump',
      letter: 'A',
      name: 'Lump',
      site: 'abdomen',
      side: 'left',
      test: 'histology',
      media: ['formalin'],
      bag: true,
      planned: true,
    },
  ],
  closures: [
    closure('uterus', ['uterus'], 'cavity'),
    closure('abdomen', ['abdomen'], 'closing', {
      inUse: ['seal'],
      look: [
        step('seen', confirm),
        step(
          'dry',
          {
            kind: 'choice',
            options: [
              { id: 'dry', name: 'Dry' },
              { id: 'bleeding', name: 'Bleeding' },
            ],
          },
          { stopOn: ['bleeding'] },
        ),
      ],
    }),
    closure('skin', ['vagina'], 'final'),
  ],
  medicines,
  policy: {
    childUnderYears: 18,
    bloodLossMl: 500,
    childBloodLossMlPerKg: 7,
    filmReliableMm: 13,
    filmPoorMm: 10,
    interruptedCount: 'whole',
    secondsPerStep: 2,
    redoseBloodLossMl: 1500,
  },
  sources: [source],
  changes: [],
};

/** An id as a name. */
export const capital = (id: string): string => id.slice(0, 1).toUpperCase() + id.slice(1);

/** The story's sheet with names that differ from its ids, so that words show which of the two they say. */
export const namedSheet: Sheet = {
  ...storySheet,
  lines: storySheet.lines.map((line) => ({ ...line, name: `The ${line.id}` })),
  moments: storySheet.moments.map((moment) => ({ ...moment, name: `The ${moment.id}` })),
  closures: storySheet.closures.map((one) => ({ ...one, name: capital(one.id) })),
};
