import { Visitor } from 'vite';
import { expect, test } from 'vitest';
import { type Finding, found, type Node, parsed, type Source, sourcesOf } from './source.ts';

const htmlWays = ['innerHTML', 'outerHTML', 'insertAdjacentHTML', 'setHTMLUnsafe'];

/** Text set as HTML: a name that a person typed would become markup. */
function textAsHtml(source: Source): readonly Finding[] {
  const findings: Finding[] = [];
  const tell = (name: string, at: number): void => {
    if (htmlWays.includes(name)) findings.push(found(source, at, `${name}: set text, not HTML.`));
  };
  new Visitor({
    JSXAttribute: ({ name, start }) => {
      if (name.type === 'JSXIdentifier') tell(name.name, start);
    },
    MemberExpression: ({ property, start }) => {
      if (property.type === 'Identifier') tell(property.name, start);
    },
  }).visit(parsed(source).program);
  return findings;
}

type Body = { readonly start: number; readonly end: number; readonly body: Node | null };
type Component = Body & { readonly id: Node | null; readonly params: readonly Node[] };

/** A component is a function with markup whose name begins with a capital letter. */
function componentsOf(source: Source): readonly Component[] {
  const components: Component[] = [];
  const markup: number[] = [];
  const isName = (id: Node | null): boolean => id?.type === 'Identifier' && /^[A-Z]/.test(id.name);
  new Visitor({
    JSXElement: (node) => void markup.push(node.start),
    JSXFragment: (node) => void markup.push(node.start),
    FunctionDeclaration: (node) => {
      if (isName(node.id)) components.push(node);
    },
    VariableDeclarator: ({ id, init }) => {
      const isFunction =
        init?.type === 'ArrowFunctionExpression' || init?.type === 'FunctionExpression';
      if (isFunction && isName(id)) components.push(init);
    },
  }).visit(parsed(source).program);
  return components.filter(({ start, end }) => markup.some((at) => at > start && at < end));
}

/** A component runs once: what it took apart, or returned early, never changes again. */
function frozenComponents(source: Source): readonly Finding[] {
  return componentsOf(source).flatMap(({ params, body, start }) => {
    const findings: Finding[] = [];
    if (params[0]?.type === 'ObjectPattern')
      findings.push(found(source, start, 'props taken apart lose their changes: use props.x.'));
    const statements = body?.type === 'BlockStatement' ? body.body : [];
    const isEarly = (node: Node): boolean =>
      node.type === 'IfStatement' || node.type === 'SwitchStatement';
    if (statements.some((statement) => isEarly(statement) && returns(statement)))
      findings.push(found(source, start, 'an early return never changes: use <Show> or <Switch>.'));
    return findings;
  });
}

/** Whether a statement returns from the function it stands in, not from one inside it. */
function returns(statement: Node): boolean {
  switch (statement.type) {
    case 'ReturnStatement':
      return true;
    case 'BlockStatement':
      return statement.body.some(returns);
    case 'IfStatement':
      return (
        returns(statement.consequent) || (!!statement.alternate && returns(statement.alternate))
      );
    case 'SwitchStatement':
      return statement.cases.some(({ consequent }) => consequent.some(returns));
    default:
      return false;
  }
}

/** The record and the review read: they send no command. */
function sends(source: Source): readonly Finding[] {
  const findings: Finding[] = [];
  new Visitor({
    Identifier: ({ name, start }) => {
      if (name === 'send')
        findings.push(found(source, start, 'send: the record and the review only read.'));
    },
  }).visit(parsed(source).program);
  return findings;
}

const screens = sourcesOf(/^src\/.*\.tsx$/);
const readers = sourcesOf(/^src\/(record|review)\/.*\.tsx?$/);
const one = (text: string): Source => ({ path: 'src/parts/X.tsx', text });

test('no text is set as HTML, and no component freezes what it shows', () => {
  expect(sourcesOf(/^src\/.*\.tsx?$/).flatMap(textAsHtml)).toEqual([]);
  expect(screens.flatMap(frozenComponents)).toEqual([]);
});

test('the record and the review send no command', () => {
  expect(readers.flatMap(sends)).toEqual([]);
  expect(sends(one("const f = (props: P) => props.send('x');"))).toHaveLength(1);
  expect(sends(one("const sent = props.sender('x');"))).toEqual([]);
});

test.each([
  'const X = (props: P) => <p innerHTML={props.text} />;',
  'node.innerHTML = text;',
  "node.insertAdjacentHTML('beforeend', text);",
])('text set as HTML is found: %s', (text) => {
  expect(textAsHtml(one(text))).toHaveLength(1);
});

test.each([
  'export function X({ text }: P) { return <p>{text}</p>; }',
  'export const X = ({ text }: P) => <p>{text}</p>;',
  'export function X(props: P) { if (!props.text) return null; return <p>{props.text}</p>; }',
  'function X(props: P) { if (props.a) { return <b />; } else { tell(); } return <p />; }',
  "function X(props: P) { switch (props.a) { case 'b': return <b />; } return <p />; }",
])('a component that freezes is found: %s', (text) => {
  expect(frozenComponents(one(text))).toHaveLength(1);
});

test.each([
  'export function X(props: P) { return <Show when={props.text}><p /></Show>; }',
  'function X(props: P) { const f = () => { if (a) return 1; return 2; }; return <p>{f()}</p>; }',
  'function X(props: P) { if (props.a) tell(); return <p />; }',
  'const pick = ({ a }: P) => a;',
])('it is let through: %s', (text) => {
  expect(frozenComponents(one(text))).toEqual([]);
});
