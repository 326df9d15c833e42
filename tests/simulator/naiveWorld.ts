/**
 * A case as a heap of single pieces. Nothing here is clever: every piece is an object that lies in one place,
 * and every balance is found by going through all of them. Written from the design, without the engine.
 */
import type { Command, OpenCase } from '#engine/case/events.ts';
import type { Found } from '#engine/countState.ts';
import type { CarriedFrom, Closure, Line, MomentId, Role, Sheet } from '#engine/sheet.ts';

/** What was said of a piece that stays. */
export type Said = { site?: string; reason?: string; where?: string; lot?: string; by?: string[] };

/** One thing. `origin` is the contra account it came from. */
export type Piece = {
  line: string;
  origin: 'supply' | 'changed';
  place: string;
  said?: Said;
  why?: 'declared' | 'searched-none';
};

export type Trouble = {
  stage: 'recount' | 'discrepancy';
  gate: string;
  difference: number;
  amended: number;
  streak: number;
  entry: number;
  steps: Set<string>;
};

export type Fragments = {
  line: string;
  of: string;
  site: string | undefined;
  lengths?: readonly number[];
  whole?: number;
  explained: boolean;
};

export type Running = {
  moment: MomentId;
  scrub: string;
  circulator: string;
  lines: readonly string[];
  found: Map<string, Found>;
  entry: number;
};

/** What one line of a count gave. It is a fact: taking back an earlier entry does not change what was seen. */
export type Outcome = { line: string; found: Found; expected: number; shift: number };

/**
 * An entry that was accepted. Besides the command it holds what was so at that time and what only the
 * program can name: the lines asked in a count, the name of a line of fragments.
 */
export type Fact = {
  readonly entry: number;
  readonly command: Command;
  readonly by: string;
  readonly countLines?: readonly string[];
  readonly fragment?: string;
  readonly outcomes?: readonly Outcome[];
  /** How many pieces an explanation was about, and where a lost piece was taken from, where nothing was said. */
  readonly n?: number;
  readonly from?: string;
  /** For a correction: what it takes back, and what that had done. */
  readonly corrects?: { readonly entry: number; readonly aged: boolean; readonly inside: boolean };
};

export type World = {
  sheet: Sheet;
  team: Record<Role, string>;
  lines: Map<string, Line>;
  pieces: Piece[];
  entry: number;
  /** The last entry that made counts stale, and the last that changed what is inside. */
  aged: number;
  insideChanged: number;
  incised: boolean;
  first: 'open' | 'agreed' | 'waived';
  running: Running | undefined;
  done: Map<MomentId, { entry: number; waived: boolean }>;
  reliefDue: Set<Role>;
  troubles: Map<string, Trouble>;
  fragments: Fragments[];
  carried: { line: string; from: CarriedFrom; n: number }[];
  owed: { since: number; line?: string }[];
  readings: { entry: number; wholeField: boolean; line?: string }[];
  deferred: boolean;
  amended: boolean;
  begun: Set<string>;
  answered: Set<string>;
  finished: Set<string>;
  specimens: Map<string, { stage: string; site: string; whole: boolean; part: boolean }>;
  looks: Map<string, { entry: number; answers: Map<string, string> }>;
  closed: Set<string>;
  handed: Map<string, number>;
  ended: boolean;
};

export function freshWorld({ sheet, team }: OpenCase): World {
  return {
    sheet,
    team: { ...team },
    lines: new Map(sheet.lines.map((line) => [line.id, line])),
    pieces: [],
    entry: 1,
    aged: 0,
    insideChanged: 0,
    incised: false,
    first: 'open',
    running: undefined,
    done: new Map(),
    reliefDue: new Set(),
    troubles: new Map(),
    fragments: [],
    carried: [],
    owed: [],
    readings: [],
    deferred: false,
    amended: false,
    begun: new Set(),
    answered: new Set(),
    finished: new Set(),
    specimens: new Map(
      sheet.specimens
        .filter((one) => one.planned)
        .map((one) => [one.id, { stage: 'planned', site: one.site, whole: false, part: false }]),
    ),
    looks: new Map(),
    closed: new Set(),
    handed: new Map(),
    ended: false,
  };
}

