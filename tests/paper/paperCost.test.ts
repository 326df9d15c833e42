import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { drillsOf } from '#drill/drillFile.ts';
import { runDrill } from '#drill/runDrill.ts';
import type { CaseEvent } from '#engine/case/events.ts';
import { paperCost } from '../bench/paperCost.ts';
import { drillFolder, sheets } from '../support/drillSheets.ts';

/** The paper column of `npm run bench:taps`. */

function eventsOf(file: string): readonly CaseEvent[] {
  const read = drillsOf(readFileSync(join(drillFolder, file), 'utf8'), sheets);
  const [ready] = read.ok ? read.drills : [];
  if (!ready) throw new Error(`${file} is no drill.`);
  return runDrill(ready.drill, ready.sheet).events;
}

test('a case of which nothing is written yet costs the boxes of the list and the heads of the forms', () => {
  expect(paperCost([])).toEqual({ marks: 19, words: 14 });
});

test('each count costs a number a line and two names', () => {
  const events = eventsOf('f01-three-loops.yaml');
  const counts = events.filter(({ type }) => type === 'countAgreed');
  const lines = counts.map((event) => ('outcomes' in event ? event.outcomes.length : 0));
  expect(counts).toHaveLength(3);
  const without = events.filter(({ type }) => type !== 'countAgreed');
  const numbers = lines.reduce((sum, n) => sum + n, 0);
  expect(paperCost(events).words - paperCost(without).words).toBe(numbers + 3 * 2);
});

test('each piece that goes in or comes out costs a stroke', () => {
  const moves = eventsOf('f01-three-loops.yaml').filter(({ type }) => type === 'moved');
  expect(paperCost(moves.slice(0, 1)).marks).toBe(
    19 + (moves[0] && 'n' in moves[0] ? Number(moves[0].n) : 0),
  );
});
