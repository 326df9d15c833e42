import { describe, expect, test } from 'vitest';
import { lineClasses, type Sheet, type Step } from '../../src/engine/sheet.ts';
import { loadSheets } from '../../src/sheets/loadSheets.ts';

/** What may stay inside, what no X-ray shows, what goes into which pot, and which answers let a team go on. */
const loaded = loadSheets('checklists');

type Said = {
  /** Lines that may stay, with what must be said of them. */
  readonly stays: string;
  /** Lines that start in the patient, and whether they are counted by hand. */
  readonly startsInside: string;
  /** Lines that no X-ray shows. */
  readonly unseen: string;
  /** Questions of its own that no answer stops, because any answer is one. */
  readonly neverStops: string;
  /** Counts that leave a class out; all others cover everything. */
  readonly shortCounts: string;
  /** Letter, name, side and media; those in brackets are only offered. */
  readonly specimens: readonly string[];
};

const said: Readonly<Record<string, Said>> = {
  'total-abdominal-hysterectomy': {
    shortCounts: 'cavity swab sharp',
    stays:
      'ribbon-pack (reason where), drain (reason where), haemostatic-sheet (reason where), metal-clip, polymer-clip',
    startsInside: 'vaginal-item (seen)',
    unseen: 'haemostatic-sheet, polymer-clip, wound-protector, lens-wipe',
    neverStops: 'abdomen drain-said, time-out vaginal-items',
    specimens: [
      'A uterus formalin fresh',
      'A uterus-body formalin fresh',
      'B right-adnexa right formalin fresh',
      'B right-tube right formalin',
      'C left-adnexa left formalin fresh',
      'C left-tube left formalin',
      '(D washings cytology-fixative sterile-pot)',
      '(E node formalin)',
      '(F biopsy formalin fresh)',
    ],
  },
  thyroidectomy: {
    shortCounts: '',
    stays:
      'metal-clip, polymer-clip, sternal-wire-loop, haemostatic-sheet (reason where), drain (reason where), tie-knot',
    startsInside: '',
    unseen: 'polymer-clip, shoulder-roll, haemostatic-sheet, reel, strand, tie-knot, tie-tail',
    neverStops: 'strap-muscles drain-said, sign-out parathyroids',
    specimens: [
      'A right-lobe right formalin fresh',
      'H whole-thyroid both formalin fresh',
      'B left-lobe left formalin fresh',
      '(C isthmus midline formalin fresh)',
      '(D parathyroid fresh saline sterile-pot)',
      '(E nodes-central formalin)',
      '(F nodes-right right formalin)',
      '(G nodes-left left formalin)',
    ],
  },
  'total-hip-replacement': {
    shortCounts: 'cavity swab sharp small',
    stays:
      'cup (lot), cup-screw (lot), hole-cap (lot), liner (lot), stem (lot), head (lot), cement-mix (lot), ' +
      'restrictor (lot), centraliser (lot), cable-loop (lot), drain (reason where)',
    startsInside: 'loose-cement (seen), instrument-part (seen)',
    unseen:
      'trial-head, trial-liner, liner, cement-mixer, cement-nozzle, pressuriser-seal, lavage-shield',
    neverStops: 'deep-fascia drain-said',
    specimens: [
      'A femoral-head-right right formalin fresh',
      'A femoral-head-left left formalin fresh',
      ...['B tissue-1', 'C tissue-2', 'D tissue-3', 'E tissue-4', 'F tissue-5'].flatMap((one) => [
        `(${one}-right right sterile-pot)`,
        `(${one}-left left sterile-pot)`,
      ]),
      '(G joint-fluid-right right culture-bottle sterile-pot)',
      '(G joint-fluid-left left culture-bottle sterile-pot)',
    ],
  },
  'paediatric-open-appendicectomy': {
    shortCounts: '',
    stays: 'tie-knot, drain (reason where), large-swab (reason where)',
    startsInside: 'faecolith (imaging, not counted)',
    unseen: 'reel, strand, tie-knot, tie-tail, culture-stick, lens-wipe, wound-protector',
    neverStops: 'abdomen drain-said, skin local-given, time-out faecoliths',
    specimens: ['A appendix formalin', '(B pus culture-swab sterile-pot)', '(C biopsy formalin)'],
  },
  'laparoscopic-sigmoid-colectomy': {
    shortCounts: 'cavity swab sharp small',
    stays:
      'metal-clip, polymer-clip, staple-line, staple-ring, stoma-rod (reason where), ureter-stent (reason where), ' +
      'drain (reason where), haemostatic-sheet (reason where), large-swab (reason where)',
    startsInside: 'loose-staple (seen), ureter-stent (earlier-operation, not counted)',
    unseen:
      'polymer-clip, reload-shim, protector-cap, bowel-tape, marking-stitch, dye-vial, lens-wipe, haemostatic-sheet, wound-protector',
    neverStops:
      'abdomen leak-tested, abdomen drain-said, abdomen leak-tested, abdomen drain-said, skin stents-said, ' +
      'skin fascia-sites, time-out stents, sign-out leak-test',
    specimens: [
      'A sigmoid formalin fresh',
      'B rings formalin',
      '(C node formalin)',
      '(D margin formalin)',
      '(E fluid culture-swab sterile-pot)',
      '(F biopsy formalin)',
    ],
  },
  'wide-local-excision-of-breast': {
    shortCounts: '',
    stays:
      'metal-clip, polymer-clip, drain (reason where), haemostatic-sheet (reason where), tie-knot',
    startsInside: 'wire (imaging), seed (imaging, not counted)',
    unseen:
      'polymer-clip, orientation-strand, probe-cover, haemostatic-sheet, reel, strand, tie-knot, tie-tail',
    neverStops:
      'axilla drain-said, breast drain-said, axilla drain-said, time-out wires, time-out seeds',
    specimens: [
      'A excision-right right formalin fresh',
      'A excision-left left formalin fresh',
      'B nodes-right right formalin fresh',
      'B nodes-left left formalin fresh',
      '(C more-nodes-right right formalin fresh)',
      '(C more-nodes-left left formalin fresh)',
      '(D shave-right right formalin)',
      '(D shave-left left formalin)',
      '(E second-shave-right right formalin)',
      '(E second-shave-left left formalin)',
      '(F clearance-right right formalin)',
      '(F clearance-left left formalin)',
      '(G rest-of-breast-right right formalin fresh)',
      '(G rest-of-breast-left left formalin fresh)',
    ],
  },
};