export const isInside = (place: string): boolean => place.startsWith('patient/');
export const siteIn = (place: string): string => place.slice('patient/'.length);

/** Everywhere that a piece can be, in the order of the design. */
export const everyPlace = (sheet: Sheet): readonly string[] => [
  'supply',
  'table',
  ...sheet.sites.map((site) => `patient/${site.id}`),
  'off',
  'stays',
  'specimen',
  'away',
  'missing',
  'changed',
];

/** The place that these words mean, or nothing. */
export function placeOf(sheet: Sheet, words: string): string | undefined {
  if (everyPlace(sheet).includes(words)) return words;
  const [only, second] = sheet.sites;
  if (words === 'patient' && only && !second) return `patient/${only.id}`;
  return sheet.sites.some((site) => site.id === words) ? `patient/${words}` : undefined;
}

/** Pieces of a line at a place: those that lie there, less those that came out of it as an account. */
export const balanceOf = (world: World, line: string, place: string): number =>
  world.pieces.filter((piece) => piece.line === line && piece.place === place).length -
  world.pieces.filter((piece) => piece.line === line && piece.origin === place).length;

export const piecesAt = (world: World, line: string, place: string): Piece[] =>
  world.pieces.filter((piece) => piece.line === line && piece.place === place);

export const insideOf = (world: World, line: string): number =>
  world.pieces.filter((piece) => piece.line === line && isInside(piece.place)).length;

/** What a true count would have to account for: table, patient and off. */
export const expectedOf = (world: World, line: string): number =>
  balanceOf(world, line, 'table') + insideOf(world, line) + balanceOf(world, line, 'off');

export const personOf = (world: World, words: string): string => {
  const role = (['scrub', 'circulator', 'surgeon', 'anaesthetist'] as const).find(
    (one) => one === words.trim(),
  );
  return role ? world.team[role] : words.trim();
};

/** Says whether a line is one that some closure lists as still in use inside. */
export const isListedInUse = (world: World, line: string): boolean =>
  world.sheet.closures.some((closure) => closure.inUse.includes(line));

export const closureOf = (world: World, id: string): Closure | undefined =>
  world.sheet.closures.find((closure) => closure.id === id);

/** The gates in order: the closures, then sign-out. */
export const gatesOf = (world: World): readonly string[] => [
  ...world.sheet.closures.map((closure) => closure.id),
  'sign-out',
];

/** The first gate, from this one on, that is not done. */
export const nextGate = (world: World, wanted: readonly string[]): string =>
  wanted.find((gate) => !world.closed.has(gate)) ?? 'sign-out';

export const isSiteClosed = (world: World, site: string): boolean =>
  world.sheet.closures.some(
    (closure) => closure.sites.includes(site) && world.closed.has(closure.id),
  );

/** All that a line's rule asks for before a piece of it may stay has been said. */
export function isExplained(line: Line | undefined, piece: Piece): boolean {
  const said = piece.said ?? {};
  if (!line) return false;
  if (line.stay.may === 'yes') return true;
  if (line.stay.may === 'no') return said.reason !== undefined && said.by !== undefined;
  return line.stay.needs.every((need) => said[need] !== undefined);
}

/** Fragments with lengths that do not make the whole, and nobody has accepted it. */
export const lengthsDiffer = (one: Fragments): boolean =>
  one.lengths !== undefined &&
  one.whole !== undefined &&
  !one.explained &&
  one.lengths.reduce((sum, length) => sum + length, 0) !== one.whole;

/** What was declared and found again owes no film, unless the patient has left before it. */
const isStillMissing = (world: World, line: string | undefined): boolean =>
  line === undefined ||
  world.deferred ||
  piecesAt(world, line, 'missing').some((piece) => piece.why === 'declared');

/** An X-ray is owed: something owes it, and no film of the whole field was read since. */
export const isXrayOwed = (world: World): boolean =>
  world.owed.some(
    ({ since, line }) =>
      isStillMissing(world, line) &&
      !world.readings.some(
        (one) =>
          one.wholeField &&
          one.entry > since &&
          (line === undefined || one.line === undefined || one.line === line),
      ),
  );
