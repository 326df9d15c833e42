import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

type Lights = 'up' | 'down';
type Colours = Readonly<Record<string, string>>;
type Pair = readonly [words: string, ground: string, least: number];

const styles = join('src', 'styles');
const tokens = readFileSync(join(styles, 'tokens.css'), 'utf8');

/** The colour tokens of one light level: the block whose selector names it. */
function coloursOf(css: string, lights: Lights): Colours {
  const block = new RegExp(`data-lights="${lights}"\\]\\s*\\{([^}]*)\\}`).exec(css)?.[1] ?? '';
  const found = [...block.matchAll(/--([\w-]+):\s*(#[0-9a-f]{6});/g)];
  return Object.fromEntries(found.map(([, name, value]) => [name, value]));
}

/** Relative luminance of #rrggbb. Source: WCAG 2.2, definition of relative luminance. */
function luminance(colour: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const part = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/** Contrast of two colours, 1 to 21. Source: WCAG 2.2, definition of contrast ratio. */
function contrast(one: string, other: string): number {
  const [dark = 0, light = 0] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (light + 0.05) / (dark + 0.05);
}

const on = (words: string, grounds: readonly string[], least: number): readonly Pair[] =>
  grounds.map((ground) => [words, ground, least]);

/** Words that matter: 7:1 (WCAG 2.2, 1.4.6). */
const words: readonly Pair[] = [
  ...on('ink', ['ground', 'sheet', 'line'], 7),
  ...on('ink', ['held-tint', 'missing-tint', 'agreed-tint', 'inside-tint', 'stays-tint'], 7),
  ...on('quiet', ['ground', 'sheet'], 7),
  ...on('sheet', ['ink'], 7),
  ...on('agreed-words', ['ground', 'sheet', 'agreed-tint'], 7),
  ...on('inside-words', ['ground', 'sheet'], 7),
  ...on('stays-words', ['ground', 'sheet', 'stays-tint'], 7),
  ...on('held-words', ['ground', 'sheet', 'held-tint'], 7),
  ...on('missing-words', ['ground', 'sheet', 'missing-tint'], 7),
  ...on('on-agreed', ['agreed-plate'], 7),
  ...on('on-inside', ['inside-plate'], 7),
  ...on('on-missing', ['missing-words'], 7),
];

/** An empty place and the pattern of a field say little but must be read: 4.5:1 (1.4.3). */
const faintWords: readonly Pair[] = on('faint', ['ground', 'sheet'], 4.5);

/** Beads, bars, marks and the edges of what can be tapped: 3:1 (1.4.11). */
const shapes: readonly Pair[] = [
  ...on('edge', ['ground', 'sheet'], 3),
  ...on('table-bead', ['ground', 'sheet'], 3),
  ...on('agreed', ['ground', 'sheet'], 3),
  ...on('inside', ['ground', 'sheet', 'inside-tint'], 3),
  ...on('stays', ['ground', 'sheet', 'stays-tint'], 3),
  ...on('held', ['ground', 'sheet', 'held-tint'], 3),
  ...on('missing', ['ground', 'sheet', 'missing-tint'], 3),
  ...on('on-held', ['held'], 3),
  ...on('on-missing', ['missing'], 3),
];

const pairs = [...words, ...faintWords, ...shapes];

/** Every style sheet of the parts and the screens, by its path. */
function sheets(): readonly { readonly path: string; readonly css: string }[] {
  return ['parts', 'screens', 'record', 'review'].flatMap((folder) => {
    const names = readFolder(join('src', folder)).filter((name) => name.endsWith('.css'));
    return names.map((name) => {
      const path = join('src', folder, name);
      return { path, css: readFileSync(path, 'utf8').replace(/\/\*[\s\S]*?\*\//g, '') };
    });
  });
}

function readFolder(folder: string): readonly string[] {
  try {
    return readdirSync(folder, { recursive: true, encoding: 'utf8' });
  } catch {
    return [];
  }
}

/** Rules that set both the words and what they stand on, as `words on ground`. */
function pairsIn(css: string): readonly string[] {
  return [...css.matchAll(/\{([^{}]*)\}/g)].flatMap(([, body = '']) => {
    const ink = /(?:^|[\s;])color:\s*var\(--([\w-]+)\)/.exec(body)?.[1];
    const ground = /(?:^|[\s;])background(?:-color)?:\s*var\(--([\w-]+)\)/.exec(body)?.[1];
    return ink && ground ? [`${ink} on ${ground}`] : [];
  });
}

const literalColour = /#[0-9a-f]{3,8}\b|\b(?:rgb|hsl|oklch|lab)a?\(/gi;

test('the formula gives the published contrast of white and #767676', () => {
  // Source: WCAG 2 technique G18 gives #767676 as the lightest grey that passes 4.5:1 on white.
  expect(contrast('#FFFFFF', '#767676').toFixed(2)).toBe('4.54');
  expect(contrast('#ffffff', '#000000')).toBeCloseTo(21, 10);
  expect(contrast('#123456', '#123456')).toBe(1);
});

test('both light levels name the same colours', () => {
  const up = Object.keys(coloursOf(tokens, 'up'));
  expect(up).toContain('inside-plate');
  expect(Object.keys(coloursOf(tokens, 'down'))).toEqual(up);
});

test.each(['up', 'down'] as const)('with the lights %s every pair has its contrast', (lights) => {
  const colours = coloursOf(tokens, lights);
  const short = pairs.flatMap(([ink, ground, least]) => {
    const ratio = contrast(colours[ink] ?? '', colours[ground] ?? '');
    return ratio >= least ? [] : [`${ink} on ${ground}: ${ratio.toFixed(2)}, wants ${least}`];
  });
  expect(short).toEqual([]);
});

test('paper gives every colour a value of its own', () => {
  const print = readFileSync(join(styles, 'print.css'), 'utf8');
  const names = Object.keys(coloursOf(tokens, 'up'));
  expect(names.filter((name) => !print.includes(`--${name}: #`))).toEqual([]);
});

test('every colour is in a pair', () => {
  const paired = new Set(pairs.flat());
  expect(Object.keys(coloursOf(tokens, 'up')).filter((name) => !paired.has(name))).toEqual([]);
});

test('every pair that a style sheet sets is one of these', () => {
  const known = new Set(pairs.map(([a, b]) => `${a} on ${b}`));
  const used = sheets().flatMap(({ css }) => pairsIn(css));
  expect(used.length).toBeGreaterThan(10);
  expect([...new Set(used)].filter((pair) => !known.has(pair))).toEqual([]);
});

test('no style sheet of a part or a screen has a colour of its own', () => {
  // Paper is white and print is black, whatever the lights of the theatre.
  const ours = sheets().filter(({ path }) => !/record|SpecimenLabel|ProofLabel/.test(path));
  const own = ours.flatMap(({ path, css }) =>
    [...css.matchAll(literalColour)].map(([colour]) => `${path}: ${colour}`),
  );
  expect(own).toEqual([]);
});

test('a pair that is too faint, an unknown pair and a colour of its own are found', () => {
  expect(contrast('#c2410c', '#fbe4d5')).toBeLessThan(7);
  expect(pairsIn('.a { color: var(--faint); background: var(--held); }')).toEqual([
    'faint on held',
  ]);
  expect(pairsIn('.a { border-color: var(--ink); background: var(--sheet); }')).toEqual([]);
  expect('a { color: #fff }'.match(literalColour)).toHaveLength(1);
});
