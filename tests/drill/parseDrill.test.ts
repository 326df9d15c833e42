import { expect, test } from 'vitest';
import { drillsOf } from '#drill/drillFile.ts';
import { sheets } from '../support/drillSheets.ts';

const head = 'drill: one\nsheet: ports-and-swabs\nsteps:\n';

/** What is wrong in a file, as `line: sentence`. */
function wrongIn(text: string): readonly string[] {
  const read = drillsOf(text, sheets);
  return read.ok ? [] : read.issues.map(({ line, sentence }) => `${line}: ${sentence}`);
}

test('a drill with nothing wrong is read', () => {
  expect(wrongIn(`${head}  - incision: {}\n    refused: checkpoint-open\n`)).toEqual([]);
});

test.each([
  ['an unknown command', '  - push: { line: swab }\n', /^4: push is no command/],
  [
    'an unknown field',
    '  - move: { line: swab, from: table, to: off, n: 1, form: x }\n',
    /^4: form is no field of move/,
  ],
  [
    'an unknown key of a step',
    '  - incision: {}\n    refuses: held\n',
    /^5: refuses is no command/,
  ],
  [
    'two commands in one step',
    '  - incision: {}\n    finish: {}\n',
    /^5: incision and finish stand in one step/,
  ],
  ['a missing field', '  - move: { line: swab, from: table, to: off }\n', /^4: move needs n/],
  [
    'a list for a word',
    '  - move: { line: [swab], from: table, to: off, n: 1 }\n',
    /^4: move line is a list/,
  ],
  ['words for fields', '  - move: swab\n', /^4: move is "swab"/],
  ['a word for a list', '  - add: { line: swab, packs: 5 }\n', /^4: add packs is 5/],
  [
    'a word for yes or no',
    '  - relief: { role: scrub, to: X, short: maybe }\n',
    /^4: relief short is "maybe"/,
  ],
  [
    'an unknown expectation',
    '  - expect: { balances: {} }\n',
    /^4: balances is no field of expect/,
  ],
  [
    'words for a number',
    '  - expect: { balance: { swab: { table: two } } }\n',
    /^4: balance swab table is "two"/,
  ],
  [
    'an unknown field of a label',
    '  - specimen: { id: a, step: labelled, label: { colour: red } }\n',
    /^4: colour is no field/,
  ],
  [
    'an unknown part of found',
    '  - count: { moment: first, except: { swab: { table: 2 } } }\n',
    /^4: table is no field/,
  ],
  ['a clock that is none', '  - incision: {}\n    at: noon\n', /^5: at is "noon"/],
  ['waiting backwards', '  - wait: { minutes: -5 }\n', /^4: wait minutes is -5/],
  ['taking back the last but one', '  - correct: { last: 2 }\n', /^4: correct last is 2/],
  ['nothing to do', '  - actor: scrub\n', /^4: A step needs a command or expect/],
  [
    'a refusal of nothing',
    '  - expect: { verdict: open }\n    refused: held\n',
    /^4: Only a command/,
  ],
])('%s is told with its line', (_, step, expected) => {
  const wrong = wrongIn(head + step);
  expect(wrong).toHaveLength(1);
  expect(wrong[0]).toMatch(expected);
});

test.each([
  ['a drill without a title', 'sheet: ports-and-swabs\nsteps: []\n', /^1: A drill needs a title/],
  ['a drill without steps', 'drill: one\nsheet: ports-and-swabs\n', /^1: A drill needs steps/],
  ['a drill without a sheet', 'drill: one\nsteps: []\n', /sheet is nothing/],
  [
    'an unknown key of a drill',
    'drill: one\nsheet: ports-and-swabs\nstep: []\nsteps: []\n',
    /^3: step is no field of a drill/,
  ],
  [
    'a sheet that is not there',
    'drill: one\nsheet: no-such\nsteps: []\n',
    /^2: There is no sheet no-such/,
  ],
  ['a list', '- one\n', /^1: A drill is a set of fields/],
  ['something else', 'just words\n', /^1: A drill is a set of fields/],
  ['nothing', '', /^1: There is no drill in it/],
  ['what is not YAML', 'drill: "one\nsheet: x\n', /It is not YAML/],
  [
    'a start that is no time',
    'drill: one\nsheet: ports-and-swabs\nstart: today\nsteps: []\n',
    /^3: start is "today"/,
  ],
])('%s is told with its line', (_, text, expected) => {
  const wrong = wrongIn(text);
  expect(wrong.length).toBeGreaterThan(0);
  expect(wrong[0]).toMatch(expected);
});

test('a mistake in the second document is told with its own line', () => {
  const second = `---\n${head}  - push: {}\n`;
  expect(wrongIn(`${head}  - expect: { verdict: open }\n${second}`)).toEqual([
    expect.stringMatching(/^9: push is no command/),
  ]);
});

test('a mistake in a sheet held by the drill is told at the sheet', () => {
  const wrong = wrongIn('drill: one\nsheet:\n  title: no more than that\nsteps: []\n');
  expect(wrong.length).toBeGreaterThan(0);
  expect(wrong[0]).toMatch(/^2: /);
});
