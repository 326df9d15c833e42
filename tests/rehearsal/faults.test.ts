import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { parseDrill } from '../../src/drill/parseDrill.ts';
import { runDrill } from '../../src/drill/runDrill.ts';
import { checkSheet } from '../../src/rehearsal/checkSheet.ts';
import { rehearse } from '../../src/rehearsal/rehearse.ts';
import { parseSheet } from '../../src/sheets/parseSheet.ts';
import { shared, small } from '../sheets/small.ts';

/** Sheets whose every word is right, and which would leave a team stuck, or let it close on something. */

function damaged(...pairs: readonly (readonly [string, string])[]): string {
  return pairs.reduce((text, [from, to]) => {
    if (!text.includes(from)) throw new Error(`The small sheet has no "${from}"`);
    return text.replace(from, to);
  }, small);
}

/** What is said of it. The checks before must pass, or the fault would not be one that hides. */
function said(text: string): readonly string[] {
  expect(parseSheet(text, { file: 'small.yaml', shared }).ok).toBe(true);
  const checked = checkSheet(text, { file: 'small.yaml', shared });
  return checked.ok
    ? []
    : checked.issues.map(({ message, way = [] }) => [message, ...way].join('\n'));
}

const step = (answer: string): string => `      pause:
        who: surgeon
        ask: Is everything counted?
        short: Counted
        answer: ${answer}
`;

test('a sheet without a fault passes', () => {
  expect(said(small)).toEqual([]);
});

test.each([
  [
    'a time out that waits for the counts at closing',
    damaged(['      stones:\n', `${step('counts')}      stones:\n`]),
    'checkpoints.time-out.steps.pause.answer is never answered in time',
  ],
  [
    'a time out that waits for the specimens',
    damaged(['      stones:\n', `${step('specimens')}      stones:\n`]),
    'checkpoints.time-out.steps.pause.answer is never answered in time',
  ],
  [
    'a checkpoint before a closure that is read before the incision',
    damaged([
      '  time-out:\n',
      `  pause:
    name: Pause
    before: skin
    leader: surgeon
    present: [surgeon]
    source: common practice, no source
    steps:
${step('confirm')}  time-out:
`,
    ]),
    'checkpoints.time-out is after pause, which comes before skin, but should be before it',
  ],
  [
    'a last look that asks what the case answers',
    damaged(
      [
        '        answer: [dry, treated, bleeding]\n        usual: dry\n        stop-on: [bleeding]',
        '        answer: counts',
      ],
      ['        when: { step: dry, is: [treated] }\n', ''],
    ),
    'closures.abdomen.look.dry is never answered so that it goes on',
  ],
  [
    'a conversion whose own checkpoint cannot be read any more',
    damaged([
      '  sign-out: shared\n',
      `  sign-out: shared
  conversion:
    name: Conversion
    before: abdomen
    leader: surgeon
    present: [surgeon]
    source: common practice, no source
    when: { variant: open }
    steps:
${step('confirm')}`,
    ]),
    'checkpoints.conversion is after sign-out, which comes before leaving, but should be before it',
  ],
  [
    'instruments for which no count asks',
    damaged([
      'sections:\n',
      `moments: { closing: [swab, small], final: [swab, small], first: all }
sections:
  tray:
    name: Tray
    class: instrument
    source: common practice, no source
    lines: { clamp: { name: Clamp, opening: 2 } }
`,
    ]),
    'lets the patient be closed on one Clamp left in the abdomen, for which no count asks (closing and final)',
  ],
  [
    'a line that is neither counted nor tracked',
    damaged([
      'sections:\n',
      `sections:
  tray:
    name: Tray
    class: instrument
    source: common practice, no source
    lines: { clamp: { name: Clamp, opening: 2, counted: no } }
`,
    ]),
    'but should be counted or tracked',
  ],
  [
    'a turn that is refused wherever the piece is',
    damaged(
      ['            at: patient\n', '            at: table\n'],
      [
        '  abdomen: { name: Abdomen, kind: cavity }\n',
        '  abdomen: { name: Abdomen, kind: cavity }\n  chest: { name: Chest, kind: cavity }\n',
      ],
      ['    name: Skin\n    sites: [abdomen]', '    name: Skin\n    sites: [abdomen, chest]'],
    ),
    'sections.things.lines.loop.turns.placed is refused wherever the piece is',
  ],
])('%s is found, with the way there', (_, text, words) => {
  const found = said(text);
  waysHold(text);
  expect(found.join('\n')).toContain(words);
  expect(found.join('\n')).toMatch(/checkpoint: \{ id: sign-in, answers: usual \}/);
});

/** Every step of every way is taken by the engine: what is shown can be done by whoever reads it. */
function waysHold(text: string): void {
  const parsed = parseSheet(text, { file: 'small.yaml', shared });
  const checked = checkSheet(text, { file: 'small.yaml', shared });
  expect([parsed.ok, checked.ok]).toEqual([true, false]);
  if (!parsed.ok || checked.ok) return;
  for (const { way = [] } of checked.issues) {
    const steps: unknown = parse(way.map((step) => `- ${step}`).join('\n'));
    const listed = Array.isArray(steps) ? steps.filter((step) => step !== null) : [];
    const drill = parseDrill({ drill: 'a way', sheet: 'small', steps: listed });
    expect(drill).toMatchObject({ ok: true });
    if (drill.ok) expect(runDrill(drill.drill, parsed.sheet).failures).toEqual([]);
  }
}

test('a line that every closure takes for in use would be closed on, and is found', () => {
  const parsed = parseSheet(small, { file: 'small.yaml', shared });
  if (!parsed.ok) throw new Error('the small sheet has a mistake');
  const { sheet } = parsed;
  const closures = sheet.closures.map((one) => ({ ...one, inUse: ['port'] }));
  const found = rehearse({ ...sheet, closures });
  expect(found.map(({ code, path, found }) => [code, path.at(-1), found])).toEqual([
    ['closes-on', 'port', 'one Port in the abdomen that holds no closure'],
  ]);
  expect(found[0]?.way.at(-1)).toBe('move: { line: port, from: table, to: patient/abdomen, n: 1 }');
});
