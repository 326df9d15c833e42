import { assert } from './assert.ts';
import { isContra, isInside, type Place, type PlainPlace, siteOf } from './places.ts';

/** Where the pieces of one line are. `inside` has one number a site, in the order of the sheet's sites. */
export type Row = { readonly [place in PlainPlace]: number } & {
  readonly inside: readonly number[];
};

/**
 * All balances. Rows lie in small blocks, so that a new version copies one row and one block and shares
 * everything else.
 */
export type Ledger = {
  readonly sites: readonly string[];
  readonly index: ReadonlyMap<string, number>;
  readonly blocks: readonly (readonly Row[])[];
};

/** A change of one balance. Units: whole pieces, signed. */
export type Posting = { readonly line: string; readonly place: Place; readonly by: number };

const blockSize = 16;

/** A ledger with these lines, all balances zero. */
export function emptyLedger(lines: readonly string[], sites: readonly string[]): Ledger {
  const bare: Ledger = { sites, index: new Map(), blocks: [] };
  return lines.reduce(openLine, bare);
}

/** Adds a line, all balances zero (a fragment that nobody foresaw). A known line is left as it is. */
export function openLine(ledger: Ledger, line: string): Ledger {
  if (ledger.index.has(line)) return ledger;
  const index = new Map(ledger.index).set(line, ledger.index.size);
  const last = ledger.blocks.at(-1);
  const row = emptyRow(ledger.sites.length);
  const blocks =
    last && last.length < blockSize
      ? [...ledger.blocks.slice(0, -1), [...last, row]]
      : [...ledger.blocks, [row]];
  return { ...ledger, index, blocks };
}

/** All balances of one line. Throws: Fault for a line that was never opened. */
export function rowOf(ledger: Ledger, line: string): Row {
  const number = ledger.index.get(line);
  assert(number !== undefined, `${line} is not in the ledger`);
  const row = ledger.blocks[number >> 4]?.[number & (blockSize - 1)];
  assert(row !== undefined, `${line} has no row`);
  return row;
}

/** The balance of a line at a place. Units: whole pieces. */
export function at(ledger: Ledger, line: string, place: Place): number {
  return balance(ledger, rowOf(ledger, line), place);
}

/** Pieces of a line in the patient, all sites together. */
export function insideOf(ledger: Ledger, line: string): number {
  return sum(rowOf(ledger, line).inside);
}

/** Pieces that a true count would account for: on the table, in the patient, off the field. */
export function accountedOf(ledger: Ledger, line: string): number {
  const row = rowOf(ledger, line);
  return row.table + row.off + sum(row.inside);
}

/** Pieces that ever came in and have not turned into others: what a line must answer for. */
export function introducedOf(ledger: Ledger, line: string): number {
  const row = rowOf(ledger, line);
  return -row.supply - row.changed;
}

/**
 * Posts one entry: what leaves a place arrives at another, and no place holds less than nothing.
 *
 * Throws: Fault, when a line's postings do not sum to zero or a balance would fall below zero.
 * Rules: L1, L2 in rules.md.
 */
export function post(ledger: Ledger, entry: readonly Posting[]): Ledger {
  let blocks: (readonly Row[])[] | undefined;
  for (const { line, place, by } of entry) {
    const number = ledger.index.get(line);
    assert(number !== undefined, `${line} is not in the ledger`);
    blocks ??= ledger.blocks.slice();
    const block = blocks[number >> 4];
    const row = block?.[number & (blockSize - 1)];
    assert(block !== undefined && row !== undefined, `${line} has no row`);
    const copied = block.slice();
    copied[number & (blockSize - 1)] = shifted(ledger, row, place, by);
    blocks[number >> 4] = copied;
  }
  if (!blocks) return ledger;
  const next = { ...ledger, blocks };
  for (const { line, place } of entry) {
    assert(isBalanced(rowOf(next, line)), `the entry on ${line} does not sum to zero`);
    assert(isContra(place) || at(next, line, place) >= 0, `${line} falls below zero at ${place}`);
  }
  return next;
}

/** Whether the balances of a line over all places sum to zero. */
export const isBalanced = (row: Row): boolean =>
  row.supply +
    row.table +
    row.off +
    row.stays +
    row.specimen +
    row.away +
    row.missing +
    row.changed +
    sum(row.inside) ===
  0;

/** The postings that move `n` pieces of a line. */
export const transfer = (line: string, from: Place, to: Place, n: number): readonly Posting[] => [
  { line, place: from, by: -n },
  { line, place: to, by: n },
];

export const reversed = (entry: readonly Posting[]): readonly Posting[] =>
  entry.map((posting) => ({ ...posting, by: -posting.by }));

function balance(ledger: Ledger, row: Row, place: Place): number {
  if (!isInside(place)) return row[place];
  return row.inside[ledger.sites.indexOf(siteOf(place))] ?? 0;
}

function shifted(ledger: Ledger, row: Row, place: Place, by: number): Row {
  if (!isInside(place)) return { ...row, [place]: row[place] + by };
  const site = ledger.sites.indexOf(siteOf(place));
  assert(site >= 0, `${place} is not a site of this case`);
  const inside = row.inside.slice();
  inside[site] = (inside[site] ?? 0) + by;
  return { ...row, inside };
}

function emptyRow(sites: number): Row {
  return {
    supply: 0,
    table: 0,
    off: 0,
    stays: 0,
    specimen: 0,
    away: 0,
    missing: 0,
    changed: 0,
    inside: new Array<number>(sites).fill(0),
  };
}

function sum(numbers: readonly number[]): number {
  let total = 0;
  for (const number of numbers) total += number;
  return total;
}
