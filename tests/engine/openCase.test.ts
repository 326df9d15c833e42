import { expect, test } from 'vitest';
import { listedOf, yearsOld } from '#engine/applies.ts';
import type { OpenCase } from '#engine/case/events.ts';
import { isBirthDate, openCase } from '#engine/case/open.ts';
import { openedCase } from '#engine/case/opened.ts';
import type { RefusalCode } from '#engine/refusals.ts';
import type { PlannedSpecimen, Sheet } from '#engine/sheet.ts';
import {
  count,
  type Done,
  given,
  givenOn,
  givenOpened,
  incised,
  opening,
} from '../support/given.ts';
import { line, storySheet } from '../support/storySheet.ts';

/** How a case is opened, what it starts with, and what another way of operating changes. */

const now = '2026-01-05T08:00:00+00:00';
const context = { at: now, by: 'Prueba', id: 'open' };
const patientOf = (more: Partial<OpenCase['patient']>): OpenCase => ({
  ...opening,
  patient: { ...opening.patient, ...more },
});
const teamOf = (more: Partial<OpenCase['team']>): OpenCase => ({
  ...opening,
  team: { ...opening.team, ...more },
});
const heavier = { weightKg: 501 };

test.each<readonly [string, RefusalCode, string, OpenCase]>([
  [
    'a variant not known',
    'unknown-variant',
    'open, robot',
    { ...opening, variants: ['open', 'robot'] },
  ],
  ['no weight at all', 'not-a-number', 'weight', patientOf({ weightKg: 0 })],
  ['less than nothing', 'not-a-number', 'weight', patientOf({ weightKg: -1 })],
  ['more than anybody weighs', 'not-a-number', 'weight', patientOf(heavier)],
  ['a weight that is no number', 'not-a-number', 'weight', patientOf({ weightKg: Number.NaN })],
  ['a day that is none', 'not-a-time', 'born', patientOf({ born: '1970-02-30' })],
  ['a patient without a name', 'name-missing', 'name', patientOf({ name: ' ' })],
  ['a patient without a number', 'name-missing', 'number', patientOf({ number: ' ' })],
  ['no scrub', 'name-missing', 'scrub', teamOf({ scrub: '' })],
  ['no circulator', 'name-missing', 'circulator', teamOf({ circulator: ' ' })],
  ['no surgeon', 'name-missing', 'surgeon', teamOf({ surgeon: '' })],
  ['no anaesthetist', 'name-missing', 'anaesthetist', teamOf({ anaesthetist: '' })],
  [
    'one name in both counting roles',
    'same-person',
    'testa',
    teamOf({ scrub: 'testa', circulator: 'Testa' }),
  ],
])('[C1] a case is not opened with %s', (_, code, detail, command) => {
  const decision = openCase(command, context);
  expect(decision).toMatchObject({ ok: false, refusal: { code, detail } });
});

const converting: Sheet = {
  ...storySheet,
  variants: storySheet.variants.map((one) =>
    one.id === 'open' ? { ...one, choose: 'mid-case' } : one,
  ),
};

test('[X12] a conversion does not open a case', () => {
  const decision = openCase({ ...opening, sheet: converting, variants: ['open'] }, context);
  const name = converting.variants.find(({ id }) => id === 'open')?.name;
  expect(decision).toMatchObject({
    ok: false,
    refusal: { code: 'only-in-mid-case', detail: name },
  });
});

test('[X12] a conversion is chosen in mid-case, and what it opens waits to be counted in', () => {
  const { current } = givenOn(converting, ...incised, { type: 'variant', to: 'open' });
  expect(current.variants).toMatchObject({ approach: 'open' });
  expect(Object.keys(current.counts.uncounted)).toEqual(
    Object.keys(converting.variants.find(({ id }) => id === 'open')?.opens ?? {}),
  );
});

test.each([0.4, 500, undefined])('[C1] a case is opened with a weight of %s kg', (weightKg) => {
  const { weightKg: _, ...bare } = opening.patient;
  const patient = weightKg === undefined ? bare : { ...bare, weightKg };
  expect(openCase({ ...opening, patient }, context).ok).toBe(true);
});

