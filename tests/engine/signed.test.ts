import { expect, test } from 'vitest';
import { decide } from '#engine/case/decide.ts';
import { entryWords } from '#engine/case/entryWords.ts';
import { evolve } from '#engine/case/evolve.ts';
import { openCase } from '#engine/case/open.ts';
import type { Case } from '#engine/state.ts';
import { sheetNamed } from '../support/drillSheets.ts';
import { invented } from '../support/sessionPorts.ts';

const at = '2026-01-05T13:20:00+00:00';
const signed = [{ name: 'Testa', how: 'without', reason: 'PIN forgotten' }] as const;

function opened(): Case {
  const command = {
    type: 'open',
    caseId: 'case-1',
    ...invented(sheetNamed('ports-and-swabs')),
  } as const;
  const decision = openCase(command, { at, by: 'Testa', id: 'id-1' });
  const current = decision.ok
    ? decision.events.reduce<Case | undefined>(evolve, undefined)
    : undefined;
  if (!current) throw new Error('The case does not open.');
  return current;
}

test('who confirmed an entry stands on it, and changes nothing in the case', () => {
  const current = opened();
  const note = { type: 'note', text: 'Seen.' } as const;
  const bare = decide(current, note, { at, by: 'Testa', id: 'id-2' });
  const confirmed = decide(current, note, { at, by: 'Testa', id: 'id-2', signed });
  if (!bare.ok || !confirmed.ok) throw new Error('The note is not taken.');
  expect(confirmed.events).toEqual(bare.events.map((event) => ({ ...event, signed })));
  expect(confirmed.events.reduce(evolve, current)).toEqual(bare.events.reduce(evolve, current));
});

test('the words of an entry say who confirmed it, and who did without a PIN', () => {
  const current = opened();
  const both = [{ name: 'Prueba', how: 'pin' }, ...signed] as const;
  const decision = decide(
    current,
    { type: 'note', text: 'Seen.' },
    { at, by: 'Testa', id: 'id-2', signed: both },
  );
  const words = decision.ok ? decision.events.map((event) => entryWords(current, event)) : [];
  expect(words).toEqual([
    { subject: 'Note', rest: 'Seen. · PIN: Prueba; without PIN: Testa (PIN forgotten)' },
  ]);
});
