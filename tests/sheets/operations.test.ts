import { describe, expect, test } from 'vitest';
import type { Line, Sheet } from '#engine/sheet.ts';
import { sheetNamed } from '../support/drillSheets.ts';

/** What a theatre would ask of these operations on the day: what is opened, what may stay, what holds, in numbers. */
const lineOf = (sheet: Sheet, id: string): Line => {
  const found = sheet.lines.find((line) => line.id === id);
  if (found === undefined) throw new Error(`${sheet.id} has no line ${id}`);
  return found;
};

/** Pieces at the first count with these variants, over all lines whose short name begins so. */
function opened(sheet: Sheet, begins: string, ...variants: readonly string[]): number {
  const chosen = sheet.variants.filter(({ id }) => variants.includes(id));
  return sheet.lines
    .filter(({ id }) => id.startsWith(begins))
    .reduce((sum, { id, opening }) => {
      const more = chosen.map(({ opens, without }) => (opens[id] ?? 0) - (without?.[id] ?? 0));
      return sum + opening + more.reduce((one, other) => one + other, 0);
    }, 0);
}

const staying = (sheet: Sheet) =>
  sheet.lines.flatMap(({ id, stay }) =>
    stay.may === 'no' ? [] : [stay.may === 'yes' ? id : `${id}: ${stay.needs.join(', ')}`],
  );

const closuresOf = (sheet: Sheet) =>
  sheet.closures.map(({ id, sites, count, when }) => [id, sites, count, when?.variant ?? []]);

const lookOf = (sheet: Sheet, closure: string) =>
  sheet.closures.find(({ id }) => id === closure)?.look ?? [];

describe('laparoscopic cholecystectomy', () => {
  const sheet = sheetNamed('laparoscopic-cholecystectomy');

  test('the first count has 15 port parts, of which 9 sit in the wall, 12 clips and 2 cartridges', () => {
    expect(opened(sheet, 'port-')).toBe(15);
    const inWall = sheet.closures[0]?.inUse ?? [];
    expect(inWall.reduce((sum, id) => sum + opened(sheet, id), 0)).toBe(9);
    expect(opened(sheet, 'metal-clip', 'metal-clips')).toBe(12);
    expect(opened(sheet, 'clip-cartridge', 'metal-clips')).toBe(2);
    expect(opened(sheet, 'retrieval-')).toBe(3);
    expect(opened(sheet, 'lap-tray') + opened(sheet, 'clip-applicator', 'metal-clips')).toBe(45);
  });

  test('an applier comes with the 20 clips that its counter says, and each may stay', () => {
    expect(lineOf(sheet, 'clip-applier').brings).toEqual([{ line: 'applier-clip', n: 20 }]);
    expect(opened(sheet, 'applier-clip', 'clip-applier-20')).toBe(20);
    expect(lineOf(sheet, 'applier-clip')).toMatchObject({ counted: true, stay: { may: 'yes' } });
  });

  test('a conversion opens the tray of 78 pieces, ten large swabs and eight needles', () => {
    const [tray, large, needles] = ['laparotomy-tray', 'large-swab', 'suture-needle'];
    expect([tray, large, needles].map((id = '') => opened(sheet, id, 'open'))).toEqual([
      78, 10, 10,
    ]);
  });

  test('a spilled stone may not stay unsaid, a sheet and a tube say why and where', () => {
    expect(staying(sheet)).toEqual([
      'metal-clip',
      'polymer-clip',
      'applier-clip',
      'loop-ligature',
      'tie-knot',
      'duct-tube: reason, where',
      'drain: reason, where',
      'haemostatic-sheet: reason, where',
      'duct-stone: reason, where',
      'large-swab: reason, where',
    ]);
    expect(lineOf(sheet, 'gallstone')).toMatchObject({ startsIn: 'seen', counted: false });
  });

  test('the pause before clipping does not end with "not yet"', () => {
    const pause = sheet.checkpoints.find(({ id }) => id === 'before-clipping');
    expect(pause).toMatchObject({ before: 'abdomen', leader: 'surgeon' });
    expect(pause?.steps[0]?.stopOn).toEqual(['not-yet']);
  });
});

