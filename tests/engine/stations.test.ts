import { expect, test } from 'vitest';
import { evolve } from '#engine/case/evolve.ts';
import { openCase } from '#engine/case/open.ts';
import { stationsOf } from '#engine/case/stationsOf.ts';
import type { Case } from '#engine/state.ts';
import { sheetNamed } from '../support/drillSheets.ts';
import { opening } from '../support/given.ts';

/** The way of a case as the spine shows it, on sheets as they are shipped. */
function wayOf(sheet: string, variants: readonly string[] = []): readonly string[] {
  const command = { ...opening, sheet: sheetNamed(sheet), variants };
  const decision = openCase(command, { at: '2026-01-05T08:00:00Z', by: 'Prueba', id: 'open' });
  if (!decision.ok) throw new Error(decision.refusal.code);
  const current = decision.events.reduce<Case | undefined>(evolve, undefined);
  if (current === undefined) throw new Error('not opened');
  return stationsOf(current).map(({ id }) => id);
}

test('[K1] sign in comes before the first count, time out after it, sign out last but the record', () => {
  expect(wayOf('ports-and-swabs')).toEqual([
    'prepare',
    'sign-in',
    'first',
    'time-out',
    'operating',
    'abdomen',
    'skin',
    'sign-out',
    'record',
  ]);
});

test('[K1] a pause before a closure stands before it', () => {
  const way = wayOf('laparoscopic-cholecystectomy');
  expect(way.slice(4)).toEqual([
    'operating',
    'before-clipping',
    'abdomen',
    'skin',
    'sign-out',
    'record',
  ]);
});

test('[K6] a checkpoint that does not apply is no station', () => {
  expect(wayOf('diagnostic-laparoscopy')).not.toContain('going-on');
  expect(wayOf('diagnostic-laparoscopy', ['goes-on']).slice(4, 7)).toEqual([
    'operating',
    'going-on',
    'abdomen',
  ]);
});
