import { describe, expect, test } from 'vitest';
import type { Sheet } from '../../src/engine/sheet.ts';
import { loadSheets } from '../../src/sheets/loadSheets.ts';

/** What is on the table at the first count of open operations, the breast and the bowel (common practice). */
const loaded = loadSheets('checklists');

function sheetNamed(id: string): Sheet {
  const found = loaded.ok ? loaded.sheets.find((one) => one.id === id) : undefined;
  if (found === undefined) throw new Error(`${id} is not among the sheets`);
  return found;
}

/** Every line that the first count asks for, with these variants and the first of each other group. */
function openingOf(sheet: Sheet, variants: readonly string[] = []): Record<string, number> {
  const groups = [...new Set(sheet.variants.map(({ group }) => group))];
  const chosen = groups.flatMap((group) => {
    const ways = sheet.variants.filter((one) => one.group === group);
    return ways.find(({ id }) => variants.includes(id)) ?? ways[0] ?? [];
  });
  const listed = sheet.lines.map(({ id, opening }): [string, number] => [
    id,
    chosen.reduce(
      (sum, { opens, without }) => sum + (opens[id] ?? 0) - (without?.[id] ?? 0),
      opening,
    ),
  ]);
  return Object.fromEntries(listed.filter(([, n]) => n > 0));
}

const staying = (sheet: Sheet): readonly string[] =>
  sheet.lines.filter(({ stay }) => stay.may !== 'no').map(({ id }) => id);

describe('total hip replacement', () => {
  const sheet = sheetNamed('total-hip-replacement');

  test('the first count has 20 swabs, 15 sharps, 4 trials and 162 tray pieces', () => {
    expect(openingOf(sheet)).toEqual({
      'large-swab': 10,
      swab: 10,
      'suture-needle': 6,
      blade: 3,
      'saw-blade': 1,
      'drill-bit': 2,
      'retraction-pin': 3,
      'trial-head': 3,
      'trial-liner': 1,
      'lavage-tip': 1,
      'lavage-shield': 1,
      'diathermy-tip': 1,
      'tip-cleaner': 1,
      'suction-tip': 1,
      'hip-basic-tray': 62,
      'hip-tray-one': 48,
      'hip-tray-two': 52,
    });
  });

  test('with cement there are two mixes, a restrictor and the seals of the pressuriser', () => {
    expect(openingOf(sheet, ['cemented'])).toMatchObject({
      'cement-mix': 2,
      restrictor: 1,
      'pressuriser-seal': 2,
    });
    expect(openingOf(sheet, ['hybrid'])).toMatchObject({ 'cement-mix': 1, 'pressuriser-seal': 1 });
  });

  test('implants and cement stay with their lot numbers, a drain with a reason, nothing else', () => {
    expect(staying(sheet)).toEqual([
      'cup',
      'cup-screw',
      'hole-cap',
      'liner',
      'stem',
      'head',
      'cement-mix',
      'restrictor',
      'centraliser',
      'cable-loop',
      'drain',
    ]);
    const byLot = sheet.lines.filter(
      ({ stay }) => stay.may === 'reason' && stay.needs[0] === 'lot',
    );
    expect(byLot).toHaveLength(10);
  });

  test('the socket is closed before the cup, the joint before reduction, each after its stop', () => {
    expect(sheet.closures.map(({ id, sites, count }) => [id, sites.join(), count])).toEqual([
      ['socket', 'socket', 'cavity'],
      ['reduction', 'joint', 'cavity'],
      ['deep-fascia', 'hip', 'closing'],
      ['skin', 'hip', 'final'],
    ]);
    const stops = sheet.checkpoints.filter(({ id }) => id.startsWith('implants'));
    expect(stops.map(({ before }) => before)).toEqual(['socket', 'reduction']);
  });

  test('no side is taken for granted', () => {
    expect(sheet.variants.find(({ group }) => group === 'side')?.id).toBe('side-not-said');
    const heads = sheet.specimens.filter(({ name }) => name === 'Femoral head');
    expect(heads.map(({ side, when }) => [side, when?.variant])).toEqual([
      ['right', ['right-hip']],
      ['left', ['left-hip']],
    ]);
  });
});

