import { expect, test } from 'vitest';
import { drillsOf } from '#drill/drillFile.ts';
import { type DrillOutcome, runDrill } from '#drill/runDrill.ts';
import { sheets } from '../support/drillSheets.ts';

const opened = `
drill: one
sheet: ports-and-swabs
steps:
  - checkpoint: { id: sign-in, answers: usual }
  - count: { moment: first, found: usual }
  - checkpoint: { id: time-out, answers: usual }
  - incision: {}
`;

function outcomeOf(text: string): DrillOutcome {
  const read = drillsOf(text, sheets);
  if (!read.ok) throw new Error(JSON.stringify(read.issues));
  const [ready] = read.drills;
  if (!ready) throw new Error('there is no drill');
  return runDrill(ready.drill, ready.sheet);
}

const failuresOf = (steps: string): readonly string[] =>
  outcomeOf(opened + steps).failures.map(({ sentence }) => sentence);

test('a drill in which all goes as it says passes', () => {
  expect(failuresOf('  - expect: { balance: { swab: { table: 5 } } }\n')).toEqual([]);
});

test.each([
  ['move: { line: swab, from: table, to: patient, n: 6 }', /^move was refused with not-enough/],
  [
    'move: { line: swab, from: table, to: off, n: 1 }\n    refused: held',
    /^move was accepted, where held/,
  ],
  [
    'move: { line: swab, from: table, to: off, n: 6 }\n    refused: held',
    /refused with not-enough .* Expected was held/,
  ],
  [
    'count: { moment: closing, except: { swab: { field: -1 } } }',
    /^count \(enter\) was refused with not-a-count/,
  ],
  [
    'add: { line: swab, packs: [5] }\n    warned: pack-set-aside',
    /^add was not warned of: pack-set-aside/,
  ],
  ['expect: { balance: { swab: { table: 4 } } }', /^swab at table is 5, where 4/],
  ['expect: { balance: { swab: { shelf: 0 } } }', /^there is no place shelf/],
  ['expect: { balance: { mop: { table: 0 } } }', /^there is no line mop/],
  ['expect: { inside: { abdomen: { swab: 1 } } }', /^swab in abdomen is 0, where 1/],
  ['expect: { inside: { knee: {} } }', /^there is no site knee/],
  ['expect: { introduced: { swab: 6 } }', /^introduced of swab is 5, where 6/],
  ['expect: { difference: { swab: 1 } }', /^difference of swab is 0, where 1/],
  ['expect: { difference: { loop: 0 } }', /^loop was not counted yet/],
  ['expect: { closure: { abdomen: clear } }', /^abdomen is held, where clear/],
  ['expect: { closure: { chest: clear } }', /^there is no closure chest/],
  ['expect: { holds: { abdomen: [] } }', /^holds of abdomen is \[.*count-due.*\], where \[\]/],
  ['expect: { holds: { abdomen: [count-due] } }', /^holds of abdomen is/],
  ['expect: { verdict: reconciled }', /^the verdict is open, where reconciled/],
  ['expect: { loss: { total: 1 } }', /^loss total is 0, where 1/],
  ['expect: { specimen: { appendix: taken } }', /^specimen appendix is planned, where taken/],
  ['expect: { checkpoint: { time-out: begun } }', /^checkpoint time-out is finished, where begun/],
  ['expect: { entries: 1 }', /^the number of entries is \d+, where 1/],
])('%s fails', (step, expected) => {
  const failures = failuresOf(`  - ${step}\n`);
  expect(failures).toHaveLength(1);
  expect(failures[0]).toMatch(expected);
});

test('the first step that fails ends the drill and is named by its place', () => {
  const { failures } = outcomeOf(`${opened}  - finish: {}\n  - finish: {}\n`);
  expect(failures).toHaveLength(1);
  expect(failures[0]?.path).toEqual(['steps', 4]);
});

test('a count of which one line is refused leaves nothing behind', () => {
  const steps = `
  - expect: { entries: 30 }
  - count: { moment: closing, except: { swab: { field: 1000 } } }
    refused: not-a-count
  - expect: { entries: 30 }
  - agree: {}
    refused: no-count
`;
  const entries = outcomeOf(opened).current?.entry ?? 0;
  expect(failuresOf(steps.replaceAll('30', String(entries)))).toEqual([]);
});

test('the same id twice is recorded once, a whole count too', () => {
  const steps = `
  - add: { line: swab, packs: [5] }
    id: tap
  - add: { line: swab, packs: [5] }
    id: tap
  - expect: { introduced: { swab: 10 } }
  - count: { moment: closing }
    id: pass
  - count: { moment: closing }
    id: pass
`;
  const outcome = outcomeOf(opened + steps);
  expect(outcome.failures).toEqual([]);
  expect(outcome.current?.counts.history).toHaveLength(2);
});

