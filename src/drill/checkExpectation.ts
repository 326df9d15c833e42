import { checkpointsOf, gatesOf } from '#engine/applies.ts';
import { gateState, holdsOf } from '#engine/closures/holdsOf.ts';
import { verdictOf } from '#engine/closures/verdictOf.ts';
import { at, insideOf, introducedOf } from '#engine/ledger.ts';
import { lossOf } from '#engine/notes/lossOf.ts';
import { inSite, placeFrom } from '#engine/places.ts';
import type { Case } from '#engine/state.ts';
import type { Expectation } from './drill.ts';

/** Seen less expected of each line, at its last count or recount. Units: whole pieces. */
export type Differences = Readonly<Record<string, number>>;

/** Everything that is not as expected, one sentence each. Empty: all of it holds. */
export function checkExpectation(
  current: Case,
  differences: Differences,
  expected: Expectation,
): readonly string[] {
  const { verdict, entries } = expected;
  return [
    ...each(expected.balance, (line, places) =>
      lineOr(current, line, () => each(places, (place, n) => balance(current, { line, place, n }))),
    ),
    ...each(expected.inside, (site, lines) => inside(current, site, lines)),
    ...each(expected.introduced, (line, n) =>
      lineOr(current, line, () =>
        same(`introduced of ${line}`, introducedOf(current.ledger, line), n),
      ),
    ),
    ...each(expected.difference, (line, n) =>
      lineOr(current, line, () => difference(differences, line, n)),
    ),
    ...each(expected.closure, (gate, state) =>
      gateOr(current, gate, () => same(`${gate}`, gateState(current, gate), state)),
    ),
    ...each(expected.holds, (gate, codes) =>
      gateOr(current, gate, () => holds(current, gate, codes)),
    ),
    ...(verdict === undefined ? [] : same('the verdict', verdictOf(current), verdict)),
    ...each(expected.loss, (part, ml) => loss(current, part, ml)),
    ...each(expected.specimen, (id, stage) =>
      same(`specimen ${id}`, current.specimens[id]?.stage ?? 'not there', stage),
    ),
    ...each(expected.checkpoint, (id, state) =>
      same(`checkpoint ${id}`, checkpoint(current, id), state),
    ),
    ...(entries === undefined ? [] : same('the number of entries', current.entry, entries)),
  ];
}

function each<Value>(
  map: Readonly<Record<string, Value>> | undefined,
  check: (key: string, value: Value) => readonly string[],
): readonly string[] {
  return Object.entries(map ?? {}).flatMap(([key, value]) => check(key, value));
}

const same = (what: string, is: string | number, expected: string | number): readonly string[] =>
  is === expected ? [] : [`${what} is ${is}, where ${expected} was expected`];

function lineOr(current: Case, line: string, check: () => readonly string[]): readonly string[] {
  return current.lines.has(line) ? check() : [`there is no line ${line}`];
}

function gateOr(current: Case, gate: string, check: () => readonly string[]): readonly string[] {
  const gates = gatesOf(current);
  return gates.includes(gate) ? check() : [`there is no closure ${gate}, only ${gates.join(', ')}`];
}

function balance(
  current: Case,
  { line, place, n }: { readonly line: string; readonly place: string; readonly n: number },
): readonly string[] {
  const what = `${line} at ${place}`;
  if (place === 'patient') return same(what, insideOf(current.ledger, line), n);
  const meant = placeFrom(place, current.sheet.sites);
  return meant === undefined
    ? [`there is no place ${place}`]
    : same(what, at(current.ledger, line, meant), n);
}

function inside(
  current: Case,
  site: string,
  expected: Readonly<Record<string, number>>,
): readonly string[] {
  if (!current.sheet.sites.some((known) => known.id === site)) return [`there is no site ${site}`];
  const lines = new Set([...Object.keys(expected), ...current.lines.keys()]);
  return [...lines].flatMap((line) =>
    lineOr(current, line, () =>
      same(`${line} in ${site}`, at(current.ledger, line, inSite(site)), expected[line] ?? 0),
    ),
  );
}

function difference(differences: Differences, line: string, n: number): readonly string[] {
  const is = differences[line];
  return is === undefined ? [`${line} was not counted yet`] : same(`difference of ${line}`, is, n);
}

function holds(current: Case, gate: string, expected: readonly string[]): readonly string[] {
  const words = (codes: readonly string[]) => `[${[...new Set(codes)].sort().join(', ')}]`;
  const is = words(holdsOf(current, gate).map((hold) => hold.code));
  return same(`holds of ${gate}`, is, words(expected));
}

function loss(current: Case, part: string, ml: number): readonly string[] {
  const { swabsMl, suctionMl, totalMl, isUnknown } = lossOf(current);
  const parts: Readonly<Record<string, number>> = {
    swabs: swabsMl,
    suction: suctionMl,
    total: totalMl,
  };
  const is = parts[part];
  if (is === undefined) return [`loss knows ${Object.keys(parts).join(', ')}, not ${part}`];
  return isUnknown
    ? ['the loss is unknown: a dry weight is missing, or more than what was weighed']
    : same(`loss ${part}`, is, ml);
}

function checkpoint(current: Case, id: string): string {
  if (!checkpointsOf(current).some((known) => known.id === id)) return 'not there';
  const state = current.checkpoints[id];
  if (state?.finishedAt !== undefined) return 'finished';
  return state?.begun ? 'begun' : 'not-begun';
}
