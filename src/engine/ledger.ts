import { Fault } from './assert.ts';
import { inSite, isInside, type Place, type PlainPlace } from './places.ts';

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

const blockBits = 4;
const blockSize = 1 << blockBits;
const insidePrefix = 'patient/';

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
  if (number === undefined) throw new Fault(`${line} is not in the ledger`);
  const row = ledger.blocks[number >> blockBits]?.[number & (blockSize - 1)];
  if (row === undefined) throw new Fault(`${line} has no row`);
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
  const first = entry[0];
  if (!first) return ledger;
  const { sites, index } = ledger;
  const blocks = ledger.blocks.slice();
  let line = first.line;
  let row = draftOf(index, blocks, line);
  let inside: number[] | undefined;
  let isOneLine = true;
  for (const posting of entry) {
    if (posting.line !== line) {
      isOneLine = false;
      line = posting.line;
      row = draftOf(index, blocks, line);
      inside = undefined;
    }
    if (shiftPlain(row, posting.place, posting.by)) continue;
    const site = siteIndex(sites, posting.place);
    if (site < 0) throw new Fault(`${posting.place} is not a site of this case`);
    inside ??= row.inside.slice();
    inside[site] = (inside[site] ?? 0) + posting.by;
    row.inside = inside;
  }
  const next = { sites, index, blocks };
  if (isOneLine) check(sites, row, line);
  else for (const posting of entry) check(sites, rowOf(next, posting.line), posting.line);
  return next;
}

type Draft = { -readonly [Key in keyof Row]: Row[Key] };

/** A copy of a line's row, in its place in a copy of its block: what earlier ledgers hold is left as it is. */
function draftOf(index: Ledger['index'], blocks: (readonly Row[])[], line: string): Draft {
  const number = index.get(line);
  if (number === undefined) throw new Fault(`${line} is not in the ledger`);
  const block = blocks[number >> blockBits];
  const row = block?.[number & (blockSize - 1)];
  if (block === undefined || row === undefined) throw new Fault(`${line} has no row`);
  const draft: Draft = {
    supply: row.supply,
    table: row.table,
    off: row.off,
    stays: row.stays,
    specimen: row.specimen,
    away: row.away,
    missing: row.missing,
    changed: row.changed,
    inside: row.inside,
  };
  const copied = block.slice();
  copied[number & (blockSize - 1)] = draft;
  blocks[number >> blockBits] = copied;
  return draft;
}
/**
 * Changes a place that is no site; answers whether it was one. Written out place by place: this is the innermost
 * loop of reading a record.
 */
function shiftPlain(row: Draft, place: Place, by: number): boolean {
  switch (place) {
    case 'supply':
      row.supply += by;
      return true;
    case 'table':
      row.table += by;
      return true;
    case 'off':
      row.off += by;
      return true;
    case 'stays':
      row.stays += by;
      return true;
    case 'specimen':
      row.specimen += by;
      return true;
    case 'away':
      row.away += by;
      return true;
    case 'missing':
      row.missing += by;
      return true;
    case 'changed':
      row.changed += by;
      return true;
    default:
      return false;
  }
}

/** The invariant that everything else leans on. The sentence is only made when it is broken. */
function check(sites: readonly string[], row: Row, line: string): void {
  if (!isBalanced(row)) throw new Fault(`the entry on ${line} does not sum to zero`);
  const lowest = belowZero(sites, row);
  if (lowest !== undefined) throw new Fault(`${line} falls below zero at ${lowest}`);
}

function belowZero(sites: readonly string[], row: Row): Place | undefined {
  if (row.table < 0) return 'table';
  if (row.off < 0) return 'off';
  if (row.stays < 0) return 'stays';
  if (row.specimen < 0) return 'specimen';
  if (row.away < 0) return 'away';
  if (row.missing < 0) return 'missing';
  const { inside } = row;
  for (let site = 0; site < inside.length; site++)
    if ((inside[site] ?? 0) < 0) return inSite(sites[site] ?? '');
  return undefined;
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
  return row.inside[siteIndex(ledger.sites, place)] ?? 0;
}

/** The number of the site that a place is; -1 where it is none of these. Makes no new text to find out. */
function siteIndex(sites: readonly string[], place: string): number {
  if (!place.startsWith(insidePrefix)) return -1;
  for (let site = 0; site < sites.length; site++) {
    const name = sites[site] ?? '';
    if (place.length === insidePrefix.length + name.length && place.endsWith(name)) return site;
  }
  return -1;
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
  for (let i = 0; i < numbers.length; i++) total += numbers[i] ?? 0;
  return total;
}
