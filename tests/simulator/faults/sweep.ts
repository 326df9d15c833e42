/** Every kind of storage error at the first call, at the second, and so on until a case has no such call. */
import { type DatabaseMishap, databaseMishaps, type FileMishap, fileMishaps } from './mishaps.ts';
import type { Plan } from './plan.ts';
import { type Simulated, simulate } from './simulate.ts';

/** Units: calls. Once, as often as a row is tried, and for a good while. */
const lengths = [1, 3, 40];

type Kind =
  | { readonly home: 'database'; readonly mishap: DatabaseMishap }
  | { readonly home: 'file'; readonly mishap: FileMishap };

const kinds: readonly Kind[] = [
  ...databaseMishaps.map((mishap) => ({ home: 'database', mishap }) as const),
  ...fileMishaps.map((mishap) => ({ home: 'file', mishap }) as const),
];

const planFor = (kind: Kind, from: number, length: number): Plan => ({
  seed: from,
  windows: 1,
  steps: 12,
  upheaval: 0,
  database: kind.home === 'database' ? [{ from, length, mishap: kind.mishap }] : [],
  files: kind.home === 'file' ? [{ from, length, mishap: kind.mishap }] : [],
});

/** `stride` leaves calls out; 1 takes every one. Answers all that did not hold, in words. */
export async function sweep(stride: number) {
  const wrong: string[] = [];
  let played = 0;
  for (const [index, kind] of kinds.entries()) {
    for (const length of lengths) {
      let call = 1 + (index % stride);
      for (let last: Simulated | undefined; isLeft(last, kind, call); call += stride) {
        last = await simulate(planFor(kind, call, length));
        played += 1;
        for (const what of last.wrong)
          wrong.push(`${kind.home} ${kind.mishap} ${length} times from call ${call}: ${what}`);
      }
    }
  }
  return { wrong, played };
}

/** Units: calls. A case of twelve taps has no more. */
const callsMax = 400;

function isLeft(last: Simulated | undefined, { home }: Kind, call: number): boolean {
  if (!last) return true;
  return call <= Math.min(callsMax, home === 'file' ? last.fileCalls : last.databaseCalls);
}