test.each([
  ['2026-01-05', true],
  ['2026-01-06', false],
  ['1880-01-01', true],
  ['1879-12-31', false],
  ['2000-02-29', true],
  ['2024-02-29', true],
  ['1900-02-29', false],
  ['2023-02-29', false],
  ['2023-02-28', true],
  ['2023-04-30', true],
  ['2023-04-31', false],
  ['2023-06-31', false],
  ['2023-09-31', false],
  ['2023-11-31', false],
  ['2023-12-31', true],
  ['2023-01-31', true],
  ['2023-01-32', false],
  ['2023-13-01', false],
  ['2023-00-10', false],
  ['2023-01-00', false],
  ['5 January 1970', false],
  ['x1970-01-31', false],
  ['1970-01-31x', false],
  [['1970-01-31'], false],
  [19700131, false],
  [undefined, false],
])('[C1] on 5 January 2026, %s is a day somebody can be born on: %s', (born, isSo) => {
  expect(isBirthDate(born, now)).toBe(isSo);
});

test('[C1] somebody can be born on the day itself, from its first minute', () => {
  expect(isBirthDate('2026-01-05', '2026-01-05T00:00:00+00:00')).toBe(true);
});

test.each([
  ['2008-03-01', '2026-01-31', 17],
  ['2008-01-31', '2026-02-01', 18],
  ['2008-02-10', '2026-02-09', 17],
  ['2008-02-10', '2026-03-01', 18],
])('[K6] somebody born on %s is on %s of age %d', (born, on, years) => {
  expect(yearsOld(born, on)).toBe(years);
});

const specimen = (id: string, more: Partial<PlannedSpecimen> = {}): PlannedSpecimen => ({
  id,
  letter: 'A',
  name: id,
  site: 'abdomen',
  side: 'left',
  test: 'histology',
  media: ['formalin'],
  bag: true,
  planned: true,
  ...more,
});
const side = (id: string) => ({ id, name: id, group: 'side', opens: {} });
const sheet: Sheet = {
  ...storySheet,
  variants: [...storySheet.variants, side('left'), side('right')],
  specimens: [
    specimen('always'),
    specimen('offered', { planned: false }),
    specimen('in-open', { when: { variant: ['open'] }, siteWords: 'tip of the lump' }),
    specimen('in-keyhole', { when: { variant: ['keyhole'] }, site: 'liver', bag: false }),
    specimen('offered-in-open', { planned: false, when: { variant: ['open'] } }),
  ],
};

test('[X10] a case starts with what the sheet says and nothing done', () => {
  const decision = openCase({ ...opening, sheet, variants: ['right'] }, context);
  const [event] = decision.ok ? decision.events : [];
  expect(event).toStrictEqual({
    ...context,
    type: 'opened',
    caseId: 'story',
    sheet,
    patient: opening.patient,
    team: opening.team,
    variants: { approach: 'keyhole', side: 'right' },
    practice: false,
    entry: 1,
  });
  if (!event) return;
  const { lines, ledger, openedId: _, specimens, ...rest } = openedCase(event);
  expect([...lines.keys()]).toEqual(sheet.lines.map(({ id }) => id));
  expect(ledger.layout.sites).toEqual(['uterus', 'abdomen', 'vagina']);
  expect(specimens).toEqual({
    always: stepped('always', 'Abdomen', true),
    'in-keyhole': { ...stepped('in-keyhole', 'liver', false), site: 'liver' },
  });
  expect(rest).toStrictEqual({
    id: 'story',
    sheet,
    patient: opening.patient,
    practice: false,
    team: opening.team,
    variants: { approach: 'keyhole', side: 'right' },
    startedAt: now,
    entry: 1,
    lastAt: now,
    log: undefined,
    incisionAt: undefined,
    counts: {
      first: 'open',
      running: undefined,
      broken: undefined,
      done: {},
      history: [],
      uncounted: {},
      reliefDue: [],
      reliefs: [],
      isLate: false,
      amendments: [],
      findings: [],
      setAside: [],
      waivers: [],
    },
    agedEntry: 0,
    differing: {},
    settled: [],
    fragments: [],
    left: {},
    missing: [],
    away: [],
    carried: [],
    scanned: [],
    xrays: [],
    deferral: undefined,
    checkpoints: {},
    closures: {},
    looks: {},
    handovers: {},
    doses: [],
    weighed: [],
    fluids: [],
    notes: [],
    finishedAt: undefined,
  });
});

function stepped(id: string, siteWords: string, bagWanted: boolean) {
  const { letter, name, site, side: side_, test: test_, media } = specimen(id);
  return {
    id,
    letter,
    name,
    site,
    siteWords,
    side: side_,
    test: test_,
    media,
    bagWanted,
    stage: 'planned',
  };
}

test('[X10] a practice case is one, and is opened once', () => {
  expect(givenOpened({ ...opening, practice: true }).current.practice).toBe(true);
  const again = openCase({ ...opening, variants: ['open'] }, context);
  expect(again).toMatchObject({ ok: true, events: [{ variants: { approach: 'open' } }] });
});

const toOpen: Done = { type: 'variant', to: 'open' };