describe('open appendicectomy of a child', () => {
  const sheet = sheetNamed('paediatric-open-appendicectomy');

  test('the first count has 10 swabs and 5 pledgets, 7 sharps, 2 ties and 40 tray pieces', () => {
    expect(openingOf(sheet)).toEqual({
      swab: 10,
      pledget: 5,
      'suture-needle': 4,
      'fine-needle': 1,
      'hypodermic-needle': 1,
      blade: 1,
      strand: 2,
      'diathermy-tip': 1,
      'tip-cleaner': 1,
      'suction-tip': 1,
      'child-tray': 39,
      malleable: 1,
    });
  });

  test('small swabs take the place of the others', () => {
    expect(openingOf(sheet, ['small-swabs'])).toMatchObject({ 'small-swab': 10, pledget: 5 });
    expect(openingOf(sheet, ['small-swabs'])).not.toHaveProperty('swab');
  });

  test('the malleable retractor is followed, and the fine needle is under what a film shows', () => {
    const line = (id: string) => sheet.lines.find((one) => one.id === id);
    expect(line('malleable')).toMatchObject({ tracked: true, stay: { may: 'no' } });
    expect(line('fine-needle')?.sizeMm).toBeLessThan(sheet.policy.filmReliableMm);
  });

  test('only knots stay, and by decision a drain or packing', () => {
    expect(staying(sheet)).toEqual(['tie-knot', 'drain', 'large-swab']);
  });
});

describe('total abdominal hysterectomy', () => {
  const sheet = sheetNamed('total-abdominal-hysterectomy');

  test('the first count has 20 swabs, 3 vaginal items, 10 sharps and 72 tray pieces', () => {
    expect(openingOf(sheet)).toEqual({
      'large-swab': 10,
      swab: 10,
      'prep-swab': 2,
      'ribbon-pack': 1,
      'suture-needle': 8,
      blade: 2,
      'diathermy-tip': 1,
      'suction-tip': 1,
      'tip-cleaner': 1,
      'gyn-tray': 72,
    });
  });

  test('begun by keyhole, the open tray waits: 14 port parts, and what a conversion opens', () => {
    const keyhole = openingOf(sheet, ['keyhole-first']);
    expect(keyhole).not.toHaveProperty('gyn-tray');
    expect(keyhole).not.toHaveProperty('large-swab');
    const ports = Object.entries(keyhole).filter(([id]) => id.startsWith('port-'));
    expect(ports.reduce((sum, [, n]) => sum + n, 0)).toBe(14);
    const converted = sheet.variants.find(({ id }) => id === 'converted');
    expect(converted?.opens).toEqual({ 'gyn-tray': 72, 'large-swab': 10 });
  });

  test('vault, abdomen, and skin with the vagina; where the cervix stays there is no vault', () => {
    expect(sheet.closures.map(({ id, sites, count, when }) => [id, sites, count, when])).toEqual([
      ['vault', ['vault'], 'cavity', { variant: ['total'] }],
      ['abdomen', ['abdomen', 'vault'], 'closing', undefined],
      ['skin', ['abdomen', 'vagina'], 'final', undefined],
    ]);
  });

  test('each tube and ovary has its side, and no case has two with one letter', () => {
    const adnexa = sheet.specimens.filter(({ letter }) => letter === 'B' || letter === 'C');
    expect(adnexa.map(({ id, side }) => [id, side])).toEqual([
      ['right-adnexa', 'right'],
      ['right-tube', 'right'],
      ['left-adnexa', 'left'],
      ['left-tube', 'left'],
    ]);
  });
});

describe('thyroidectomy', () => {
  const sheet = sheetNamed('thyroidectomy');

  test('the first count has 10 swabs, 10 pledgets, 4 needles, 2 blades, 12 clips and 54 tray pieces', () => {
    expect(openingOf(sheet)).toEqual({
      swab: 10,
      pledget: 10,
      'suture-needle': 2,
      'fine-needle': 2,
      blade: 2,
      'metal-clip': 12,
      'clip-cartridge': 2,
      'vessel-loop': 2,
      'nerve-probe': 1,
      'tube-electrode': 1,
      'diathermy-tip': 1,
      'tip-cleaner': 1,
      'suction-tip': 1,
      'neck-tray': 54,
    });
  });

  test('the other side opens a second set of clips and owes the second lobe', () => {
    const other = sheet.variants.find(({ id }) => id === 'other-side');
    expect(other?.opens).toEqual({ 'metal-clip': 6, 'clip-cartridge': 1 });
    const lobes = sheet.specimens.filter(({ when }) => when?.variant?.includes('other-side'));
    expect(lobes.map(({ id, side }) => [id, side])).toEqual([
      ['right-lobe', 'right'],
      ['left-lobe', 'left'],
    ]);
  });

  test('the throat pack does not hold the skin, and has a gate of its own after it', () => {
    expect(sheet.closures.map(({ id, sites, when }) => [id, sites, when?.variant])).toEqual([
      ['strap-muscles', ['neck'], undefined],
      ['skin', ['neck', 'mouth'], ['no-pack']],
      ['skin', ['neck'], ['with-pack']],
      ['mouth', ['mouth'], ['with-pack']],
    ]);
  });
});

