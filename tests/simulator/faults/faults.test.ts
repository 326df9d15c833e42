import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { kept } from './kept.ts';
import { planOf } from './plan.ts';
import { simulate, simulateSeed } from './simulate.ts';
import { sweep } from './sweep.ts';
import { installTime } from './time.ts';

/** As many as fit into a test run: `npm run soak:faults` plays 10,000, and every error at every call. */
const seeds = 500;
const firstSeed = 1_000_000;

let putBack = () => {};
beforeAll(() => {
  putBack = installTime();
  vi.spyOn(console, 'warn').mockImplementation(() => undefined);
});
afterAll(() => {
  putBack();
  vi.restoreAllMocks();
});

const long = { timeout: 300_000 };

test(
  'whatever goes wrong, nothing acknowledged is lost, nothing is half, and it is said in time',
  long,
  async () => {
    const wrong: string[] = [];
    let acknowledged = 0;
    let kills = 0;
    for (let seed = firstSeed; seed < firstSeed + seeds; seed += 1) {
      const played = await simulateSeed(seed);
      acknowledged += played.acknowledged;
      kills += played.kills;
      for (const what of played.wrong) wrong.push(`seed ${seed}: ${what}`);
    }
    expect(wrong).toEqual([]);
    expect(acknowledged).toBeGreaterThan(seeds * 5);
    expect(kills).toBeGreaterThan(seeds * 2);
  },
);

test('every kind of storage error, at calls all over a case', long, async () => {
  const { wrong, played } = await sweep(17);
  expect(wrong).toEqual([]);
  expect(played).toBeGreaterThan(100);
});

test.each(kept)('seed $seed no longer shows: $showed', long, async ({ seed }) => {
  expect((await simulateSeed(seed)).wrong).toEqual([]);
});

test('a seed is the same whenever it is played', async () => {
  expect(await simulateSeed(7)).toEqual(await simulateSeed(7));
});

test('a case without any trouble is recorded whole', async () => {
  const quiet = { ...planOf(3), database: [], files: [], upheaval: 0, windows: 1, steps: 20 };
  const played = await simulate(quiet);
  expect(played).toMatchObject({ wrong: [], wipes: 0 });
  expect(played.acknowledged).toBeGreaterThan(7);
});
