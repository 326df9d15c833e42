import { Visitor } from 'vite';
import { expect, test } from 'vitest';
import { type Finding, parsed, type Source, sourcesOf } from './source.ts';

/** One rule of rules.md: `- **L1** Sentence. Source: where it comes from.` It may run over lines. */
type Rule = { readonly number: string; readonly text: string };

function rulesIn(text: string): readonly Rule[] {
  return text.split(/^(?=- |#|\s*$)/m).flatMap((part) => {
    const rule = /^- \*\*([A-Z]\d+)\*\* ([\s\S]*)/.exec(part);
    return rule?.[1] && rule[2] ? [{ number: rule[1], text: rule[2].trim() }] : [];
  });
}

/** Rule numbers at the beginning of a test's or a drill's title: `[L1] ...` or `[L1, C2] ...`. */
function cited(source: Source): readonly string[] {
  const titles = source.path.endsWith('.yaml') ? drillTitles(source) : testTitles(source);
  return titles
    .flatMap((title) => (/^\[([^\]]+)\]/.exec(title)?.[1] ?? '').split(/[,\s]+/))
    .filter((number) => /^[A-Z]\d+$/.test(number));
}

const drillTitles = ({ text }: Source): readonly string[] =>
  [...text.matchAll(/^drill:\s*["']?(.*)/gm)].map((title) => title[1] ?? '');

/** The first words of every call that begins with text: `test(...)`, `test.each(...)(...)`, `rule(...)`. */
function testTitles(source: Source): readonly string[] {
  const titles: string[] = [];
  new Visitor({
    CallExpression({ arguments: [title] }) {
      if (title?.type === 'Literal' && typeof title.value === 'string') titles.push(title.value);
      if (title?.type === 'TemplateLiteral') titles.push(title.quasis[0]?.value.raw ?? '');
    },
  }).visit(parsed(source).program);
  return titles;
}

function rulesWrong(rules: readonly Rule[], tests: readonly Source[]): readonly Finding[] {
  const known = new Set(rules.map(({ number }) => number));
  const cites = tests.map((source) => ({ path: source.path, numbers: cited(source) }));
  const tested = new Set(cites.flatMap(({ numbers }) => numbers));
  return [
    ...rules
      .filter(({ number }, index) => rules.findIndex((rule) => rule.number === number) < index)
      .map(({ number }) => `rule ${number} is there twice.`),
    ...rules
      .filter(({ text }) => !/Source: \S/.test(text))
      .map(({ number }) => `rule ${number} names no source.`),
    ...rules
      .filter(({ number }) => !tested.has(number))
      .map(({ number }) => `rule ${number} has no test whose title begins [${number}].`),
    ...cites.flatMap(({ path, numbers }) =>
      numbers
        .filter((number) => !known.has(number))
        .map((number) => `${path} cites rule ${number}, which is not in rules.md.`),
    ),
  ];
}

const rulesFile = sourcesOf(/^src\/engine\/rules\.md$/)[0];
const tests = sourcesOf(/^tests\/(?!tidy\/).*\.(test\.tsx?|yaml)$/);

test('every rule has a source and a test, and every cited rule exists', () => {
  if (rulesFile === undefined) return expect(tests.flatMap(cited)).toEqual([]);
  const rules = rulesIn(rulesFile.text);
  expect(rules.length).toBeGreaterThan(0);
  expect(rulesWrong(rules, tests)).toEqual([]);
});

test('a list line of rules.md that is no rule is not taken for one', () => {
  const text = '# Ledger\n\n- **L1** Sums\n  are zero. Source: ours.\n- a remark\n- **L2** No.';
  expect(rulesIn(text).map(({ number }) => number)).toEqual(['L1', 'L2']);
  expect(rulesIn(text)[0]?.text).toBe('Sums\n  are zero. Source: ours.');
});

test('titles cite rules by number, in tests and in drills', () => {
  const story = "test('[L1, C2] fact', f); test.each([['a']])('[S3] %s', f); test('CV-1 [X9]', f);";
  expect(cited({ path: 'tests/x.test.ts', text: story })).toEqual(['L1', 'C2', 'S3']);
  const drill = 'drill: "[D1] a story"\n---\ndrill: another [D2] story';
  expect(cited({ path: 'tests/x.yaml', text: drill })).toEqual(['D1']);
});

test('a rule without test or source, twice, or cited but unknown is found', () => {
  const bad = '- **L1** One. Source: ours.\n- **L2** Two.\n- **L2** Two again. Source: ours.\n';
  const text = "test('[L2] fact', f); test('[L3] fact', f);";
  expect(rulesWrong(rulesIn(bad), [{ path: 'tests/x.test.ts', text }])).toEqual([
    'rule L2 is there twice.',
    'rule L2 names no source.',
    'rule L1 has no test whose title begins [L1].',
    'tests/x.test.ts cites rule L3, which is not in rules.md.',
  ]);
});