describe('wide local excision of breast', () => {
  const sheet = sheetNamed('wide-local-excision-of-breast');

  test('the first count has 10 and 5 swabs, 8 sharps, 12 clips, 3 strands and 46 tray pieces', () => {
    expect(openingOf(sheet)).toEqual({
      swab: 10,
      'medium-swab': 5,
      'suture-needle': 5,
      'hypodermic-needle': 1,
      blade: 2,
      'metal-clip': 12,
      'clip-cartridge': 2,
      'orientation-strand': 3,
      'probe-cover': 1,
      'diathermy-tip': 1,
      'tip-cleaner': 1,
      'suction-tip': 1,
      'breast-tray': 46,
    });
  });

  test('both orders close both cavities before the skin, each after a count of its own', () => {
    const order = (chosen: string) =>
      sheet.closures
        .filter(({ when }) => when?.variant?.includes(chosen) ?? true)
        .map(({ id, count }) => `${id} ${count}`);
    expect(order('axilla-first')).toEqual(['axilla closing', 'breast closing', 'skin final']);
    expect(order('breast-first')).toEqual(['breast closing', 'axilla closing', 'skin final']);
    const [axilla, , after] = sheet.closures;
    expect(after?.look).toEqual(axilla?.look);
  });

  test('every specimen says its side, and none is planned while no side is chosen', () => {
    expect(sheet.variants[0]?.id).toBe('side-not-said');
    for (const { id, side, when } of sheet.specimens) {
      expect(when?.variant).toEqual([`${side}-breast`]);
      expect(id.endsWith(`-${side}`)).toBe(true);
    }
    expect(sheet.specimens).toHaveLength(14);
  });

  test('wire and seed start inside by what is said at time out', () => {
    const opened = sheet.checkpoints
      .flatMap(({ steps }) => steps)
      .flatMap(({ answering }) => (answering.kind === 'number' && answering.opens) || []);
    expect(opened.map(({ line, site }) => `${line} ${site}`)).toEqual([
      'wire breast',
      'seed breast',
    ]);
  });
});

describe('laparoscopic sigmoid colectomy', () => {
  const sheet = sheetNamed('laparoscopic-sigmoid-colectomy');
  const sum = (prefix: string, variants: readonly string[] = []): number =>
    Object.entries(openingOf(sheet, variants))
      .filter(([id]) => id.startsWith(prefix))
      .reduce((pieces, [, n]) => pieces + n, 0);

  test('the first count has 18 port parts, 94 tray pieces and a telescope', () => {
    expect(sum('port-')).toBe(18);
    expect(['lap-tray', 'long-tray', 'minor-tray', 'telescope'].map((id) => sum(id))).toEqual([
      44, 12, 38, 1,
    ]);
    expect(sum('laparotomy-tray')).toBe(0);
  });

  test('6 clips of one kind, 2 reloads with their shims, and the three parts of the circular stapler', () => {
    expect([sum('polymer-clip'), sum('metal-clip'), sum('clip-cartridge')]).toEqual([6, 0, 1]);
    expect([sum('polymer-clip', ['metal-clips']), sum('metal-clip', ['metal-clips'])]).toEqual([
      0, 6,
    ]);
    expect([sum('staple-reload'), sum('reload-shim'), sum('circular-')]).toEqual([2, 2, 3]);
  });

  test('15 swabs, 6 needles, a needle for injection, 2 blades, a protector with its cap and a tape', () => {
    expect([sum('swab'), sum('medium-swab'), sum('suture-needle')]).toEqual([10, 5, 6]);
    expect([sum('hypodermic-needle'), sum('blade')]).toEqual([1, 2]);
    expect([sum('wound-protector'), sum('protector-cap'), sum('bowel-tape')]).toEqual([1, 1, 1]);
  });

  test('in the wall may be 11 port parts, once the anvil is out', () => {
    const ports = sheet.closures.find(({ id }) => id === 'abdomen')?.inUse ?? [];
    const inWall = ports.reduce((pieces, line) => pieces + sum(line), 0);
    expect(inWall).toBe(11);
    expect(ports).not.toContain('circular-anvil');
    const before = sheet.closures.filter(({ inUse }) => inUse.includes('circular-anvil'));
    expect(before.map(({ id }) => id)).toEqual(['bowel', 'extraction']);
  });

  test('what the second team and urology put in is closed last, and only stents, rod and drain may stay', () => {
    expect(sheet.closures.at(-1)?.sites).toEqual(['abdomen', 'extraction', 'rectum', 'ureters']);
    const reasons = sheet.lines.filter(({ stay }) => stay.may === 'reason').map(({ id }) => id);
    expect(reasons).toEqual([
      'stoma-rod',
      'ureter-stent',
      'drain',
      'haemostatic-sheet',
      'large-swab',
    ]);
  });
});
