import { expect, test } from 'vitest';
import type { Line, Sheet } from '../../src/engine/sheet.ts';
import { loadSheets } from '../../src/sheets/loadSheets.ts';

/** The appendicectomy as the theatre needs it on the day. */
const loaded = loadSheets('checklists');
const sheet = sheetNamed('laparoscopic-appendicectomy');

function sheetNamed(id: string): Sheet {
  const found = loaded.ok ? loaded.sheets.find((one) => one.id === id) : undefined;
  if (found === undefined) throw new Error(`${id} is not among the sheets`);
  return found;
}

function line(id: string): Line {
  const found = sheet.lines.find((one) => one.id === id);
  if (found === undefined) throw new Error(`${id} is not on the sheet`);
  return found;
}

/** Pieces at the first count of a case with these variants, by line. */
function opening(...variants: readonly string[]): (prefix: string) => number {
  return (prefix) =>
    sheet.lines
      .filter(({ id }) => id.startsWith(prefix))
      .reduce((sum, { id, opening: own }) => {
        const chosen = sheet.variants.filter((variant) => variants.includes(variant.id));
        return chosen.reduce(
          (pieces, variant) => pieces + (variant.opens[id] ?? 0) - (variant.without?.[id] ?? 0),
          sum + own,
        );
      }, 0);
}

test('the first count has 10 swabs, 4 sharps, 11 port parts, 44 tray pieces and 3 bag parts', () => {
  const pieces = opening();
  expect(pieces('swab')).toBe(10);
  const sharps = sheet.lines.filter((one) => one.class === 'sharp');
  expect(sharps.reduce((sum, one) => sum + one.opening, 0)).toBe(4);
  expect(pieces('suture-needle')).toBe(2);
  expect(pieces('port-')).toBe(11);
  expect(pieces('lap-tray')).toBe(44);
  expect(pieces('retrieval-')).toBe(3);
  expect(['telescope', 'tip-cleaner', 'lens-wipe'].map(pieces)).toEqual([1, 1, 1]);
  expect(['loop', 'reel', 'polymer-clip', 'staple', 'drain'].map(pieces)).toEqual([0, 0, 0, 0, 0]);
});

test.each(['linear-stapler', 'caecal-pole'])(
  'with %s there are 12 port parts, 3 needles, 1 handle',
  (variant) => {
    const pieces = opening(variant);
    expect(pieces('port-')).toBe(12);
    expect(pieces('port-12w-')).toBe(4);
    expect(pieces('port-5-')).toBe(3);
    expect(pieces('suture-needle')).toBe(3);
    expect(pieces('stapler-handle')).toBe(1);
  },
);

test('a closed entry adds a needle of two parts', () => {
  expect(opening('closed-entry')('insufflation-')).toBe(2);
});

test('a conversion opens the laparotomy tray of 78 pieces and a pack of large swabs', () => {
  const pieces = opening('open');
  expect(pieces('laparotomy-tray')).toBe(78);
  expect(pieces('large-swab')).toBe(5);
});

test('the stump can be controlled in every way, and nothing is opened where nothing was chosen', () => {
  const stump = sheet.variants.filter(({ group }) => group === 'stump');
  expect(stump.map(({ id }) => id)).toEqual([
    'pre-tied-loop',
    'intracorporeal-tie',
    'intracorporeal-suture',
    'extracorporeal-knot',
    'linear-stapler',
    'polymer-clip',
    'metal-clip',
    'energy-device',
    'caecal-pole',
    'hand-sewn',
  ]);
  const firsts = ['approach', 'entry', 'stump'].map((group) =>
    sheet.variants.find((variant) => variant.group === group),
  );
  expect(firsts.map((variant) => Object.keys(variant?.opens ?? {}))).toEqual([[], [], []]);
});

test('a loop becomes a ligature that stays, a pusher inside and an end piece on the table', () => {
  expect(line('loop').turns.map(({ id, at, gives }) => ({ id, at, gives }))).toEqual([
    {
      id: 'placed',
      at: 'patient',
      gives: [
        { line: 'loop-ligature', n: 1, place: 'stays' },
        { line: 'loop-pusher', n: 1, place: 'patient' },
        { line: 'loop-end-piece', n: 1, place: 'table' },
      ],
    },
    {
      id: 'placed-on-specimen',
      at: 'patient',
      gives: [
        { line: 'loop-ligature', n: 1, place: 'here' },
        { line: 'loop-pusher', n: 1, place: 'patient' },
        { line: 'loop-end-piece', n: 1, place: 'table' },
      ],
    },
  ]);
});

test('a reel becomes the lengths asked for and a remainder, a length a knot and two tails', () => {
  expect(line('reel').turns[0]).toMatchObject({
    id: 'cut',
    asks: 'lengths',
    gives: [
      { line: 'strand', n: 'asked', place: 'here' },
      { line: 'strand', n: 1, place: 'table' },
    ],
  });
  expect(line('strand').turns.map(({ id, gives }) => [id, ...gives])).toEqual([
    [
      'tied',
      { line: 'tie-knot', n: 1, place: 'stays' },
      { line: 'tie-tail', n: 2, place: 'patient' },
    ],
    [
      'tied-on-specimen',
      { line: 'tie-knot', n: 1, place: 'here' },
      { line: 'tie-tail', n: 2, place: 'patient' },
    ],
    ['cut', { line: 'strand', n: 'asked', place: 'here' }],
  ]);
});

