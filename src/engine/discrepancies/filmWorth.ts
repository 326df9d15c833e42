import { say } from '#words/say.ts';
import type { Line, Policy } from '../sheet.ts';

/** What a plain film of the whole field can show of a piece. */
export type FilmWorth = {
  readonly level: 'shows' | 'poor' | 'none' | 'unknown';
  readonly sentence: string;
};

/**
 * Says what a film can prove for a piece of this line.
 *
 * A sharp is of steel: where its film varies, it varies by size, and a size that is given settles it.
 * Units: `sizeMm` in millimetres; the line's own size where none is given.
 * Rules: D6.
 * Source: Ponrartana 2008, needles in a pig: 10 mm or less 29 %, 11 to 24 mm 84 %, 25 mm and more 99 % seen;
 * 13 mm from a phantom study (SU-F-P-59). Both thresholds stand in the sheet's policy.
 */
export function filmWorth(line: Line, policy: Policy, sizeMm = line.sizeMm): FilmWorth {
  if (line.film === 'no')
    return {
      level: 'none',
      sentence: say`A film does not show this material. It cannot clear this piece.`,
    };
  if (sizeMm !== undefined && sizeMm <= policy.filmPoorMm)
    return {
      level: 'poor',
      sentence: say`A film shows few pieces of ${policy.filmPoorMm} mm or less (29 % of needles up to 10 mm in
        Ponrartana 2008). The team decides.`,
    };
  if (sizeMm !== undefined && sizeMm < policy.filmReliableMm)
    return {
      level: 'poor',
      sentence: say`Below ${policy.filmReliableMm} mm a film cannot be trusted to show this piece. The team decides.`,
    };
  if (line.film === 'varies' && !(line.class === 'sharp' && sizeMm !== undefined))
    return {
      level: 'unknown',
      sentence: say`Whether a film shows this piece depends on its make. Film one beside it.`,
    };
  if (sizeMm === undefined)
    return {
      level: 'unknown',
      sentence: say`How well a film shows this piece is not known. Film one beside it.`,
    };
  const seen = sizeMm >= 25 ? 99 : 84;
  return {
    level: 'shows',
    sentence: say`A film of the whole field shows most pieces of this size (${seen} % of needles in Ponrartana
      2008). It still settles nothing by itself.`,
  };
}
