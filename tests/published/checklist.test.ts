import { expect, test } from 'vitest';
import { bloodLossLimitMl } from '#engine/applies.ts';
import { exceptionsOf } from '#engine/closures/verdictOf.ts';
import type { Checkpoint, Sheet } from '#engine/sheet.ts';
import type { Patient } from '#engine/state.ts';
import { adult, appendicectomy, parsedWith, sheetWith, toIncision, told } from './theatre.ts';

/** A sheet that takes the three checkpoints whole from the shared steps. */
const plain = sheetWith({});

function checkpoint(sheet: Sheet, id: string): Checkpoint {
  const found = sheet.checkpoints.find((one) => one.id === id);
  if (!found) throw new Error(`${sheet.id} has no ${id}`);
  return found;
}

/** Items of the WHO list in the order of their steps, each once: item 7 has a second step for when it is flagged. */
const items = (sheet: Sheet, id: string): readonly number[] => [
  ...new Set(checkpoint(sheet, id).steps.flatMap(({ whoItem }) => whoItem ?? [])),
];

// WHO Surgical Safety Checklist, 1st ed. 2008, printed form of January 2009: seven before
// anaesthesia, seven before incision (Gawande, The Checklist Manifesto, ch. 7), nineteen in all
// (Haynes 2009, NEJM 360:491), so five before the patient leaves.
test('CV-01: sign in asks items 1 to 7, time out 8 to 14 and sign out 15 to 19, in order', () => {
  for (const sheet of [appendicectomy, plain]) {
    const phases = ['sign-in', 'time-out', 'sign-out'].map((id) => items(sheet, id));
    expect(phases).toEqual([
      [1, 2, 3, 4, 5, 6, 7],
      [8, 9, 10, 11, 12, 13, 14],
      [15, 16, 17, 18, 19],
    ]);
    expect(phases.map(({ length }) => length)).toEqual([7, 7, 5]);
    expect(phases.flat()).toHaveLength(19);
  }
});

// WHO checklist 2009, the three headings; who must be there: the same (Implementation Manual 2008,
// from memory).
test('the three phases come before anaesthesia, before incision and before leaving, with whom WHO wants', () => {
  const phases = appendicectomy.checkpoints.map(({ id, before, present }) => [id, before, present]);
  expect(phases).toEqual([
    ['sign-in', 'anaesthesia', ['circulator', 'anaesthetist']],
    ['time-out', 'incision', ['scrub', 'circulator', 'surgeon', 'anaesthetist']],
    ['sign-out', 'leaving', ['scrub', 'circulator', 'surgeon', 'anaesthetist']],
  ]);
});

// WHO Implementation Manual 2008 (who answers; from memory). Items 15 to 18 are asked of whom this
// list names here.
test('each item of the list is answered by whom the manual says', () => {
  const answering = appendicectomy.checkpoints.flatMap(({ steps }) =>
    steps.flatMap(({ whoItem, who }) => (whoItem === undefined ? [] : [`${whoItem} ${who}`])),
  );
  expect([...new Set(answering)]).toEqual([
    ...['1 patient', '2 circulator', '3 anaesthetist', '4 anaesthetist', '5 anaesthetist'],
    ...['6 anaesthetist', '7 anaesthetist', '8 everyone', '9 everyone', '10 anaesthetist'],
    ...['11 surgeon', '12 anaesthetist', '13 scrub', '14 surgeon'],
    ...['15 surgeon', '16 scrub', '17 circulator', '18 scrub', '19 everyone'],
  ]);
});

// WHO checklist 2009, the answers of the printed form (from memory): items 2, 10 and 14 have "not
// applicable". Item 16 has it too, where no count is required; every sheet here has counts, so it
// is not offered.
test('only items 2, 10 and 14 can be not applicable', () => {
  const steps = plain.checkpoints.flatMap((one) => one.steps);
  const optional = steps.filter(({ mayNotApply }) => mayNotApply).map(({ whoItem }) => whoItem);
  expect(optional).toEqual([2, 10, 14]);
});

