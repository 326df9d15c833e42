import { expect, test } from 'vitest';
import type { Sheet } from '../../src/engine/sheet.ts';
import { damaged, said } from './small.ts';

/** A theatre changes a sheet without copying it; who approved it and when goes with the sheet. */
const approved = {
  reason: 'We open one pack',
  approvedBy: 'Testcase, Ash',
  approvedOn: '2026-01-05',
};
const own = '- line: swab\n    set: { opening: 5 }';

function changedTo(change: string): Sheet {
  const parsed = damaged(own, change);
  expect(said(parsed)).toEqual([]);
  if (!parsed.ok) throw new Error('refused');
  return parsed.sheet;
}

const stepOf = (sheet: Sheet, checkpoint: string, step: string) =>
  sheet.checkpoints.find(({ id }) => id === checkpoint)?.steps.find(({ id }) => id === step);

test('an opening quantity is changed, and what it was is kept', () => {
  const sheet = changedTo(own);
  expect(sheet.lines.find(({ id }) => id === 'swab')?.opening).toBe(5);
  expect(sheet.changes).toEqual([
    { what: 'swabs swab: opening', from: '10', to: '5', ...approved },
  ]);
});

test('what is counted together is counted part by part where a theatre says so', () => {
  const { changes } = changedTo('- line: tube\n    set: { together: no }');
  expect(changes.map(({ what, from, to }) => [what, from, to])).toEqual([
    ['things tube: together', 'not said', 'no'],
  ]);
});

test('a pack size and an opening are changed together', () => {
  const sheet = changedTo('- line: swab\n    set: { opening: 21, pack: 1 }');
  expect(sheet.lines.find(({ id }) => id === 'swab')).toMatchObject({ opening: 21, pack: 1 });
  expect(sheet.changes.map(({ what, from, to }) => [what, from, to])).toEqual([
    ['swabs swab: opening', '10', '21'],
    ['swabs swab: pack', '5', '1'],
  ]);
});

test('the words of a shared step are changed for one sheet', () => {
  const sheet = changedTo(
    '- checkpoint: sign-in\n    step: allergy\n    set: { ask: Any allergy?, short: Allergies }',
  );
  expect(stepOf(sheet, 'sign-in', 'allergy')).toMatchObject({
    ask: 'Any allergy?',
    short: 'Allergies',
    whoItem: 5,
  });
  expect(sheet.changes[0]?.from).toBe('Is any allergy known, and which?');
});

test('the words of a last look are changed', () => {
  const sheet = changedTo('- closure: abdomen\n    step: dry\n    set: { ask: Dry? }');
  expect(sheet.closures[0]?.look[0]?.ask).toBe('Dry?');
});

test('a medicine and a policy number are changed', () => {
  const medicine = changedTo('- medicine: cefuroxime\n    set: { window-minutes: 30 }');
  expect(medicine.medicines[0]?.windowMinutes).toBe(30);
  const policy = changedTo('- policy: child-under-years\n    to: 16');
  expect(policy.policy.childUnderYears).toBe(16);
  expect(policy.changes).toEqual([
    { what: 'policy child-under-years', from: '18', to: '16', ...approved },
  ]);
});

test('a dropped WHO item is no mistake once it has a reason and an approver', () => {
  const sheet = changedTo('- checkpoint: time-out\n    step: imaging\n    drop: yes');
  expect(stepOf(sheet, 'time-out', 'imaging')).toBeUndefined();
  expect(sheet.changes).toEqual([
    { what: 'time-out imaging', from: 'asked', to: 'left out', ...approved },
  ]);
});

test('WHO items can be left out by number', () => {
  const parsed = damaged(own, '- who-items: [14]');
  expect(parsed.ok && parsed.sheet.changes).toEqual([
    { what: 'WHO item 14, imaging displayed', from: 'asked', to: 'left out', ...approved },
  ]);
});

test('a step that another depends on cannot be dropped', () => {
  const parsed = damaged(own, '- closure: abdomen\n    step: dry\n    drop: yes');
  expect(said(parsed)).toEqual([
    'In small.yaml, line 92, column 23, closures.abdomen.look.why.when.step names the step "dry", but the steps before it are none.',
  ]);
});

test('a mistake that a change covers is told all the same', () => {
  expect(said(damaged('opening: 10,', 'opening: ten,'))).toHaveLength(1);
});

test('a line is hidden, and what others say of it is then a mistake', () => {
  const sheet = changedTo('- line: reel\n    drop: yes');
  expect(sheet.lines.some(({ id }) => id === 'reel')).toBe(false);
  expect(sheet.changes).toEqual([
    { what: 'things reel', from: 'listed', to: 'left out', ...approved },
  ]);
  expect(said(damaged(own, '- line: port\n    drop: yes'))).toEqual([
    expect.stringContaining('closures.abdomen.in-use.1 names the line "port", but the lines are'),
  ]);
});

test('a line is added to a section, with its class and source', () => {
  const sheet = changedTo(
    '- line: clip\n    section: things\n    new-line: { name: Clip, stay: yes }',
  );
  expect(sheet.lines.at(-1)).toMatchObject({
    id: 'clip',
    section: 'things',
    class: 'small',
    source: 'common practice, no source',
  });
  expect(sheet.changes).toEqual([
    { what: 'things clip', from: 'not there', to: 'Clip', ...approved },
  ]);
});

test('a step is added to a checkpoint and to a last look', () => {
  const step = '{ who: surgeon, ask: Is the drain fixed?, short: Drain fixed, source: ours }';
  const asked = changedTo(`- checkpoint: sign-in\n    step: drain\n    new-step: ${step}`);
  expect(stepOf(asked, 'sign-in', 'drain')?.ask).toBe('Is the drain fixed?');
  const looked = changedTo(`- closure: abdomen\n    step: drain\n    new-step: ${step}`);
  expect(looked.closures[0]?.look.at(-1)?.id).toBe('drain');
});

test.each([
  [
    'a line that is there already',
    '- line: swab\n    section: swabs\n    new-line: { name: Swab }',
    'is said a second time, after the "swab" that the sheet has, but should have a short name of its own.',
  ],
  [
    'a line of a section that is not there',
    '- line: clip\n    section: thing\n    new-line: { name: Clip }',
    'changes "thing", but the sheet has swabs and things; perhaps "things" is meant.',
  ],
  [
    'a line of no section',
    '- line: clip\n    new-line: { name: Clip }',
    'changes.1.section is missing, but should be the section that the new line stands in.',
  ],
  [
    'a line with a misspelt word',
    '- line: clip\n    section: things\n    new-line: { name: Clip, openning: 2 }',
    'perhaps "opening" is meant.',
  ],
])('%s is not added, and it is said why', (_, change, words) => {
  expect(said(damaged(own, change)).join('\n')).toContain(words);
});
