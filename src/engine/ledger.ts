import { Fault } from './assert.ts';
import { inSite, type Place, type PlainPlace } from './places.ts';

/** Where the pieces of one line are. `inside` has one number a site, in the order of the sheet's sites. */
export type Row = { readonly [place in PlainPlace]: number } & {
  readonly inside: readonly number[];
};

/** The same as numbers, which are copied at once: the plain places, then the sites. */
type Balances = readonly number[];

/** Numbers by name. It has no prototype, so that a name out of a damaged record finds nothing else. */
type Numbered = Readonly<Record<string, number>>;

/**
 * All balances. Those of a line lie in small blocks, so that a new version copies one line and one block and shares
 * everything else.
 */
export type Ledger = {
  readonly layout: Layout;
  /** Written into by `post` alone, and only where nobody else holds them. */
  readonly blocks: number[][][];
  readonly isOwn: boolean;
};

/** Where balances stand. It stays the same until a line is opened. */
type Layout = {
  readonly sites: readonly string[];
  /** By place. */
  readonly columns: Numbered;
  /** By line. */
  readonly index: Numbered;
  /** The lines of each block. */
  readonly lines: readonly (readonly string[])[];
};

/** A change of one balance. Units: whole pieces, signed. */
export type Posting = { readonly line: string; readonly place: Place; readonly by: number };

const blockBits = 4;
const blockSize = 1 << blockBits;

/** The contra accounts first: from `firstReal` on no balance is below zero. A column for each site follows. */
const plainColumns = [
  'supply',
  'changed',
  'table',
  'off',
  'stays',
  'specimen',
  'away',
  'missing',
] as const satisfies readonly PlainPlace[];
const firstReal = 2;
const firstSite = plainColumns.length;

/** A ledger with these lines, all balances zero. */
export function emptyLedger(lines: readonly string[], sites: readonly string[]): Ledger {
  const columns: Record<string, number> = Object.create(null);
  for (const [column, place] of [...plainColumns, ...sites.map(inSite)].entries())
    columns[place] = column;
  const layout = { sites, columns, index: Object.create(null), lines: [] };
  return withLines({ layout, blocks: [], isOwn: false }, lines);
}

/** Adds a line, all balances zero (a fragment that nobody foresaw). A known line is left as it is. */
export const openLine = (ledger: Ledger, line: string): Ledger =>
  ledger.layout.index[line] === undefined ? withLines(ledger, [line]) : ledger;

function withLines(ledger: Ledger, lines: readonly string[]): Ledger {
  const { layout } = ledger;
  const index: Record<string, number> = Object.assign(Object.create(null), layout.index);
  const all = ledger.blocks.flat();
  for (const line of lines) {
    index[line] = all.length;
    all.push(Array.from({ length: firstSite + layout.sites.length }, () => 0));
  }
  const named = inBlocks([...layout.lines.flat(), ...lines]);
  const next = { layout: { ...layout, index, lines: named }, blocks: inBlocks(all), isOwn: false };
  return ledger.isOwn ? ownLedger(next) : next;
}

const inBlocks = <T>(all: readonly T[]): T[][] =>
  Array.from({ length: Math.ceil(all.length / blockSize) }, (_, block) =>
    all.slice(block * blockSize, (block + 1) * blockSize),
  );

/**
 * A copy of the ledger that nobody else holds: postings are written into it, and answer the same ledger. For the one
 * that reads a whole record and shows nothing before its end; `sharedLedger` ends it.
 */
export function ownLedger({ layout, blocks }: Ledger): Ledger {
  const own = blocks.map((block) => block.map((balances) => balances.slice()));
  return { layout, blocks: own, isOwn: true };
}

/** The same ledger, never written into again. */
export const sharedLedger = ({ layout, blocks }: Ledger): Ledger => ({
  ...{ layout, blocks },
  isOwn: false,
});

/**
 * The balances of one line, in the columns of the ledger: the same list as long as none of them changes.
 *
 * Throws: Fault for a line that was never opened.
 */
export const balancesOf = ({ blocks, layout }: Ledger, line: string): Balances =>
  lying(blocks, numberOf(layout.index, line));

/** The balances of lines that lie together: the same list as long as none of them changes, except in an own ledger. */
export type Block = readonly Balances[];

/** Calls for each block of the ledger, with the lines that lie in it, in the order in which they were opened. */
export function eachBlock(
  { blocks, layout }: Ledger,
  look: (block: Block, lines: readonly string[]) => void,
): void {
  for (const [number, block] of blocks.entries()) look(block, layout.lines[number] ?? []);
}

