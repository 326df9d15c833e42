import { say, sayInside, spokenLanguage } from '#words/say.ts';
import { signOut } from '../applies.ts';
import { type Block, eachBlock } from '../ledger.ts';
import { lengthsDiffer } from '../moves/lengthsDiffer.ts';
import { inSite } from '../places.ts';
import type { Closure, Sheet } from '../sheet.ts';
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
  const asking = askingOf(current, upTo, gate);
  const holds: Hold[] = [];
  // How fragments add up does not follow from their balances alone.
  const isKept = current.fragments.length === 0 && !current.ledger.isOwn;
  eachBlock(current.ledger, (block, lines) => {
    const known = isKept ? asking.known.get(block) : undefined;
    const found = known ?? lines.flatMap((id, index) => holdOf(current, asking, id, block[index]));
    if (isKept && !known) asking.known.set(block, found);
    holds.push(...found);
  });
  return holds;
}

/** The hold of one line, where it has one. */
function holdOf(
  current: Case,
  { sites }: Asking,
  id: string,
  balances: readonly number[] = [],
): readonly Hold[] {
  const line = current.lines.get(id);
  if (!line) return none;
  const isFragment = current.fragments.some((set) => set.line === id);
  let pieces = 0;
  let first: SiteBefore | undefined;
  for (const site of sites) {
    const n = balances[site.column] ?? 0;
    if (n === 0) continue;
    pieces += n;
    if (!first && !site.inUse.includes(id)) first = site;
  }
  if (!first && !(isFragment && lengthsDiffer(current, id))) return none;
  const where = { about: id, who: say`surgeon and scrub`, screen: 'frame' } as const;
  if (first)
    return [
      {
        ...where,
        code: isFragment ? 'fragment-open' : 'piece-inside',
        title: `${line.name}: ${say`${pieces} in the ${first.name}`}`,
        detail:
          line.stay.may === 'no' ? say`Take it out` : say`Take it out, or leave it on purpose`,
      },
    ];
  return [
    {
      ...where,
      code: 'fragment-open',
      title: say`${line.name}s do not add up`,
      detail: say`Their lengths do not make the whole piece: search for the rest`,
    },
  ];
}

const none: readonly Hold[] = [];

/** What a gate asks about in the language that is spoken, and what was found for blocks of the ledger. */
type Asking = {
  /** By which it was worked out. Two closures may share an id, for different variants. */
  readonly sheet: Sheet;
  readonly upTo: readonly Closure[];
  readonly sites: readonly SiteBefore[];
  readonly known: WeakMap<Block, readonly Hold[]>;
};

/** By the lines of a case, which stay the same from entry to entry; then by language and gate. */
const askings = new WeakMap<Case['lines'], Map<string, Asking>>();

function askingOf(current: Case, upTo: readonly Closure[], gate: string): Asking {
  const { sheet, lines } = current;
  const key = `${spokenLanguage()} ${gate}`;
  const ofLines = askings.get(lines) ?? new Map<string, Asking>();
  askings.set(lines, ofLines);
  const known = ofLines.get(key);
  const isSame =
    known?.sheet === sheet &&
    known.upTo.length === upTo.length &&
    upTo.every((closure, index) => closure === known.upTo[index]);
  if (isSame) return known;
  const sites = sitesBefore(current, upTo, gate);
  const asking = { sheet, upTo, sites, known: new WeakMap() };
  ofLines.set(key, asking);
  return asking;
}

/** A site that a gate asks about, and the lines that may still be in use in it. */
type SiteBefore = {
  /** Where its balances stand in the ledger. */
  readonly column: number;
  readonly name: string;
  readonly inUse: readonly string[];
};

/**
 * The sites of the closures up to a gate; before sign out, all. A line may be in use inside for the closure of its
 * site if every later one up to the gate says so too.
 */
function sitesBefore(current: Case, upTo: readonly Closure[], gate: string): readonly SiteBefore[] {
  const { sites, columns } = current.ledger.layout;
  return sites.flatMap((id, index) => {
    const column = columns[inSite(id)] ?? Number.NaN;
    const name = sayInside(current.sheet.sites[index]?.name ?? '');
    if (gate === signOut) return [{ column, name, inUse: [] }];
    const own = upTo.findIndex((closure) => closure.sites.includes(id));
    if (own < 0) return [];
    const [first, ...later] = upTo.slice(own);
    const inUse = (first?.inUse ?? []).filter((line) =>
      later.every((closure) => closure.inUse.includes(line)),
    );
    return [{ column, name, inUse }];
  });
}
