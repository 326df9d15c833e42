import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { drillsOf } from '#drill/drillFile.ts';
import { runDrill } from '#drill/runDrill.ts';
import type { CaseEvent } from '#engine/case/events.ts';
import { evolve } from '#engine/case/evolve.ts';
import { replay } from '#engine/history/replay.ts';
import { at, isBalanced, rowOf } from '#engine/ledger.ts';
import { inSite, type Place } from '#engine/places.ts';
import type { Case } from '#engine/state.ts';
import { canonicalJson } from '#journal/canonical.ts';
import { drillFolder, sheets } from '../support/drillSheets.ts';

const files = readdirSync(drillFolder, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.yaml') && !file.startsWith('sheets'))
  .sort();

const neverNegative: readonly Place[] = ['table', 'off', 'stays', 'specimen', 'away', 'missing'];

/** Each line sums to zero, and no place but supply and changed is below zero. */
function unbalanced(current: Case): readonly string[] {
  const places = [...neverNegative, ...current.sheet.sites.map((site) => inSite(site.id))];
  return [...current.lines.keys()].flatMap((line) => [
    ...(isBalanced(rowOf(current.ledger, line)) ? [] : [`${line} does not sum to zero`]),
    ...places
      .filter((place) => at(current.ledger, line, place) < 0)
      .map((place) => `${line} is below zero at ${place}`),
  ]);
}

function unbalancedAfterAny(events: readonly CaseEvent[]): readonly string[] {
  let current: Case | undefined;
  return events.flatMap((event) => {
    current = evolve(current, event);
    return unbalanced(current).map((sentence) => `entry ${event.entry}: ${sentence}`);
  });
}

test('there are drills', () => {
  expect(files.length).toBeGreaterThan(2);
});

describe.each(files)('%s', (file) => {
  const read = drillsOf(readFileSync(join(drillFolder, file), 'utf8'), sheets);
  if (!read.ok) {
    test('can be read', () => expect(read.issues).toEqual([]));
    return;
  }
  test.each(read.drills.map((ready) => [ready.drill.title, ready] as const))(
    '%s',
    (_, { drill, sheet, lineOf }) => {
      const outcome = runDrill(drill, sheet);
      const failures = outcome.failures.map(({ path, sentence }) => `${lineOf(path)}: ${sentence}`);
      expect(failures).toEqual([]);
      expect(unbalancedAfterAny(outcome.events)).toEqual([]);
      if (!outcome.current) return;
      const replayed = replay([{ events: outcome.events }]);
      expect(replayed).toEqual({ ok: true, current: outcome.current });
      // The journal writes text, and text has no undefined: an event that has one could not be saved.
      expect(outcome.events.map(canonicalJson).filter(({ ok }) => !ok)).toEqual([]);
    },
  );
});