describe('diagnostic laparoscopy', () => {
  const sheet = sheetNamed('diagnostic-laparoscopy');

  test('the first count has 5 swabs and 7 port parts; with the vagina prepared 2 swabs and 6 pieces more', () => {
    expect([opened(sheet, 'swab'), opened(sheet, 'port-')]).toEqual([5, 7]);
    const [prep, parts] = ['prep-swab', 'manipulator-'].map((id) =>
      opened(sheet, id, 'gynaecological'),
    );
    expect([prep, parts, opened(sheet, 'prep-swab')]).toEqual([2, 4, 0]);
    expect(opened(sheet, 'cervix-forceps', 'gynaecological')).toBe(1);
    expect(opened(sheet, 'speculum', 'gynaecological')).toBe(1);
  });

  test('the vagina is open before the incision and closed last, with nothing in use', () => {
    expect(sheet.sites.find(({ id }) => id === 'vagina')?.kind).toBe('orifice');
    const last = sheet.closures.filter(({ sites }) => sites.includes('vagina'));
    expect(last.map(({ id, count, inUse }) => [id, count, inUse])).toEqual([
      ['skin', 'final', []],
      ['skin', 'final', []],
    ]);
  });

  test('every specimen has a letter of its own, and fluid for culture never goes into formalin', () => {
    expect(sheet.specimens.map(({ letter }) => letter).join('')).toBe('ABCDEFGH');
    const [cytology, culture] = sheet.specimens;
    expect([...(cytology?.media ?? []), ...(culture?.media ?? [])]).not.toContain('formalin');
    expect(sheet.specimens.every(({ planned }) => !planned)).toBe(true);
  });
});

describe('open inguinal hernia repair', () => {
  const sheet = sheetNamed('open-inguinal-hernia-repair');

  test('the first count has 10 swabs, 5 pledgets, 5 needles to sew with, 1 mesh, 1 tape, 38 pieces of tray', () => {
    const needles = ['mesh-needle', 'suture-needle', 'skin-needle'];
    expect(needles.map((id) => opened(sheet, id))).toEqual([2, 2, 1]);
    const others = ['swab', 'pledget', 'mesh', 'cord-tape', 'minor-tray'];
    // "mesh" is also the beginning of the two needles and of the off-cut.
    expect(others.map((id) => opened(sheet, id))).toEqual([10, 5, 3, 1, 38]);
  });

  test('mesh and plug stay only with their lot number, and their off-cuts do not', () => {
    expect(['mesh', 'plug'].map((id) => lineOf(sheet, id).stay)).toEqual([
      { may: 'reason', needs: ['lot'] },
      { may: 'reason', needs: ['lot'] },
    ]);
    expect(lineOf(sheet, 'mesh-off-cut').stay).toEqual({ may: 'no' });
    expect(
      ['mesh', 'plug', 'mesh-off-cut', 'cord-tape'].map((id) => lineOf(sheet, id).film),
    ).toEqual(['no', 'no', 'no', 'no']);
  });

  test('no side is taken for granted, and questions and labels have the side of the case', () => {
    const sides = sheet.variants.filter(({ group }) => group === 'side').map(({ id }) => id);
    expect(sides).toEqual(['side-not-said', 'right-groin', 'left-groin']);
    for (const checkpoint of ['sign-in', 'time-out']) {
      const steps = sheet.checkpoints.find(({ id }) => id === checkpoint)?.steps ?? [];
      const sided = steps.flatMap(({ when }) => when?.variant ?? []);
      expect(sided).toEqual(sides);
    }
    const labels = sheet.specimens.filter(({ when }) => when?.variant?.[0] !== 'bowel-resected');
    for (const { side, when } of labels.filter((one) => one.when))
      expect(when?.variant).toEqual([`${side}-groin`]);
  });

  test('the canal is counted before it is closed; with bowel taken out the abdomen before it', () => {
    expect(closuresOf(sheet)).toEqual([
      ['peritoneum', ['abdomen'], 'cavity', ['bowel-resected']],
      ['external-oblique', ['groin', 'abdomen'], 'closing', []],
      ['skin', ['groin'], 'final', []],
    ]);
  });
});