test('a reload comes in with its shim, and fired leaves a staple line', () => {
  expect(line('staple-reload').brings).toEqual([{ line: 'reload-shim', n: 1 }]);
  expect(line('staple-reload').turns[0]?.gives).toEqual([
    { line: 'reload-spent', n: 1, place: 'here' },
    { line: 'staple-line', n: 1, place: 'stays' },
  ]);
});

test('clips come six to a cartridge and may stay', () => {
  for (const id of ['polymer-clip', 'metal-clip']) {
    expect(line(id)).toMatchObject({ pack: 6, stay: { may: 'yes' } });
    expect(line(id).brings).toEqual([{ line: 'clip-cartridge', n: 1 }]);
  }
  expect([line('polymer-clip').film, line('metal-clip').film]).toEqual(['no', 'yes']);
});

test('a drain may stay with a reason and a place; trimmed, its off-cut is on the table', () => {
  expect(line('drain').stay).toEqual({ may: 'reason', needs: ['reason', 'where'] });
  expect(line('drain').turns[0]?.gives).toEqual([
    { line: 'drain', n: 1, place: 'here' },
    { line: 'drain-off-cut', n: 1, place: 'table' },
  ]);
});

test('what starts in the patient is a faecolith from imaging or a loose staple that is seen', () => {
  expect(line('faecolith')).toMatchObject({ startsIn: 'imaging', counted: false, film: 'varies' });
  expect(line('loose-staple')).toMatchObject({ startsIn: 'seen', counted: true });
});

test('only what may stay stays: ligature, knot, clips, staple line, and by decision drain and packing', () => {
  const staying = sheet.lines.filter(({ stay }) => stay.may !== 'no').map(({ id }) => id);
  expect(staying).toEqual([
    'loop-ligature',
    'tie-knot',
    'polymer-clip',
    'metal-clip',
    'staple-line',
    'drain',
    'large-swab',
  ]);
});

test('the fascia may be closed round the parts of ports that sit in the wall, the skin round nothing', () => {
  const [keyhole, open, skin] = sheet.closures;
  expect([keyhole?.id, open?.id, skin?.id]).toEqual(['abdomen', 'abdomen', 'skin']);
  expect(keyhole?.when?.variant).toEqual(['keyhole']);
  expect(keyhole?.inUse).toEqual([
    'port-12-cannula',
    'port-12-cone',
    'port-12-seal',
    'port-5-cannula',
    'port-5-seal',
    'port-12w-cannula',
    'port-12w-seal',
  ]);
  expect(open?.when?.variant).toEqual(['open']);
  expect(open?.inUse).toEqual([]);
  expect(skin).toMatchObject({ count: 'final', inUse: [], sites: ['abdomen'] });
});

test('pus never goes into formalin, the appendix goes nowhere else', () => {
  expect(sheet.specimens.map(({ letter, id, media }) => [letter, id, media])).toEqual([
    ['A', 'appendix', ['formalin']],
    ['B', 'pus', ['culture-swab', 'sterile-pot']],
    ['C', 'biopsy', ['formalin']],
  ]);
  expect(sheet.specimens.map(({ planned }) => planned)).toEqual([true, false, false]);
});

test('time out takes the antibiotic and the first count from the case, and opens faecoliths', () => {
  const timeOut = sheet.checkpoints.find(({ id }) => id === 'time-out');
  const steps = new Map(timeOut?.steps.map((step) => [step.id, step]));
  expect(steps.get('antibiotic')).toMatchObject({
    answering: { kind: 'computed', from: 'prophylaxis' },
    mayNotApply: true,
  });
  expect(steps.get('first-count')?.answering).toEqual({ kind: 'computed', from: 'first-count' });
  expect(steps.get('faecoliths')?.answering).toEqual({
    kind: 'number',
    opens: { line: 'faecolith', site: 'abdomen', from: 'imaging' },
  });
});

test("the last look asks the surgeon's questions, and what must hold stops", () => {
  const look = sheet.closures[0]?.look ?? [];
  expect(look.map(({ id }) => id)).toEqual([
    'stump',
    'valve',
    'mesoappendix',
    'collections',
    'organs',
    'faecoliths-accounted',
    'nothing-seen-left',
    'drain-said',
    'anything-not-said',
  ]);
  const stopping = look.filter(({ stopOn }) => stopOn.length > 0).map(({ id }) => id);
  expect(stopping).toEqual([
    'stump',
    'valve',
    'mesoappendix',
    'organs',
    'faecoliths-accounted',
    'nothing-seen-left',
    'anything-not-said',
  ]);
});
