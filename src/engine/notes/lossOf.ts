import { minutesBetween } from '../quantities.ts';
import type { Case, Fluid } from '../state.ts';

/** An estimate of blood loss. Units: millilitres. `needsLook`: more was taken off than the suction holds. */
export type Loss = {
  readonly swabsMl: number;
  readonly suctionMl: number;
  readonly totalMl: number;
  readonly isUnknown: boolean;
  readonly needsLook: boolean;
};

/**
 * Weighed swabs less their dry weight (1 g taken as 1 mL), plus suction less irrigation and other fluid.
 *
 * A line without a dry weight makes the estimate unknown, as do swabs that weigh less than dry ones: one of the two
 * numbers is wrong. It is never shown as a number then.
 * `since`: only what was measured after this instant.
 * Rules: K10.
 * Source: common practice; the dry weights stand in the sheet and are the hospital's to weigh.
 */
export function lossOf(current: Case, since?: string): Loss {
  const counts = ({ at }: Measured) => since === undefined || minutesBetween(since, at) > 0;
  let swabsMl = 0;
  let isUnknown = false;
  for (const { line, n, wetG } of current.weighed.filter(counts)) {
    const dryG = current.lines.get(line)?.dryG;
    if (dryG === undefined || wetG < n * dryG) isUnknown = true;
    else swabsMl += wetG - n * dryG;
  }
  const fluids = current.fluids.filter(counts);
  const held = sumOf(fluids, 'suction') - sumOf(fluids, 'irrigation') - sumOf(fluids, 'other');
  const suctionMl = Math.max(0, held);
  return { swabsMl, suctionMl, totalMl: swabsMl + suctionMl, isUnknown, needsLook: held < 0 };
}

type Measured = { readonly at: string };

function sumOf(fluids: readonly Fluid[], kind: Fluid['kind']): number {
  return fluids.reduce((sum, fluid) => (fluid.kind === kind ? sum + fluid.ml : sum), 0);
}
