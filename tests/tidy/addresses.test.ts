import { expect, test } from 'vitest';
import { type Finding, found, type Source, sourcesOf } from './source.ts';

/** The program asks nothing of a network, so no address stands in it. */
const address = /\b(?:https?|wss?):\/\/[^\s"'`)>]+/g;

/** Names of languages of drawing and of data, not addresses that are asked for. */
const names = [
  'http://www.w3.org/2000/svg',
  'http://www.w3.org/1999/xlink',
  'https://json-schema.org/draft/2020-12/schema',
  'http://www.w3.org/1999/xhtml',
  'http://loinc.org',
  'http://unitsofmeasure.org',
];

/** Code systems and extensions of FHIR are named by what looks like an address. */
const isName = (hit: string): boolean =>
  names.includes(hit) || /^http:\/\/(?:terminology\.)?hl7\.org\/(?:fhir|CodeSystem)\//.test(hit);

/** Where a rule comes from may be told by its address, after the word: `Source: ...`. */
const tellsSource = (line: string): boolean => /\bsources?\b\W/i.test(line);

const networkAddresses = (source: Source): readonly Finding[] => {
  const lines = source.text.split('\n');
  return [...source.text.matchAll(address)].flatMap(({ 0: hit, index }) => {
    const before = source.text.slice(0, index).split('\n');
    const line = lines[before.length - 1] ?? '';
    if (isName(hit) || tellsSource(line)) return [];
    return [found(source, index, `${hit}: the program reaches no network.`)];
  });
};

const one = (text: string): Source => ({ path: 'src/x.ts', text });

test('no network address stands in the program, but in the words of a source', () => {
  expect(sourcesOf(/^src\//).flatMap(networkAddresses)).toEqual([]);
});

test.each([
  "const u = 'https://example.org/api';",
  "a { background: url('http://example.org/x.png'); }",
  'new WebSocket("wss://example.org/x");',
  'const resource = "http://127.0.0.1:9/";',
  '<svg xmlns="http://www.w3.org/2000/svg.evil/x">',
  "'http://hl7.org.evil/fhir/x'",
])('an address is found: %s', (text) => {
  expect(networkAddresses(one(text))).toHaveLength(1);
});

test.each([
  '- **C1** Two count. Source: https://example.org/standard, section 2.',
  ' * Source: Some guideline, https://example.org/x.pdf',
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1">',
  "const path = '/icon.svg'; // a comment",
])('it is let through: %s', (text) => {
  expect(networkAddresses(one(text))).toEqual([]);
});