const inBrackets = (words: string): string => (words === '' ? '' : ` (${words})`);

function staysOf({ lines }: Sheet): string {
  return lines
    .flatMap(({ id, stay }) => {
      if (stay.may === 'no') return [];
      return [`${id}${inBrackets(stay.may === 'reason' ? stay.needs.join(' ') : '')}`];
    })
    .join(', ');
}

function startsInsideOf({ lines }: Sheet): string {
  return lines
    .filter(({ startsIn }) => startsIn !== undefined)
    .map(({ id, startsIn, counted }) => `${id} (${startsIn}${counted ? '' : ', not counted'})`)
    .join(', ');
}

/** The WHO items and what the case answers have their own rules; of the others, every question can stop. */
function neverStopsOf({ closures, checkpoints }: Sheet): string {
  const isOpen = ({ stopOn, answering, whoItem }: Step) =>
    stopOn.length === 0 && answering.kind !== 'computed' && whoItem === undefined;
  return [
    ...closures.map(({ id, look }) => ({ id, steps: look })),
    ...checkpoints.map(({ id, steps }) => ({ id, steps })),
  ]
    .flatMap(({ id, steps }) => steps.filter(isOpen).map((step) => `${id} ${step.id}`))
    .join(', ');
}

function specimensOf({ specimens }: Sheet): readonly string[] {
  return specimens.map(({ letter, id, side, media, planned }) => {
    const words = [letter, id, ...(side === 'not applicable' ? [] : [side]), ...media].join(' ');
    return planned ? words : `(${words})`;
  });
}

describe.each(Object.entries(said))('%s', (id, wanted) => {
  const sheet = loaded.ok ? loaded.sheets.find((one) => one.id === id) : undefined;
  if (!sheet) throw new Error(`${id} is not among the sheets`);

  test('only this may stay, with this said of it', () => expect(staysOf(sheet)).toBe(wanted.stays));

  test('this starts in the patient', () => expect(startsInsideOf(sheet)).toBe(wanted.startsInside));

  test('this is on no X-ray', () => {
    const unseen = sheet.lines.filter(({ film }) => film === 'no').map((line) => line.id);
    expect(unseen.join(', ')).toBe(wanted.unseen);
  });

  test('every other question has an answer that stops', () =>
    expect(neverStopsOf(sheet)).toBe(wanted.neverStops));

  test('every count covers all, but for these', () => {
    const short = sheet.moments.filter(({ classes }) => classes.length < lineClasses.length);
    const words = short.map(({ id: moment, classes }) => [moment, ...classes].join(' '));
    expect(words.join(', ')).toBe(wanted.shortCounts);
    const named = ['first', 'added', 'closing', 'final', 'relief', 'extra'];
    expect(sheet.moments.map((moment) => moment.id)).toEqual(expect.arrayContaining(named));
  });

  test('these specimens have these letters, sides and media', () =>
    expect(specimensOf(sheet)).toEqual(wanted.specimens));
});