test('[X11] another way of operating changes its own group, and what it plans and opens', () => {
  const { current } = givenOn(sheet, ...incised, toOpen);
  expect(current.variants).toEqual({ approach: 'open', side: 'left' });
  expect(Object.keys(current.specimens)).toEqual(['always', 'in-open']);
  expect(current.specimens['in-open']).toMatchObject({
    stage: 'planned',
    siteWords: 'tip of the lump',
  });
  const { entry } = current;
  expect(current.counts.uncounted).toEqual({ 'open-tray': entry, 'large-swab': entry });
  expect(current.agedEntry).toBe(entry);
  expect(current.log).toMatchObject({ type: 'variantChanged', subject: 'open' });
});

test('[X11] back and forth, what was opened twice waits to be counted from the last time', () => {
  const back: Done = { type: 'variant', to: 'keyhole' };
  const { current } = givenOn(sheet, ...incised, toOpen, back);
  expect(Object.keys(current.specimens)).toEqual(['always', 'in-keyhole']);
  expect(Object.keys(current.counts.uncounted)).toEqual(['open-tray', 'large-swab']);
  expect(current.agedEntry).toBe(current.entry - 1); // keyhole opens nothing
});

test('[X11] a specimen that was begun stays, whatever way is chosen', () => {
  const taken: Done = { type: 'specimen', id: 'in-keyhole', step: 'notTaken', reason: 'adherent' };
  const { current } = givenOn(sheet, ...incised, taken, toOpen);
  expect(Object.keys(current.specimens)).toEqual(['always', 'in-keyhole', 'in-open']);
  const back = givenOn(sheet, ...incised, taken, toOpen, { type: 'variant', to: 'keyhole' });
  expect(back.current.specimens['in-keyhole']?.stage).toBe('notTaken');
});

test('[S1] a specimen that was added stays planned, although the way does not foresee it', () => {
  const added: Done = { type: 'specimen', id: 'offered-in-open', step: 'added' };
  const { current } = givenOn(sheet, ...incised, added, { type: 'variant', to: 'right' });
  expect(current.specimens['offered-in-open']?.stage).toBe('planned');
});

test('[L13] before the first count nothing is opened: the first count goes by the new list', () => {
  const early = givenOn(sheet, toOpen);
  expect(early.balance('open-tray', 'table')).toBe(0);
  expect(early.current.counts.uncounted).toEqual({});
  const counted = early.when(count('first')).accepted();
  expect(counted.balance('open-tray', 'table')).toBe(4);
});

test('[C10] a change of the way voids a count that is running', () => {
  const running = given(...incised, { type: 'beginCount', moment: 'closing' });
  const back = running.when(toOpen).accepted().when({ type: 'variant', to: 'keyhole' });
  expect(running.when(toOpen).accepted().current.counts.running).toBeUndefined();
  expect(back.accepted().current.counts.running).toBeUndefined();
  const plain = givenOn(sheet, ...incised, { type: 'beginCount', moment: 'closing' });
  expect(
    plain.when({ type: 'variant', to: 'right' }).accepted().current.counts.running,
  ).toBeUndefined();
});

test('[L13] a change of the way is refused by name', () => {
  given(...incised)
    .when({ type: 'variant', to: 'robot' })
    .refused('unknown-variant', 'robot');
  given(...incised)
    .when({ type: 'variant', to: 'keyhole' })
    .refused('already-done', 'Keyhole');
});

test('[C4] the list of the first count is of the sheet, with what a way opens and does without', () => {
  const port = line('port', { opening: 2 });
  const single = {
    id: 'single',
    name: 'Single',
    group: 'approach',
    opens: { port: 3 },
    without: { port: 1 },
  };
  const on: Sheet = {
    ...sheet,
    lines: [...sheet.lines, port],
    variants: [...sheet.variants, single],
  };
  const listed = (variants: readonly string[]) =>
    listedOf(givenOpened({ ...opening, sheet: on, variants }).current, port);
  expect(listed([])).toBe(2);
  expect(listed(['single'])).toBe(4);
});

test('[X2] a closure of another way is not there', () => {
  const closures = storySheet.closures.map((one) =>
    one.id === 'uterus' ? { ...one, when: { variant: ['open'] } } : one,
  );
  const on: Sheet = { ...sheet, closures };
  givenOn(on, ...incised)
    .when({ type: 'close', closure: 'uterus' })
    .refused('unknown-closure', 'uterus');
  expect(givenOn(on, ...incised).about('abdomen')).not.toContain('closure-order uterus');
  expect(givenOn(on, ...incised, toOpen).about('abdomen')).toContain('closure-order uterus');
});
