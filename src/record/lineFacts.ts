import { insideOf, introducedOf, rowOf } from '#engine/ledger.ts';
import type { Case } from '#engine/state.ts';

/**
 * Where the pieces of one line are. Units: whole pieces; undefined while the line is to be counted again without
 * knowing: what the record expects is then neither on paper nor in a file.
 */
export type LineFacts = {
  readonly line: string;
  readonly name: string;
  readonly inAll: number | undefined;
  readonly table: number | undefined;
  readonly inside: number;
  readonly off: number | undefined;
  readonly stays: number;
  readonly specimen: number;
  readonly away: number;
  readonly missing: number;
};

/** Every line of which something ever was on the field. */
export function lineFactsOf(current: Case): readonly LineFacts[] {
  return [...current.lines.values()].flatMap(({ id, name }) => {
    const row = rowOf(current.ledger, id);
    if (row.supply === 0 && row.changed === 0) return [];
    const isBlind = current.differing[id]?.stage === 'recount';
    const blind = (pieces: number) => (isBlind ? undefined : pieces);
    return [
      {
        line: id,
        name,
        inAll: blind(introducedOf(current.ledger, id)),
        table: blind(row.table),
        inside: insideOf(current.ledger, id),
        off: blind(row.off),
        stays: row.stays,
        specimen: row.specimen,
        away: row.away,
        missing: row.missing,
      },
    ];
  });
}