test('waiting moves the clock, at: sets it, and it may go back', () => {
  const steps = `
  - wait: { minutes: 90 }
  - note: { text: later }
  - note: { text: earlier }
    at: "08:30"
  - note: { text: another day }
    at: "2026-01-06T07:00:00+01:00"
`;
  const { current } = outcomeOf(opened + steps);
  expect(current?.notes.map((note) => note.at)).toEqual([
    '2026-01-05T09:30:00+00:00',
    '2026-01-05T08:30:00+00:00',
    '2026-01-06T07:00:00+01:00',
  ]);
});

test('an actor is the person now in the role, or the one named', () => {
  const steps = `
  - note: { text: one }
  - relief: { role: circulator, to: Nuovo }
  - note: { text: two }
  - note: { text: three }
    actor: surgeon
  - note: { text: four }
    actor: Somebody
`;
  const { current } = outcomeOf(opened + steps);
  expect(current?.notes.map((note) => note.by)).toEqual(['Prueba', 'Nuovo', 'Ensayo', 'Somebody']);
});

test('opening can be expected to be refused', () => {
  const team = 'team: { scrub: One, circulator: one, surgeon: S, anaesthetist: A }\n';
  const drill = `drill: one\nsheet: ports-and-swabs\n${team}`;
  expect(outcomeOf(`${drill}refused: same-person\n`).failures).toEqual([]);
  expect(outcomeOf(`${drill}refused: not-a-time\n`).failures[0]?.sentence).toMatch(/same-person/);
  expect(outcomeOf(`${drill}steps: []\n`).failures[0]?.sentence).toMatch(/^opening the case was/);
  const fine = 'drill: one\nsheet: ports-and-swabs\nrefused: same-person\n';
  expect(outcomeOf(fine).failures[0]?.sentence).toMatch(/^the case was opened/);
});

test('what is usual at a checkpoint can be overridden step by step', () => {
  const start = 'drill: one\nsheet: ports-and-swabs\nsteps:\n';
  const given = (answers: string) => `${start}  - checkpoint: { id: sign-in, ${answers} }\n`;
  const answerTo = (answers: string) =>
    outcomeOf(given(answers)).current?.checkpoints['sign-in']?.answers.allergy;
  expect(answerTo('answers: usual')).toMatchObject({ kind: 'given', value: 'none-known' });
  expect(answerTo('answers: { allergy: known }')).toMatchObject({ value: 'known' });
  expect(answerTo('answers: usual, except: { allergy: known }')).toMatchObject({ value: 'known' });
  expect(answerTo('open: { allergy: { name: anaesthetist, reason: no time } }')).toMatchObject({
    kind: 'open',
    name: 'Probe',
  });
  const missing = outcomeOf(given('answers: { allergy: null }')).failures[0]?.sentence;
  expect(missing).toMatch(/^checkpoint \(finishCheckpoint\) was refused with steps-open/);
  const unknown = outcomeOf(given('answers: { shoes: yes }')).failures[0]?.sentence;
  expect(unknown).toMatch(/^checkpoint \(answer\) was refused with unknown-step/);
  const never = outcomeOf(given('notApplicable: { allergy: none }')).failures[0]?.sentence;
  expect(never).toMatch(/always-applies/);
});

test('variants are a list, or one by its group', () => {
  const variantsOf = (words: string) =>
    outcomeOf(`drill: one\nsheet: total-abdominal-hysterectomy\nvariants: ${words}\nsteps: []\n`)
      .current?.variants;
  const usual = { approach: 'open-planned', cervix: 'total', adnexa: 'adnexa-stay' };
  expect(variantsOf('[subtotal]')).toEqual({ ...usual, cervix: 'subtotal' });
  expect(variantsOf('subtotal')).toEqual({ ...usual, cervix: 'subtotal' });
  expect(variantsOf('{ cervix: subtotal }')).toEqual({ ...usual, cervix: 'subtotal' });
  expect(variantsOf('[]')).toEqual(usual);
});

test('a drill that opens with a conversion is refused, and says so', () => {
  const opens = (more: string) =>
    outcomeOf(`drill: one\nsheet: ports-and-swabs\nvariants: [open]\n${more}steps: []\n`).failures;
  expect(opens('')[0]?.sentence).toMatch(/only-in-mid-case/);
  expect(opens('refused: only-in-mid-case\n')).toEqual([]);
});
