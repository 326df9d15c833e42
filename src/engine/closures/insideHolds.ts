import { say, sayInside } from '#words/say.ts';
import { signOut } from '../applies.ts';
import { balancesOf } from '../ledger.ts';
import { lengthsDiffer } from '../moves/lengthsDiffer.ts';
import { inSite } from '../places.ts';
import type { Closure } from '../sheet.ts';
import type { Case } from '../state.ts';
import type { Hold } from './holds.ts';

/**
 * Pieces inside the sites that a gate closes, beyond what it says may be in use; and fragments.
 *
 * A fragment inside is `fragment-open` and not also `piece-inside`.
 * Rules: X4, L11.
 */
export function insideHolds(
  current: Case,
  upTo: readonly Closure[],
  gate: string,
): readonly Hold[] {
  const sites = sitesBefore(current, upTo, gate);
  const fragments = new Set(current.fragments.map((set) => set.line));
  const holds: Hold[] = [];
  const who = say`surgeon and scrub`; // said once, since there may be a hold for every line
  const out = say`Take it out`;
  const outOrStays = say`Take it out, or leave it on purpose`;
  for (const line of current.lines.values()) {
    const balances = balancesOf(current.ledger, line.id);
    const isFragment = fragments.size > 0 && fragments.has(line.id);
    let pieces = 0;
    let first: SiteBefore | undefined;
    for (const site of sites) {
      const n = balances[site.column] ?? 0;
      if (n === 0) continue;
      pieces += n;
      if (!first && !site.inUse.includes(line.id)) first = site;
    }
    if (first) {
      holds.push({
        code: isFragment ? 'fragment-open' : 'piece-inside',
        about: line.id,
        title: `${line.name}: ${inWords(pieces, first)}`,
        detail: line.stay.may === 'no' ? out : outOrStays,
        who,
        screen: 'frame',
      });
    } else if (isFragment && lengthsDiffer(current, line.id)) {
      holds.push({
        code: 'fragment-open',
        about: line.id,
        title: say`${line.name}s do not add up`,
        detail: say`Their lengths do not make the whole piece: search for the rest`,
        who,
        screen: 'frame',
      });
    }
  }
  return holds;
}

/** A site that a gate asks about, and the lines that may still be in use in it. */
type SiteBefore = {
  /** Where its balances stand in the ledger. */
  readonly column: number;
  readonly name: string;
  readonly inUse: readonly string[];
  /** By number of pieces: that they are in it, in words. Said once for all lines of which it is so. */
  readonly words: string[];
};

function inWords(pieces: number, { name, words }: SiteBefore): string {
  const said = words[pieces] ?? say`${pieces} in the ${name}`;
  words[pieces] = said;
  return said;
}

/**
 * The sites of the closures up to a gate; before sign out, all. A line may be in use inside for the closure of its
 * site if every later one up to the gate says so too.
 */
function sitesBefore(current: Case, upTo: readonly Closure[], gate: string): readonly SiteBefore[] {
  const { sites, columns } = current.ledger.layout;
  return sites.flatMap((id, index) => {
    const column = columns[inSite(id)] ?? Number.NaN;
    const name = sayInside(current.sheet.sites[index]?.name ?? '');
    if (gate === signOut) return [{ column, name, inUse: [], words: [] }];
    const own = upTo.findIndex((closure) => closure.sites.includes(id));
    if (own < 0) return [];
    const [first, ...later] = upTo.slice(own);
    const inUse = (first?.inUse ?? []).filter((line) =>
      later.every((closure) => closure.inUse.includes(line)),
    );
    return [{ column, name, inUse, words: [] }];
  });
}