describe('emergency laparotomy', () => {
  const sheet = sheetNamed('emergency-laparotomy');

  test('the tray has 78 pieces and two wing nuts, all counted, malleable retractors followed', () => {
    const tray = sheet.lines.filter(({ section }) => section === 'laparotomy-tray');
    expect(tray.reduce((sum, { opening }) => sum + opening, 0)).toBe(80);
    expect(tray.filter(({ tracked }) => tracked).map(({ id }) => id)).toEqual([
      'malleable-retractor',
      'frame-nut',
    ]);
  });

  test('the first count has 10 and 10 swabs, 5 pledgets, 6 needles, 2 blades, 2 reloads with shims', () => {
    const lines = ['large-swab', 'swab', 'pledget', 'suture-needle', 'blade', 'staple-reload'];
    expect(lines.map((id) => opened(sheet, id))).toEqual([10, 10, 5, 6, 2, 2]);
    expect(opened(sheet, 'reload-shim')).toBe(2);
    expect(opened(sheet, 'suction-')).toBe(2);
    expect(opened(sheet, 'circular-', 'joined-circular')).toBe(3);
  });

  test('packs of an earlier operation are asked by number and are a line of their own', () => {
    expect(lineOf(sheet, 'carried-swab')).toMatchObject({
      startsIn: 'earlier-operation',
      counted: true,
    });
    const timeOut = sheet.checkpoints.find(({ id }) => id === 'time-out');
    expect(timeOut?.steps.find(({ id }) => id === 'packs-inside')?.answering).toEqual({
      kind: 'number',
      opens: { line: 'carried-swab', site: 'abdomen', from: 'earlier-operation' },
    });
  });

  test('bowel is closed before the abdomen; what is closed for now is the last closure', () => {
    const joined = ['joined-by-hand', 'joined-linear', 'joined-circular'];
    expect(closuresOf(sheet)).toEqual([
      ['bowel', ['bowel'], 'cavity', joined],
      ['abdomen', ['abdomen', 'bowel'], 'closing', ['for-good']],
      ['temporary', ['abdomen', 'bowel'], 'final', ['for-now']],
      ['skin', ['abdomen'], 'final', ['for-good']],
    ]);
  });
});

describe('caesarean section', () => {
  const sheet = sheetNamed('caesarean-section');

  test('a section opens 42 pieces of tray, 5 and 10 swabs, 4 needles; so it does after a trial', () => {
    const lines = ['caesarean-tray', 'large-swab', 'swab', 'suture-needle', 'blade', 'cord-clamp'];
    for (const way of ['section', 'section-after-trial'])
      expect(lines.map((id) => opened(sheet, id, way))).toEqual([42, 5, 10, 4, 2, 1]);
    expect(
      ['trial-swab', 'forceps-blade', 'cup'].map((id) => opened(sheet, id, 'vaginal-trial')),
    ).toEqual([5, 2, 1]);
    expect(opened(sheet, 'gyn-tray', 'uterus-removed')).toBe(72);
    expect(opened(sheet, 'gyn-tray', 'removal-planned')).toBe(72);
  });

  test('uterus or vault, abdomen, then skin with the vagina; a trial closes everything at once', () => {
    const cut = ['section', 'section-after-trial', 'uterus-removed', 'removal-planned'];
    expect(closuresOf(sheet)).toEqual([
      ['uterus', ['uterus'], 'cavity', cut.slice(0, 2)],
      ['vault', ['uterus'], 'cavity', cut.slice(2)],
      ['abdomen', ['abdomen'], 'closing', cut],
      ['skin', ['abdomen', 'vagina'], 'final', cut],
      ['birth', ['vagina', 'uterus', 'abdomen'], 'final', ['vaginal-trial']],
    ]);
  });

  test('the midwife is asked what labour left inside, and each number opens its line in the vagina', () => {
    const steps = sheet.checkpoints.find(({ id }) => id === 'from-labour')?.steps ?? [];
    const opening = steps.filter(({ answering }) => 'opens' in answering);
    expect(opening.map(({ who, answering }) => [who, answering])).toEqual(
      ['labour-swab', 'scalp-electrode'].map((line) => [
        'midwife',
        { kind: 'number', opens: { line, site: 'vagina', from: 'earlier-operation' } },
      ]),
    );
  });

  test('each size of protector is a line that no X-ray shows, and a doubt about rings or placenta stops', () => {
    const sizes = ['protector-medium', 'protector-large'].map((id) => lineOf(sheet, id));
    expect(sizes.map(({ film, tracked, stay }) => [film, tracked, stay.may])).toEqual([
      ['no', true, 'no'],
      ['no', true, 'no'],
    ]);
    const stops = [...lookOf(sheet, 'abdomen'), ...lookOf(sheet, 'skin')];
    expect(stops.find(({ id }) => id === 'protectors-out')?.stopOn).toEqual(['not-seen']);
    expect(stops.find(({ id }) => id === 'placenta-whole')?.stopOn).toEqual(['doubt']);
  });
});
