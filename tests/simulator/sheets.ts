/** Small sheets for random cases: one site; two nested sites and an orifice; things that turn and break. */
import type {
  Checkpoint,
  Closure,
  Line,
  LineClass,
  Moment,
  MomentId,
  Sheet,
  Step,
  Turn,
} from '#engine/sheet.ts';

const everyClass: readonly LineClass[] = ['swab', 'sharp', 'small', 'instrument'];

export const moment = (id: MomentId, classes: readonly LineClass[] = everyClass): Moment => ({
  id,
  name: `${id} count`,
  classes,
});

export function line(id: string, more: Partial<Line> = {}): Line {
  return {
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
    source: 'made up for tests',
    ...more,
  };
}

const confirm = (id: string): Step => ({
  id,
  who: 'surgeon',
  ask: `${id}?`,
  short: id,
  answering: { kind: 'confirm' },
  usual: 'yes',
  stopOn: [],
  mayNotApply: false,
  source: 'made up for tests',
});

const checkpoint = (id: string, before: string): Checkpoint => ({
  id,
  name: id,
  before,
  leader: 'circulator',
  present: [],
  steps: [confirm(`${id}-said`)],
});

export const closure = (
  id: string,
  sites: readonly string[],
  count: MomentId,
  more: Partial<Closure> = {},
): Closure => ({ id, name: id, sites, count, inUse: [], look: [confirm(`${id}-seen`)], ...more });

export function sheet(id: string, more: Partial<Sheet>): Sheet {
  return {
    id,
    title: id,
    version: 'January 2026',
    aims: [],
    sites: [],
    variants: [],
    sections: [{ id: 'tray', name: 'tray' }],
    lines: [],
    moments: [
      moment('first'),
      moment('closing'),
      moment('final'),
      moment('relief'),
      moment('extra'),
    ],
    checkpoints: [checkpoint('time-out', 'incision'), checkpoint('sign-out', 'leaving')],
    specimens: [],
    closures: [],
    medicines: [],
    policy: {
      childUnderYears: 18,
      bloodLossMl: 500,
      childBloodLossMlPerKg: 7,
      filmReliableMm: 13,
      filmPoorMm: 10,
      interruptedCount: 'whole',
      redoseBloodLossMl: 1500,
      secondsPerStep: 0,
    },
    sources: [],
    changes: [],
    ...more,
  };
}

const swab = line('swab', { class: 'swab', opening: 5, pack: 5, cuttable: false });
const stone = line('stone', { counted: false, startsIn: 'imaging' });

/** One site, port parts in use, a drain that wants a reason and a place, stones seen on imaging. */
export const oneSite: Sheet = sheet('one-site', {
  sites: [{ id: 'abdomen', name: 'abdomen', kind: 'cavity' }],
  lines: [
    swab,
    line('port', { opening: 2 }),
    line('clip', { stay: { may: 'yes' } }),
    line('drain', { stay: { may: 'reason', needs: ['reason', 'where'] } }),
    stone,
  ],
  closures: [
    closure('abdomen', ['abdomen'], 'closing', { inUse: ['port'] }),
    closure('skin', [], 'final', { look: [] }),
  ],
});

/** A cavity inside a cavity, an orifice beside them, a specimen, a pack that an earlier operation left. */
export const nestedSites: Sheet = sheet('nested-sites', {
  sites: [
    { id: 'uterus', name: 'uterus', kind: 'cavity' },
    { id: 'abdomen', name: 'abdomen', kind: 'cavity' },
    { id: 'vagina', name: 'vagina', kind: 'orifice' },
  ],
  lines: [
    swab,
    line('needle', { class: 'sharp', opening: 2 }),
    line('protector', { opening: 1 }),
    line('packing', {
      class: 'swab',
      cuttable: false,
      startsIn: 'earlier-operation',
      stay: { may: 'reason', needs: ['reason'] },
    }),
    stone,
  ],
  moments: [
    moment('first'),
    moment('cavity', ['swab', 'sharp']),
    moment('closing'),
    moment('final'),
    moment('relief'),
    moment('extra'),
  ],
  specimens: [
    {
      id: 'tissue',
      letter: 'A',
      name: 'tissue',
      site: 'uterus',
      side: 'not applicable',
      test: 'histology',
      media: ['formalin'],
      bag: false,
      planned: true,
    },
  ],
  closures: [
    closure('uterus', ['uterus'], 'cavity'),
    closure('abdomen', ['abdomen'], 'closing', { inUse: ['protector'] }),
    closure('skin', ['vagina'], 'final'),
  ],
});

const placed: Turn = {
  id: 'placed',
  name: 'placed',
  at: 'patient',
  gives: [
    { line: 'ligature', n: 1, place: 'stays' },
    { line: 'pusher', n: 1, place: 'here' },
    { line: 'end-piece', n: 1, place: 'table' },
  ],
};
const cut: Turn = {
  id: 'cut',
  name: 'cut',
  at: 'table',
  asks: 'lengths',
  gives: [
    { line: 'strand', n: 'asked', place: 'here' },
    { line: 'remainder', n: 1, place: 'here' },
  ],
};
const tied: Turn = {
  id: 'tied',
  name: 'tied',
  at: 'any',
  gives: [
    { line: 'knot', n: 1, place: 'here' },
    { line: 'tail', n: 2, place: 'patient' },
  ],
};

/** Loops, reels, a reload that brings its shim, an instrument and a needle that break, an implant. */
export const turnsAndFragments: Sheet = sheet('turns-and-fragments', {
  sites: [{ id: 'wound', name: 'wound', kind: 'wound' }],
  lines: [
    line('loop', { turns: [placed] }),
    line('ligature', { stay: { may: 'yes' } }),
    line('pusher'),
    line('end-piece'),
    line('reel', { turns: [cut] }),
    line('strand', { turns: [tied] }),
    line('remainder'),
    line('knot', { stay: { may: 'yes' } }),
    line('tail'),
    line('reload', { brings: [{ line: 'shim', n: 1 }] }),
    line('shim'),
    line('grasper', { class: 'instrument', opening: 1, lengthMm: 15 }),
    line('needle', { class: 'sharp', opening: 2 }),
    line('implant', { stay: { may: 'reason', needs: ['lot'] } }),
    swab,
  ],
  closures: [
    closure('wound', ['wound'], 'closing', { inUse: ['grasper'] }),
    closure('skin', [], 'final', { look: [] }),
  ],
});

export const sheets: readonly Sheet[] = [oneSite, nestedSites, turnsAndFragments];
