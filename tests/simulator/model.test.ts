import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import { throwsArbitrary } from './commands.ts';
import { kept } from './seeds.ts';
import { oneSite, sheets } from './sheets.ts';
import { ask, type Difference, opened, walk } from './walk.ts';

/**
 * `SIMULATE=1000000 npx vitest run tests/simulator/model.test.ts` asks at least so many commands, from seed `SEED`
 * on. A seed that fails goes into seeds.ts, cut down, with what it showed.
 */
const wanted = Number(process.env.SIMULATE ?? 15_000);
const firstSeed = Number(process.env.SEED ?? 1);
const casesPerSeed = 60;

const inWords = (seed: number, { what, engine, model, commands }: Difference): string =>
  [
    `seed ${seed}: ${what}`,
    `engine: ${engine}`,
    `model:  ${model}`,
    ...commands.map((command) => JSON.stringify(command)),
  ].join('\n');

/** Plays the cases of one seed on every sheet. Answers how many commands were asked. */
function playSeed(seed: number): number {
  let asked = 0;
  const property = fc.property(fc.nat(sheets.length - 1), throwsArbitrary, (which, throws) => {
    const walked = walk(sheets[which] ?? oneSite, throws, asked % 8 === 0);
    if ('what' in walked) throw new Error(inWords(seed, walked));
    asked += walked.commands;
  });
  fc.assert(property, { seed, numRuns: casesPerSeed });
  return asked;
}

test('[L1] [X10] the engine and a model that recounts everything agree on every command', {
  timeout: 60_000 + wanted * 2,
}, () => {
  let asked = 0;
  let seed = firstSeed;
  for (; asked < wanted; seed++) asked += playSeed(seed);
  console.log(`${asked} commands, seeds ${firstSeed} to ${seed - 1}: no difference`);
  expect(asked).toBeGreaterThanOrEqual(wanted);
});

/** Plays commands on both; answers the first difference. */
function difference(sheet: (typeof kept)[number]['sheet'], commands: readonly Command[]) {
  const played = opened(sheet);
  for (const command of commands) {
    const differs = ask(played, command, true);
    if (differs) return inWords(0, differs);
  }
  return undefined;
}

test.each(kept)('seed $seed no longer shows: $showed', ({ sheet, commands }) => {
  expect(difference(sheet, commands)).toBeUndefined();
});

test('a model that knows of one entry more is told from the engine', () => {
  const played = opened(oneSite);
  const add = { type: 'add', line: 'clip', n: 1 } as const;
  played.record = { ...played.record, facts: [{ entry: 2, command: add, by: 'Testa' }] };
  const begin = { type: 'beginCount', moment: 'first' } as const;
  expect(ask(played, begin, true)?.what).toBe('balances');
});