// WHO checklist 2009, item 6: "Yes, and equipment and assistance available" (from memory).
test('CV-02: a difficult airway without equipment and help does not let sign in finish', () => {
  told({
    steps: `
- checkpoint: { id: sign-in, answers: { airway: "yes" } }
  refused: not-an-answer
- checkpoint: { id: sign-in, answers: { airway: expected-not-ready } }
  refused: answer-stops
- expect: { checkpoint: { sign-in: not-begun } }
- checkpoint: { id: sign-in, answers: { airway: expected-ready } }
- expect: { checkpoint: { sign-in: finished } }`,
  });
});

const child: Patient = { ...adult, born: '2018-06-01' };
const limit = (patient: Patient) =>
  bloodLossLimitMl(patient, appendicectomy.policy, '2026-01-05T08:00:00+00:00');

/** Sign in with this expected loss cannot finish before access and fluids are answered. */
const isFlagged = (ml: number) => `
- checkpoint: { id: sign-in, answers: { blood-loss: ${ml}, blood-loss-ready: } }
  refused: steps-open
- checkpoint: { id: sign-in, answers: { blood-loss: ${ml}, blood-loss-ready: "yes" } }
- expect: { checkpoint: { sign-in: finished } }`;

/** With this one the question is not even asked. */
const isNotFlagged = (ml: number) => `
- checkpoint: { id: sign-in, answers: { blood-loss: ${ml}, blood-loss-ready: "yes" } }
  refused: unknown-step
- checkpoint: { id: sign-in, answers: { blood-loss: ${ml} } }
- expect: { checkpoint: { sign-in: finished } }`;

// WHO checklist 2009, item 7: more than 7 mL/kg in a child.
test('CV-03: in a child of 20 kg a loss of 150 mL is over the 140 mL of item 7', () => {
  const patient = { ...child, weightKg: 20 };
  expect(limit(patient)).toBe(140);
  told({ patient, steps: isFlagged(150) });
});

// WHO checklist 2009, item 7: more than 7 mL/kg, so 7 mL/kg exactly is not.
test('CV-04: in a child of 15 kg a loss of 105 mL is not over 105 mL', () => {
  const patient = { ...child, weightKg: 15 };
  expect(limit(patient)).toBe(105);
  told({ patient, steps: isNotFlagged(105) });
});

// WHO checklist 2009, item 7: more than 500 mL.
test('CV-05: in an adult 500 mL is not over the limit and 501 mL is', () => {
  told({ steps: isNotFlagged(500) });
  told({ steps: isFlagged(501) });
});

// WHO checklist 2009, the answers of the printed form (from memory).
test('CV-06: the site mark can be not applicable, the identity cannot', () => {
  told({
    steps: `
- checkpoint: { id: sign-in, notApplicable: { identity: unconscious } }
  refused: always-applies
- checkpoint: { id: sign-in, notApplicable: { site-marked: single organ } }
- expect: { checkpoint: { sign-in: finished } }`,
  });
});

// WHO Implementation Manual 2008, item 4 and the rule that what was not done stays unticked (from
// memory).
test('CV-07: an item left open needs a name and a reason, and is never ticked', () => {
  const current = told({
    steps: `
- checkpoint: { id: sign-in, answers: { oximeter: } }
  refused: steps-open
- checkpoint: { id: sign-in, open: { oximeter: { name: anaesthetist } } }
  refused: reason-missing
- checkpoint: { id: sign-in, open: { oximeter: { reason: "emergency, no oximeter" } } }
  refused: name-missing
- checkpoint:
    id: sign-in
    open: { oximeter: { name: anaesthetist, reason: "emergency, no oximeter" } }
- expect: { checkpoint: { sign-in: finished } }`,
  });
  expect(current.checkpoints['sign-in']?.answers.oximeter).toMatchObject({
    kind: 'open',
    name: 'Probe',
    reason: 'emergency, no oximeter',
  });
  expect(exceptionsOf(current)).toEqual([
    { weighs: 'record', sentence: 'oximeter was left open by Probe: emergency, no oximeter' },
  ]);
});

