import { expect, test } from 'vitest';
import { decide } from '#engine/case/decide.ts';
import { entryWords } from '#engine/case/entryWords.ts';
import type { Command } from '#engine/case/events.ts';
import { computedOf } from '#engine/checkpoints/computedOf.ts';
import { answerWords } from '#engine/checkpoints/words.ts';
import { isInstant } from '#engine/quantities.ts';
import { closedUp, count, type Done, given, incised, specimenGone } from '../support/given.ts';

/** The edges of rules that no other story comes to: exactly so many, exactly then, and words of older records. */

const at = '2026-01-05T11:00:00+00:00';
const typed = { at, by: 'Prueba', id: 'typed', fromPaper: true } as const;

test('[X13] what happened at the very moment of typing is taken from paper', () => {
  const note: Command = { type: 'note', text: 'words' };
  expect(decide(given().current, note, { ...typed, paperAt: at }).ok).toBe(true);
});

test.each([
  ['from paper, 10:40', '2026-01-05T10:40:00+00:00'],
  ['from paper', undefined],
] as const)('[X13] an entry from paper says so: %s', (words, paperAt) => {
  const { current } = given();
  const context = paperAt === undefined ? typed : { ...typed, paperAt };
  const decision = decide(current, { type: 'note', text: 'dry' }, context);
  const [event] = decision.ok ? decision.events : [];
  expect(event && entryWords(current, event).rest).toMatch(new RegExp(`dry · ${words}$`));
});

test('[L15] as many codes as an entry keeps are taken, and none of them may be empty', () => {
  const codes = (n: number) => Array.from({ length: n }, (_, index) => `lot ${index + 1}`);
  const add = (scanned: readonly string[]): Done => ({ type: 'add', line: 'loop', n: 1, scanned });
  const story = given(...incised);
  story.when(add(codes(20))).accepted();
  story.when(add([...codes(3), ' '])).refused('malformed', 'scanned');
});

test.each([
  ['2 added to the field', undefined],
  ['2 added to the field, scanned: lot 1, scanned: lot 2', ['lot 1', 'lot 2']],
] as const)(
  'an addition says what was scanned, and nothing of it otherwise: %s',
  (words, codes) => {
    const story = given(...incised);
    const scanned = codes === undefined ? {} : { scanned: codes };
    const [event] = story.when({ type: 'add', line: 'loop', n: 2, ...scanned }).events();
    expect(event && entryWords(story.current, event).rest).toBe(words);
  },
);

test('an answer that was scanned from the wristband says so', () => {
  const answer = { kind: 'given', value: 'yes', by: 'Prueba', at } as const;
  expect(answerWords(undefined, { ...answer, scanned: true })).toMatch(/, wristband scanned$/);
  expect(answerWords(undefined, answer)).not.toContain('scanned');
});

const instant = '2026-01-05T10:00:00Z';
const endings = [' ', '\n', ' (noon)', '(noon)', ' UTC', ' AM', ' PM', 'x', '0', '12', '.5', 'Z'];

test.each([`+00${instant}`, ...endings.map((ending) => instant + ending)])(
  'an instant with something beside it is none: %j',
  (words) => expect(isInstant(words)).toBe(false),
);

test('a note that settles something is refused by the part that is wrong', () => {
  const story = given(...incised, ...specimenGone);
  const note = (more: object): Command => ({ type: 'note', text: 'words', ...more });
  story.when(note({ settles: 'taken-out', about: 'swab', n: 0 })).refused('not-a-quantity', 'n');
  story.when(note({ settles: 'everything' })).refused('malformed', 'settles');
  story.when(note({ settles: 'result-seen' })).refused('unknown-specimen', '');
});

test('[K5] a count for something else does not renew that of the last closure', () => {
  const drain: readonly Done[] = [
    { type: 'add', line: 'drain', n: 1 },
    { type: 'move', line: 'drain', from: 'table', to: 'off', n: 1 },
  ];
  const { current } = given(...incised, ...specimenGone, ...closedUp, ...drain, count('extra'));
  expect(computedOf(current, 'counts', at)).toEqual({
    ok: false,
    words: 'final count out of date',
  });
});
