import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { type Finding, type Source, sourcesOf, top } from './source.ts';

type Dependencies = Readonly<Record<string, string>>;

/** Every dependency of package.json, of whatever kind. The file is ours and read by npm as well. */
function dependenciesOf(text: string): Dependencies {
  const parts: unknown[] = Object.entries(JSON.parse(text))
    .filter(([name]) => /ependencies$/.test(name))
    .map(([, part]) => part);
  return Object.assign({}, ...parts);
}

/** A dependency needs a row of the table in DEVELOPERS.md that begins with its name in backquotes. */
const withoutRow = (dependencies: Dependencies, developers: string): readonly Finding[] =>
  Object.keys(dependencies)
    .filter((name) => !developers.split('\n').some((line) => line.startsWith(`| \`${name}\` |`)))
    .map((name) => `DEVELOPERS.md has no row for ${name}: what for, why not ours, how to leave.`);

const withoutNeed = (dependencies: Dependencies, developers: string): readonly Finding[] =>
  [...developers.matchAll(/^\| `((?:@[\w-]+\/)?[a-z][\w-]*)` \|/gm)]
    .map((row) => row[1] ?? '')
    .filter((name) => !(name in dependencies))
    .map((name) => `DEVELOPERS.md has a row for ${name}, which is not a dependency.`);

const notExact = (dependencies: Dependencies): readonly Finding[] =>
  Object.entries(dependencies)
    .filter(([, version]) => !/^\d+\.\d+\.\d+(-[\w.]+)?$/.test(version))
    .map(([name, version]) => `${name} ${version}: pin the exact version.`);

/** Written in parts, so that this file does not find itself. */
const addresses = [
  new RegExp(`registry\\.[a-z]+${'js'}\\.`, 'i'),
  new RegExp(`[a-z0-9-]*${'artifac'}tory|${'nex'}us\\.[a-z]`, 'i'),
  new RegExp(`"resolved":\\s*"${'http'}`),
  new RegExp(`(?:^|[\\s"'(=:])/(?:${['work', 'root', 'home', 'Users'].join('|')})/`, 'm'),
  new RegExp(`\\b[A-Z]:\\\\${'Users'}\\\\`),
];

const machineMarks = ({ path, text }: Source): readonly Finding[] =>
  addresses.flatMap((address) => {
    const hit = address.exec(text);
    return hit ? [`${path} names a registry or a folder of one machine: ${hit[0].trim()}`] : [];
  });

/** What the page may load: the built page must say it, and nothing looser. */
function policyWrong(html: string): readonly Finding[] {
  const policy = /Content-Security-Policy"\s+content="([^"]*)"/.exec(html)?.[1] ?? '';
  const needed = [
    "default-src 'none'",
    "require-trusted-types-for 'script'",
    'trusted-types default',
    "base-uri 'none'",
    "form-action 'none'",
  ];
  const loose = ["'unsafe-inline'", "'unsafe-eval'", 'http:', 'https:', '*'];
  return [
    ...needed.filter((word) => !policy.includes(word)).map((word) => `the policy lacks ${word}.`),
    ...loose.filter((word) => policy.includes(word)).map((word) => `the policy allows ${word}.`),
    ...(/\sstyle="/.test(html) ? ['a style attribute, which the policy forbids.'] : []),
  ];
}

const dependencies = dependenciesOf(readFileSync(join(top, 'package.json'), 'utf8'));
const developers = sourcesOf(/^DEVELOPERS\.md$/)[0]?.text ?? '';
const table = developers.split('\n## Dependencies\n')[1] ?? '';

test('every dependency has its row in DEVELOPERS.md and an exact version', () => {
  expect(Object.keys(dependencies)).toContain('solid-js');
  expect(withoutRow(dependencies, table)).toEqual([]);
  expect(withoutNeed(dependencies, table)).toEqual([]);
  expect(notExact(dependencies)).toEqual([]);
});

test('nothing committed names a registry or a folder of one machine', () => {
  expect(sourcesOf(/./).flatMap(machineMarks)).toEqual([]);
});

test('the page allows nothing but its own files', () => {
  expect(policyWrong(readFileSync(join(top, 'src', 'index.html'), 'utf8'))).toEqual([]);
});

test('a dependency without a row, a row without one and a loose version are found', () => {
  const rows = '| package | what for |\n| `valibot` | parsing |\n| `left-over` | gone |\n';
  expect(withoutRow({ valibot: '1.5.0', 'solid-js': '1.9.19' }, rows)).toHaveLength(1);
  expect(withoutNeed({ valibot: '1.5.0' }, rows)).toHaveLength(1);
  const loose = { a: '^1.0.0', b: 'latest', c: '1.0', d: '1.0.0', e: '2.0.0-rc.1' };
  expect(notExact(loose)).toHaveLength(3);
  expect(dependenciesOf('{"devDependencies":{"a":"1.0.0"},"scripts":{"b":"c"}}')).toEqual({
    a: '1.0.0',
  });
});

test.each([
  `"resolved": "${'http'}s://example.org/a.tgz"`,
  `open ${'/wo'}rk/main/x`,
  `cd "${'/ho'}me/somebody/x"`,
  `https://registry.npm${'js'}.org/a`,
])('a mark of one machine is found: %s', (text) => {
  expect(machineMarks({ path: 'x', text }).length).toBeGreaterThan(0);
});

test('a loose policy is found', () => {
  const types = "require-trusted-types-for 'script'; trusted-types default";
  const page = (policy: string) =>
    `<meta http-equiv="Content-Security-Policy" content="${policy}" />`;
  const whole = `default-src 'none'; base-uri 'none'; form-action 'none'; ${types}`;
  expect(policyWrong(page(`${whole}; script-src 'self'`))).toEqual([]);
  expect(policyWrong(page(`${whole}; style-src 'unsafe-inline'`))).toHaveLength(1);
  expect(policyWrong(page("script-src 'self'"))).toHaveLength(5);
  expect(policyWrong(`${page(whole)}<p style="color: red"></p>`)).toHaveLength(1);
});
