import { Visitor } from 'vite';
import { expect, test } from 'vitest';
import { type Finding, found, parsed, type Source, sourcesOf } from './source.ts';

/** Where people read what stands in the code. */
const shown = /^src\/(screens|parts|paper|record\/page)\/.*\.tsx?$/;

/** Attributes that people read, or hear from a screen reader. */
const attributes =
  /^(aria-label|alt|detail|heading|label|placeholder|sentence|title|whyNot|words)$/;

/** Fields of an object that people read. */
const fields = /^(detail|label|sentence|title|words)$/;

/** Texts that are data, or are said where they are shown. */
const data = new Set([
  'common practice, no source',
  'culture swab',
  'not applicable',
  'sterile pot',
]);

const isWords = (text: string): boolean => /[a-z]{2}[,.:;]? [a-z(]/i.test(text) && !data.has(text);

/** Words in the code that would be shown in English whatever is spoken. */
function unsaid(source: Source): readonly Finding[] {
  const findings: Finding[] = [];
  const tell = (text: string, at: number) =>
    void findings.push(found(source, at, `"${text.trim()}" is not said: write say\`…\`.`));
  const silent: { readonly start: number; readonly end: number }[] = [];
  const texts: { readonly text: string; readonly start: number }[] = [];
  const quiet = (node: { readonly start: number; readonly end: number }) => void silent.push(node);
  new Visitor({
    JSXText: ({ value, start }) => {
      if (/[a-z]{2}/i.test(value)) tell(value, start);
    },
    JSXAttribute: ({ name, value, start, end }) => {
      const attribute = name.type === 'JSXIdentifier' ? name.name : '';
      const isName =
        attribute === 'name' && value?.type === 'Literal' && /^[A-Z]/.test(String(value.value));
      if (!attributes.test(attribute) && !isName) quiet({ start, end });
      else if (value?.type === 'Literal' && /[a-z]{2}/i.test(String(value.value)))
        tell(String(value.value), start);
    },
    Property: ({ key, value, start }) => {
      const name = key.type === 'Identifier' ? key.name : '';
      if (/^(class|id|kind)$/.test(name)) quiet(value);
      if (!fields.test(name) || value.type !== 'Literal' || typeof value.value !== 'string') return;
      if (/[a-z]{3}/i.test(value.value) && !isWords(value.value)) tell(value.value, start);
    },
    Literal: ({ value, start }) => {
      if (typeof value === 'string') texts.push({ text: value, start });
    },
    TemplateLiteral: ({ quasis, start }) => {
      const own = quasis.map(({ value }) => value.cooked ?? '').join(' … ');
      const text = /(^|\s)[a-z]{3,}([\s.,:;]|$)/i.test(own) && own.includes(' ') ? own : '';
      if (text) texts.push({ text: `words ${text}`, start });
    },
    TaggedTemplateExpression: ({ quasi }) =>
      void silent.push({ start: quasi.start, end: quasi.start + 1 }),
    CallExpression: ({ callee, start, end }) => {
      const called = callee.type === 'MemberExpression' ? callee.property : undefined;
      const name = called?.type === 'Identifier' ? called.name : '';
      if (/^(closest|matches|querySelector)$/.test(name)) quiet({ start, end });
    },
    ThrowStatement: quiet,
    TSLiteralType: quiet,
    NewExpression: quiet,
  }).visit(parsed(source).program);
  const isQuiet = (at: number) => silent.some(({ start, end }) => at >= start && at < end);
  for (const { text, start } of texts) if (isWords(text) && !isQuiet(start)) tell(text, start);
  return findings;
}

test('what people read is said, so that it can be said in another language', () => {
  const silentOnPurpose = [
    'src/record/page/recordTree.ts', // the caution, said where it is shown
    'src/screens/trustedTypes.ts', // for who reads the console
    'src/screens/useSession.ts',
    'src/paper/tree.ts', // markup
    'src/paper/document.ts',
  ];
  const sources = sourcesOf(shown).filter(({ path }) => !silentOnPurpose.includes(path));
  expect(sources.flatMap(unsaid)).toEqual([]);
});

test.each([
  '<p>Read it aloud</p>',
  '<Field label="Reason" />',
  'const words = () => "Count it again";',
  `const words = (n: number) => \`Count \${n} again\`;`,
  'const clock = { label: "saved" };',
  '<CaseShell name="Discrepancy" />',
])('%s is told', (text) => {
  expect(unsaid({ path: 'src/screens/x.tsx', text })).toHaveLength(1);
});

test.each([
  '<p class="quiet wide">{say`Read it aloud`}</p>',
  '<Field label={say`Reason`} kind="text" />',
  `const words = (n: number) => say\`Count \${n} again\`;`,
  'throw new Error("No case is open");',
  'const side = "not applicable";',
])('%s is not', (text) => {
  expect(unsaid({ path: 'src/screens/x.tsx', text })).toEqual([]);
});