/** All balances of one line by name, as a new value each time. Throws: Fault for a line that was never opened. */
export function rowOf(ledger: Ledger, line: string): Row {
  const [supply = 0, changed = 0, table = 0, off = 0, stays = 0, specimen = 0, away = 0, ...rest] =
    balancesOf(ledger, line);
  const [missing = 0, ...inside] = rest;
  return { supply, changed, table, off, stays, specimen, away, missing, inside };
}

/** The balance of a line at a place; none at a site that the case does not have. Units: whole pieces. */
export function at(ledger: Ledger, line: string, place: Place): number {
  const balances = balancesOf(ledger, line);
  const column = ledger.layout.columns[place];
  return column === undefined ? 0 : (balances[column] ?? 0);
}

/** Pieces of a line in the patient, all sites together. */
export const insideOf = (ledger: Ledger, line: string): number =>
  sumFrom(balancesOf(ledger, line), firstSite);

/** Pieces that a true count would account for: on the table, in the patient, off the field. */
export function accountedOf(ledger: Ledger, line: string): number {
  const row = rowOf(ledger, line);
  return row.table + row.off + insideOf(ledger, line);
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
  if (entry.length === 0) return ledger;
  const { layout, isOwn } = ledger;
  const { columns, index } = layout;
  const blocks = isOwn ? ledger.blocks : ledger.blocks.slice();
  let line: string | undefined;
  let balances: number[] = [];
  let sum = 0;
  // An entry of one line is looked at while it is posted; any other, or one that seems wrong, once more as a whole.
  let isSound = true;
  for (const posting of entry) {
    if (posting.line !== line) {
      isSound = line === undefined;
      line = posting.line;
      const number = numberOf(index, line);
      balances = isOwn ? lying(blocks, number) : draftOf(blocks, number);
    }
    const column = columns[posting.place];
    if (column === undefined) throw new Fault(`${posting.place} is not a site of this case`);
    const balance = (balances[column] ?? 0) + posting.by;
    balances[column] = balance;
    if (balance < 0 && column >= firstReal) isSound = false;
    sum += posting.by;
  }
  const next = isOwn ? ledger : { layout, blocks, isOwn };
  if (!isSound || sum !== 0) for (const posting of entry) check(next, posting.line);
  return next;
}

function numberOf(index: Numbered, line: string): number {
  const number = index[line];
  if (number === undefined) throw new Fault(`${line} is not in the ledger`);
  return number;
}

/** The balances of a line as they lie there. */
function lying(blocks: number[][][], number: number): number[] {
  const balances = blocks[number >> blockBits]?.[number & (blockSize - 1)];
  if (balances === undefined) throw noRow(number);
  return balances;
}

/** A copy of a line's balances, in its place in a copy of its block: what earlier ledgers hold is left as it is. */
function draftOf(blocks: number[][][], number: number): number[] {
  const block = blocks[number >> blockBits]?.slice();
  const draft = block?.[number & (blockSize - 1)]?.slice();
  if (block === undefined || draft === undefined) throw noRow(number);
  block[number & (blockSize - 1)] = draft;
  blocks[number >> blockBits] = block;
  return draft;
}

const noRow = (number: number) => new Fault(`line ${number} of the ledger has no row`);

/** The invariant that everything else leans on. The sentence is only made when it is broken. */
function check(ledger: Ledger, line: string): void {
  const balances = balancesOf(ledger, line);
  if (sumFrom(balances, 0) !== 0) throw new Fault(`the entry on ${line} does not sum to zero`);
  for (let column = firstReal; column < balances.length; column++) {
    if ((balances[column] ?? 0) >= 0) continue;
    const { columns } = ledger.layout;
    const place = Object.keys(columns).find((known) => columns[known] === column);
    throw new Fault(`${line} falls below zero at ${place}`);
  }
}

/** Whether the balances of a line over all places sum to zero. */
export const isBalanced = ({ inside, ...plain }: Row): boolean =>
  sumFrom([...Object.values(plain), ...inside], 0) === 0;

/** The postings that move `n` pieces of a line. */
export const transfer = (line: string, from: Place, to: Place, n: number): readonly Posting[] => [
  { line, place: from, by: -n },
  { line, place: to, by: n },
];

export const reversed = (entry: readonly Posting[]): readonly Posting[] =>
  entry.map((posting) => ({ ...posting, by: -posting.by }));

function sumFrom(balances: Balances, first: number): number {
  let sum = 0;
  for (let column = first; column < balances.length; column++) sum += balances[column] ?? 0;
  return sum;
}
