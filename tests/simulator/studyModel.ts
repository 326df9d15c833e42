/** People who count, with their errors; and the ways of counting that the study compares. */
import { around, beta, type Chance, slip, slipsOf } from './studyChance.ts';
import type { Judge, Recorded } from './studyJudge.ts';

export type Counting = 'open' | 'blind' | 'blind, two people';
/** `first match`: a recount that agrees ends it. `two in a row`: the engine's rule. */
export type Rule = 'first match' | 'two in a row';
export type Arm = { readonly counting: Counting; readonly rule: Rule; readonly places: boolean };

export const arms: readonly Arm[] = (['open', 'blind', 'blind, two people'] as const).flatMap(
  (counting) =>
    (['first match', 'two in a row'] as const).flatMap((rule) =>
      [false, true].map((places) => ({ counting, rule, places })),
    ),
);

/** How many pieces a line has, and how often. */
export const lineSizes = [5, 10, 15, 20, 30, 40] as const;
const sizeChances = [0.2, 0.35, 0.1, 0.2, 0.1, 0.05] as const;

/** Sensitivity of the count in practice. Source: Egorova 2008, Ann Surg 247:13. */
export const publishedSensitivity = 0.772;
/** Operations with a piece in the patient at the final count: 22 in 153,263, by arithmetic from the same. */
export const retainedRate = 1.44e-4;
const linesInCase = 8;
const insertionsInCase = 12;

/** What is not known of people. One draw is one world that could be. */
export type Priors = {
  /** The piece was never entered, or the first count was wrong: no count can see it. */
  readonly uncounted: number;
  readonly doubled: number;
  readonly skipped: number;
  /** The share of the pull of an expected number that is left when the number is not shown. */
  readonly leak: number;
  /** A recount says the pack's number because nothing else is likely. */
  readonly guess: number;
  readonly missedIn: number;
  readonly falseOut: number;
  readonly missedOut: number;
  readonly tracked: number;
  readonly dismissed: number;
  /** Closed although flagged: with the habits of today, and where closing is refused. */
  readonly closedAnyway: number;
  readonly closedHard: number;
  /** How often an open count says the expected number whatever lies there; solved from the published figure. */
  readonly pull: number;
  readonly slipsWhole: ReadonlyMap<number, readonly number[]>;
  readonly slipsShort: ReadonlyMap<number, readonly number[]>;
};

export function drawPriors(chance: Chance): Priors {
  const doubled = around(chance, 1e-3, 4);
  const skipped = around(chance, 1e-3, 4);
  const uncounted = beta(chance, 2, 38);
  const slips = (lost: number) =>
    new Map(lineSizes.map((n) => [n, slipsOf(n - lost, doubled, skipped)]));
  const slipsShort = slips(1);
  return {
    uncounted,
    doubled,
    skipped,
    leak: beta(chance, 2, 8),
    guess: beta(chance, 1.5, 28.5),
    missedIn: around(chance, 0.05, 3),
    falseOut: around(chance, 0.01, 3),
    missedOut: around(chance, 0.03, 3),
    tracked: beta(chance, 16, 4),
    dismissed: beta(chance, 2, 18),
    closedAnyway: beta(chance, 5.5, 12.5),
    closedHard: beta(chance, 2, 18),
    pull: pullFor(uncounted, slipsShort),
    slipsWhole: slips(0),
    slipsShort,
  };
}

/**
 * The pull of an expected number with which the practice of today is as sensitive as published: an open count,
 * one recount when it differs, and whichever agrees is believed.
 */
function pullFor(uncounted: number, slips: ReadonlyMap<number, readonly number[]>): number {
  const sensitivity = (pull: number): number =>
    lineSizes.reduce((sum, n, at) => {
      const says = pull + (1 - pull) * (slips.get(n)?.[4] ?? 0);
      return sum + (1 - uncounted) * (sizeChances[at] ?? 0) * (1 - says) ** 2;
    }, 0);
  let [low, high] = [0, 1];
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    if (sensitivity(middle) > publishedSensitivity) low = middle;
    else high = middle;
  }
  return low;
}

function drawSize(chance: Chance): number {
  let left = chance();
  for (const [at, n] of lineSizes.entries()) {
    left -= sizeChances[at] ?? 0;
    if (left < 0) return n;
  }
  return 40;
}

/** What lies there to be seen: `book` is what the record knows of the line. */
type Scene = { readonly book: number; readonly slips: readonly number[]; readonly there: number };

/** One round: the number that is said to the engine. */
function round(chance: Chance, arm: Arm, priors: Priors, scene: Scene, isFirst: boolean): number {
  const seen = () => Math.max(0, scene.there + slip(chance, scene.slips));
  const pull = isFirst ? priors.leak * priors.pull : priors.guess;
  const said = arm.counting === 'open' ? priors.pull : pull;
  const isPulled = chance() < said;
  const one = isPulled ? scene.book : seen();
  if (arm.counting !== 'blind, two people') return one;
  // Two people in one room expect the same: if one says the expected number, so does the other more often.
  const other = chance() < (isPulled ? (1 + said) / 2 : said) ? scene.book : seen();
  return one === scene.book ? other : one;
}

type Ended = { readonly isFlagged: boolean; readonly recounts: number };

/** Counts and recounts until the engine is satisfied, by the arm's rule, or a discrepancy is open. */
function counted(chance: Chance, arm: Arm, priors: Priors, scene: Scene, judge: Judge): Ended {
  const counts = [round(chance, arm, priors, scene, true)];
  for (;;) {
    const { stage } = judge(scene.book, 'nothing', counts);
    const recounts = counts.length - 1;
    if (stage === 'agrees' || stage === 'settled') return { isFlagged: false, recounts };
    if (stage === 'once' && arm.rule === 'first match') return { isFlagged: false, recounts };
    if (stage === 'discrepancy') return { isFlagged: true, recounts };
    counts.push(round(chance, arm, priors, scene, false));
  }
}

/** A case with one piece in the patient: whether it was flagged. */
export function isRetainedFlagged(chance: Chance, arm: Arm, priors: Priors, judge: Judge): boolean {
  const n = drawSize(chance);
  const isUncounted = chance() < priors.uncounted;
  const book = isUncounted ? n - 1 : n;
  const slips = priors.slipsShort.get(n) ?? [];
  const byCount = counted(chance, arm, priors, { book, slips, there: n - 1 }, judge).isFlagged;
  if (!arm.places) return byCount;
  const isTappedIn = chance() < priors.tracked * (1 - priors.missedIn);
  const isTappedOut = chance() < priors.falseOut || chance() < priors.dismissed;
  const inside: Recorded = !isTappedIn ? 'nothing' : isTappedOut ? 'in and out' : 'in';
  return byCount || judge(book, inside, [book]).isInsideHeld;
}

/** A case with nothing in the patient: recounts, discrepancies and prompts for nothing. */
export function needless(chance: Chance, arm: Arm, priors: Priors, judge: Judge) {
  let recounts = 0;
  let discrepancies = 0;
  for (let i = 0; i < linesInCase; i++) {
    const n = drawSize(chance);
    const scene = { book: n, slips: priors.slipsWhole.get(n) ?? [], there: n };
    const ended = counted(chance, arm, priors, scene, judge);
    recounts += ended.recounts;
    if (ended.isFlagged) discrepancies += 1;
  }
  let prompts = 0;
  if (arm.places)
    for (let i = 0; i < insertionsInCase; i++) if (chance() < priors.missedOut) prompts += 1;
  return { recounts, discrepancies, prompts };
}
