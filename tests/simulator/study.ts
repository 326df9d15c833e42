/**
 * How much do blind counting, places and a hard stop help? `npm run study` (or `node study.ts DRAWS CASES`).
 *
 * A seeded Monte-Carlo model of people who count, judged by the real engine. It ranks designs and shows which
 * unknown matters. It is no evidence of benefit.
 */
import { chanceFrom, quantile } from './studyChance.ts';
import { makeJudge } from './studyJudge.ts';
import {
  type Arm,
  arms,
  drawPriors,
  isRetainedFlagged,
  needless,
  type Priors,
  retainedRate,
} from './studyModel.ts';

export const studySeed = 20_240_607;

/** What one arm did in one world. Units: escapes a million operations; the others a case. */
export type Found = {
  readonly sensitivity: number;
  readonly escapes: number;
  readonly escapesHard: number;
  readonly recounts: number;
  readonly discrepancies: number;
  readonly prompts: number;
};

const escapesOf = (sensitivity: number, closedAnyway: number): number =>
  1e6 * retainedRate * (1 - sensitivity + sensitivity * closedAnyway);

/** One world: the same priors for every arm, so many cases with a piece inside and so many without. */
function inOneWorld(seed: number, cases: number, judge: ReturnType<typeof makeJudge>) {
  const priors: Priors = drawPriors(chanceFrom(seed));
  return arms.map((arm, at): Found => {
    const chance = chanceFrom(seed * 64 + at + 1);
    let flagged = 0;
    for (let i = 0; i < cases; i++) if (isRetainedFlagged(chance, arm, priors, judge)) flagged += 1;
    const sums = { recounts: 0, discrepancies: 0, prompts: 0 };
    const quiet = Math.ceil(cases / 4);
    for (let i = 0; i < quiet; i++) {
      const one = needless(chance, arm, priors, judge);
      sums.recounts += one.recounts;
      sums.discrepancies += one.discrepancies;
      sums.prompts += one.prompts;
    }
    const sensitivity = flagged / cases;
    return {
      sensitivity,
      escapes: escapesOf(sensitivity, priors.closedAnyway),
      escapesHard: escapesOf(sensitivity, priors.closedHard),
      recounts: sums.recounts / quiet,
      discrepancies: sums.discrepancies / quiet,
      prompts: sums.prompts / quiet,
    };
  });
}

export type Row = { readonly arm: Arm; readonly found: readonly Found[] };

/** The whole study: for each arm what was found in each world. The same seed gives the same. */
export function study(seed: number, worlds: number, cases: number): readonly Row[] {
  const judge = makeJudge();
  const all = Array.from({ length: worlds }, (_, i) => inOneWorld(seed + i, cases, judge));
  return arms.map((arm, at) => ({
    arm,
    found: all.flatMap((world) => {
      const one = world[at];
      return one ? [one] : [];
    }),
  }));
}

/** Median and the range that nine worlds in ten lie in. */
export function interval(row: Row, key: keyof Found): readonly [number, number, number] {
  const sorted = row.found.map((one) => one[key]).sort((one, other) => one - other);
  return [quantile(sorted, 0.05), quantile(sorted, 0.5), quantile(sorted, 0.95)];
}

const mean = (row: Row, key: keyof Found): number =>
  row.found.reduce((sum, one) => sum + one[key], 0) / row.found.length;

function inWords(row: Row, key: keyof Found, digits: number, times = 1): string {
  const [low, middle, high] = interval(row, key).map((one) => (one * times).toFixed(digits));
  return `${middle} (${low}–${high})`;
}

function print(rows: readonly Row[], worlds: number, cases: number): void {
  console.log(
    `\nThis is a model, not evidence. ${worlds} worlds drawn from priors, ${cases} forced retentions an arm in ` +
      `each, seed ${studySeed}. Median (5–95 % of the worlds).\n`,
  );
  const heads = [
    'count',
    'recounts end by',
    'in and out places',
    'sensitivity, %',
    'escapes a million, habits as today',
    'with a hard stop',
    'needless recounts a case',
    'needless discrepancies a case',
    'needless prompts a case',
  ];
  console.log(`| ${heads.join(' | ')} |`);
  console.log('| --- | --- | --- | --- | --- | --- | --- | --- | --- |');
  for (const row of rows) {
    const { counting, rule, places } = row.arm;
    const cells = [
      counting,
      rule,
      places ? 'yes' : 'no',
      inWords(row, 'sensitivity', 1, 100),
      inWords(row, 'escapes', 0),
      inWords(row, 'escapesHard', 0),
      mean(row, 'recounts').toFixed(2),
      mean(row, 'discrepancies').toFixed(2),
      mean(row, 'prompts').toFixed(2),
    ];
    console.log(`| ${cells.join(' | ')} |`);
  }
  console.log(`
Needless figures are means over worlds, with 8 lines and 12 insertions a case and all pieces present.

How it counts. One piece of one line is in the patient. Each object can be counted twice or skipped. An open count
and its recount say the expected number with the chance that makes today's practice, open and the first match
believed, as sensitive as published (77.2 %, Egorova 2008). A blind count does so with what is left of that pull; a
recount that is told only that it does not agree guesses the pack's number now and then. Two people must both say
the number; what pulls one pulls the other. With places a piece is also held if it was tapped in and neither tapped
out nor dismissed. The engine says whether a count agrees, what two recounts settle, when a discrepancy opens and
whether a piece is inside. Escapes are retentions not flagged, and those flagged and closed anyway.

Published: the sensitivity of the count, 22 retentions at the final count in 153,263 operations, 5 of 17 flagged
ones closed (both by arithmetic from Egorova 2008). Judgement, with a wide range: how often a piece was never
entered (5 %), slips (1 in 1,000 objects each way), the pull that is left when the number is hidden (20 %), guesses
(5 %), taps missed on the way in (5 %) and out (3 %), false taps out (1 %), kinds of piece that are followed (80 %),
prompts dismissed (10 %), and above all how many would still close against a hard stop (10 %).

What a trial with people would have to show: in a bench of bowls with one piece taken out at random in half of the
runs, the slip rate and how often a number is typed from memory; 40 seeded omissions an arm tell 77 % from 98 %
(two-sided 5 %, power 80 %); 299 without a miss would support 99 % with 95 % confidence. Then, in theatres, how often
a flagged count is closed.`);
}

if (import.meta.main) {
  const [worlds = 500, cases = 4000] = process.argv.slice(2).map(Number);
  print(study(studySeed, worlds, cases), worlds, cases);
}
