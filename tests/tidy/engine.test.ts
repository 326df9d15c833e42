import { Visitor } from 'vite';
import { expect, test } from 'vitest';
import {
  type Finding,
  found,
  type Node,
  type Program,
  parsed,
  type Source,
  sourcesOf,
} from './source.ts';

/** Words that the engine may not say, each with what to use instead. */
const banned: ReadonlyMap<string, string> = new Map([
  [
    'Date',
    'take the time from context.at; only Date.parse(x), Date.UTC(...) and new Date(x) are pure',
  ],
  ['Math.random', 'take chance from context'],
  ['crypto', 'hashes belong to the journal, ids come from context'],
  ['performance', 'take the time from context.at'],
  ['Intl', 'the words of a screen belong to the screen'],
  ['window', 'the engine knows no page'],
  ['document', 'the engine knows no page'],
  ['navigator', 'the engine knows no device'],
  ['globalThis', 'the engine knows no world'],
  ['process', 'the engine knows no world'],
  ['localStorage', 'storage belongs to the journal'],
  ['indexedDB', 'storage belongs to the journal'],
  ['fetch', 'the engine knows no network'],
  ['setTimeout', 'time passes by events'],
  ['setInterval', 'time passes by events'],
  ['console', 'return a refusal, a warning or a finding'],
]);

const pureDate = ['parse', 'UTC'];

/** These read the time zone or the language of the machine: two tablets would not agree. */
const local =
  /^(get(FullYear|Month|Date|Day|Hours|Minutes|Seconds|TimezoneOffset)|toLocale(Date|Time)?String)$/;

/** Names that the file itself gives to something: a `window` of minutes is not the page's. */
function ownNames(program: Program): ReadonlySet<string> {
  const names = new Set<string>();
  const take = (binding: Node | null): void => {
    if (binding === null) return;
    if (binding.type === 'Identifier') names.add(binding.name);
    if (binding.type === 'AssignmentPattern') take(binding.left);
    if (binding.type === 'RestElement') take(binding.argument);
    if (binding.type === 'ArrayPattern') for (const element of binding.elements) take(element);
    if (binding.type === 'ObjectPattern')
      for (const part of binding.properties) take(part.type === 'Property' ? part.value : part);
  };
  const takeParameters = ({ params }: { readonly params: readonly Node[] }) => params.forEach(take);
  new Visitor({
    VariableDeclarator: ({ id }) => take(id),
    FunctionDeclaration: takeParameters,
    FunctionExpression: takeParameters,
    ArrowFunctionExpression: takeParameters,
  }).visit(program);
  return names;
}

/** Banned words that mean the world outside; a property, a type or an own name is something else. */
function impure(source: Source): readonly Finding[] {
  const { program } = parsed(source);
  const own = ownNames(program);
  const harmless = new Set<number>();
  const findings: Finding[] = [];
  const tell = (word: string, at: number, instead = banned.get(word)) =>
    findings.push(found(source, at, `${word} is banned in engine: ${instead}.`));
  new Visitor({
    MemberExpression({ object, property, computed, start }) {
      if (!computed) harmless.add(property.start);
      if (property.type !== 'Identifier') return;
      if (local.test(property.name)) tell(property.name, start, 'it reads the time zone');
      if (object.type !== 'Identifier') return;
      if (object.name === 'Date' && pureDate.includes(property.name)) harmless.add(object.start);
      if (object.name === 'Math' && property.name === 'random') tell('Math.random', start);
    },
    NewExpression({ callee, arguments: given }) {
      if (given.length === 1) harmless.add(callee.start);
    },
    Property({ key, computed, shorthand }) {
      if (!computed && !shorthand) harmless.add(key.start);
    },
    TSPropertySignature({ key, computed }) {
      if (!computed) harmless.add(key.start);
    },
    Identifier({ name, start }) {
      if (banned.has(name) && !own.has(name) && !harmless.has(start)) tell(name, start);
    },
  }).visit(program);
  return findings;
}

test('the engine uses no clock, chance, storage, network, page or console', () => {
  expect(sourcesOf(/^src\/engine\/.*\.ts$/).flatMap(impure)).toEqual([]);
});

test.each([
  'const now = Date.now();',
  'const now = new Date();',
  'const n = Math.random();',
  'const id = crypto.randomUUID();',
  'const wide = window.innerWidth;',
  "const answer = fetch('/x');",
  "console.log('x');",
  'const words = { console };',
  'const now = new Date(2026, 0, 5);',
  'const hour = new Date(ms).getHours();',
  'const late = setTimeout(f, 1);',
])('it is found: %s', (text) => {
  expect(impure({ path: 'src/engine/x.ts', text }).length).toBeGreaterThan(0);
});

test.each([
  'const ms = Date.parse(text);',
  'const ms = Date.UTC(2026, 0, 5);',
  "const words = { window: 60, console: 'x' };",
  'const minutes = medicine.window;',
  'const f = ({ window }: Medicine) => window + 1;',
  'for (const [a, window = 1] of windows) use(window);',
  'const text = new Date(ms + 1).toISOString();',
  'type Medicine = { readonly window: number };',
  '// Date.now() would be a clock',
  'const most = Math.max(1, 2);',
])('it is let through: %s', (text) => {
  expect(impure({ path: 'src/engine/x.ts', text })).toEqual([]);
});