/** A time out of the eight shared steps and so many more. */
const longer = (more: number): string =>
  [
    ...['introductions', 'patient-procedure', 'antibiotic', 'critical-steps'],
    ...['anaesthetist-worries', 'sterility', 'imaging', 'first-count'],
  ]
    .map((id) => `      ${id}: shared`)
    .concat(
      Array.from(
        { length: more },
        (_, n) => `      more-${n}: { who: surgeon, ask: Yes?, short: Yes, source: made up }`,
      ),
    )
    .join('\n');

// WHO Implementation Manual 2008, chapter on modifying the list: five to nine items a phase (from
// memory); "fewer than ten" in Gawande's checklist for checklists.
test('CV-08: a time out of ten steps warns its author, one of nine does not', () => {
  const said = (more: number): readonly string[] => {
    const parsed = parsedWith({ timeOut: `    steps:\n${longer(more)}` });
    expect(parsed.ok).toBe(true);
    return (parsed.ok ? parsed.warnings : [])
      .filter(({ field }) => field.startsWith('checkpoints'))
      .map(({ message }) => message.replace(/^.*checkpoints/, 'checkpoints'));
  };
  expect(said(2)).toEqual([
    'checkpoints.time-out can ask 10 steps at once, and more than 9 are skipped.',
  ]);
  expect(said(1)).toEqual([]);
});

// WHO Implementation Manual 2008, chapter on modifying the list: removing is strongly discouraged
// (from memory).
test('CV-09: a sheet without item 16 needs a reason and an approver', () => {
  const signOut = `    steps:
      procedure-done: shared
      specimens: shared
      left-inside: shared
      equipment: shared
      recovery: shared`;
  const said = (changes?: string): readonly string[] => {
    const parsed = parsedWith({ signOut, ...(changes === undefined ? {} : { changes }) });
    return parsed.ok ? [] : parsed.issues.map(({ message }) => message);
  };
  const leftOut = '- who-items: [16]\n  approved-on: 2026-01-05';
  expect(said().join()).toMatch(/item 16/);
  expect(said(`${leftOut}\n  approved-by: Testcase, Ash`).join()).toMatch(/reason/);
  expect(said(`${leftOut}\n  reason: nothing is counted`).join()).toMatch(/approved-by/);
  const approved = `${leftOut}\n  reason: nothing is counted\n  approved-by: Testcase, Ash`;
  expect(said(approved)).toEqual([]);
  expect(sheetWith({ signOut, changes: approved }).changes).toEqual([
    {
      what: 'WHO item 16, counts complete',
      from: 'asked',
      to: 'left out',
      reason: 'nothing is counted',
      approvedBy: 'Testcase, Ash',
      approvedOn: '2026-01-05',
    },
  ]);
});

// Perioperative course text: that there is no specimen is announced as well (secondary source).
test('CV-10: that no specimen was taken has to be said, and is then accepted', () => {
  const current = told({
    steps: `${toIncision}
- count: { moment: closing, found: usual }
- expect: { holds: { abdomen: [specimen-inside, look-open] } }
- specimen: { id: appendix, step: notTaken, by: surgeon }
  refused: reason-missing
- specimen: { id: appendix, step: notTaken, by: surgeon, reason: "normal, left in" }
- look: { closure: abdomen, answers: usual }
- close: { closure: abdomen }
- look: { closure: skin, answers: usual }
- count: { moment: final, found: usual }
- close: { closure: skin }
- checkpoint: { id: sign-out, answers: usual }
- expect: { closure: { sign-out: done } }`,
  });
  expect(current.checkpoints['sign-out']?.computed.specimens).toBe('None taken');
});
