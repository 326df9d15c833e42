// @vitest-environment node
import { readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { Section } from '#engine/sheet.ts';
import { indexOf } from '#screens/frame/frameIndex.ts';
import { checklists, sheetNamed } from '../support/drillSheets.ts';
import { line } from '../support/storySheet.ts';

type Written = readonly [section: Section, lines: number, groups?: readonly string[]];

/** A sheet with so many lines in each section, in groups if it has any. */
function sheetOf(...written: readonly Written[]) {
  return {
    sections: written.map(([section]) => section),
    lines: written.flatMap(([{ id }, lines, groups]) =>
      Array.from({ length: lines }, (_, index) => {
        const group = groups?.[index];
        return line(`${id}-${index}`, { section: id, ...(group === undefined ? {} : { group }) });
      }),
    ),
  };
}

const keysOf = (...written: readonly Written[]): readonly string[] =>
  indexOf(sheetOf(...written)).map(({ name, lines }) => `${name}: ${lines.length}`);

const named = (name: string, more: Partial<Section> = {}): Section => ({
  id: name.slice(0, 4),
  name,
  ...more,
});

test('each section has a key, called by its short word or by what stands before the first comma', () => {
  const keys = keysOf(
    [named('Swabs, each one weighed'), 2],
    [named('Starts in the patient', { short: 'Stones' }), 1],
    [named('Nothing in it'), 0],
  );
  expect(keys).toEqual(['Swabs: 2', 'Stones: 1']);
});

test('a long section has keys for its groups while there is room for them', () => {
  const groups = ['Port 12', 'Port 12', 'Port 12', 'Port 5', 'Port 5', 'Port 5'];
  expect(keysOf([named('Ports'), 6, groups])).toEqual(['Ports: 3', 'Port 5: 3']);
});

test('without groups it is cut in halves, the second called by its first line', () => {
  expect(keysOf([named('Tray'), 6])).toEqual(['Tray: 3', 'Tray-3: 3']);
});

test('where there are more sections than keys, the shortest neighbours share one', () => {
  const sections = ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', 'I'];
  const lines = [4, 3, 3, 4, 2, 1, 1, 4, 4];
  expect(keysOf(...sections.map((name, at): Written => [named(name), lines[at] ?? 0]))).toEqual([
    ...['A: 4', 'B: 3', 'C: 3', 'D: 4', 'E, F, G: 4', 'H: 4', 'I: 4'],
  ]);
});

test('two that are called the same share one word', () => {
  const sections = ['A', 'B', 'C', 'D', 'E', 'F', 'Tray', 'Open tray'];
  const lines = [3, 3, 3, 3, 3, 3, 1, 1];
  const keys = keysOf(
    ...sections.map(
      (name, at): Written => [named(name, at > 5 ? { short: 'Tray' } : {}), lines[at] ?? 0],
    ),
  );
  expect(keys.at(-1)).toBe('Tray: 2');
});

describe.each(readdirSync(checklists).filter((file) => file.endsWith('.yaml')))('%s', (file) => {
  const sheet = sheetNamed(file.replace('.yaml', ''));
  const index = indexOf(sheet);

  test('has seven keys at most, with every line once and in order', () => {
    expect(index.length).toBeLessThanOrEqual(7);
    expect(index.flatMap(({ lines }) => lines)).toEqual(sheet.lines.map(({ id }) => id));
  });

  test('its keys are called differently, by words that a key has room for', () => {
    const names = index.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    const words = names.flatMap((name) => name.split(/[ ,]+/));
    expect(words.filter((word) => word.length > 11)).toEqual([]);
    expect(names.filter((name) => name.length > 42)).toEqual([]);
  });
});
