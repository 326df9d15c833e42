import { say } from '#words/say.ts';
import { dueAfter, lastDoses } from '../checkpoints/prophylaxis.ts';
import { lossOf } from '../notes/lossOf.ts';
import type { Case } from '../state.ts';

/** What is to be said of the next dose of a medicine that was given. */
export type Redose =
  | { readonly agent: string; readonly state: 'timed'; readonly dueAt: string }
  | { readonly agent: string; readonly state: 'bled'; readonly lossMl: number }
  | { readonly agent: string; readonly state: 'untimed'; readonly sentence: string };

const untimed = () =>
  say`The table gives no second dose of it. A very long case may need one: ask.`;

/**
 * The next dose of every medicine given: at its time, or before it, when more blood was lost since than the policy
 * says. A medicine without an interval has no time and is not asked for by blood loss either.
 *
 * Units: millilitres. Where a dry weight is not known, the loss is at least what is known of it.
 * Rules: K9, K12.
 * Source: ASHP/IDSA/SIS/SHEA 2013 (more than 1500 mL; table 1: no interval reflects the usual length of a case).
 */
export function redosesOf(current: Case): readonly Redose[] {
  const { redoseBloodLossMl } = current.sheet.policy;
  return lastDoses(current).map((dose): Redose => {
    const { agent } = dose;
    const dueAt = dueAfter(current, dose);
    if (dueAt === undefined) return { agent, state: 'untimed', sentence: untimed() };
    const { totalMl } = lossOf(current, dose.at);
    return totalMl > redoseBloodLossMl
      ? { agent, state: 'bled', lossMl: totalMl }
      : { agent, state: 'timed', dueAt };
  });
}
