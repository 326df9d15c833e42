import type { Sheet, Variant, When } from '#engine/sheet.ts';
import { type Checking, checkName, isTold, mistake, type Path } from './checking.ts';
import { checkWhen } from './checkSteps.ts';
import { sidedId } from './resolve.ts';

/** Whether every site is closed by something that can be reached, and specimens come out of a site. */
export function checkClosures(checking: Checking): void {
  const { sheet, written } = checking;
  const keys = [...written.closures.keys()];
  const [sites, lines] = [sheet.sites.map(({ id }) => id), sheet.lines.map(({ id }) => id)];
  sheet.closures.forEach((closure, index) => {
    const path: Path = ['closures', keys[index] ?? closure.id];
    closure.sites.forEach((site, at) => {
      checkName(checking, 'unknown-site', [...path, 'sites', at], site, sites);
    });
    closure.inUse.forEach((line, at) => {
      checkName(checking, 'unknown-line', [...path, 'in-use', at], line, lines);
    });
    const moments = sheet.moments.map(({ id }) => id);
    const count: Path = [...path, 'count'];
    if (!isTold(checking, count))
      checkName(checking, 'unknown-moment', count, closure.count, moments);
    checkWhen(checking, closure.when, [...path, 'when'], []);
    const twin = sheet.closures.slice(0, index).find(({ id }) => id === closure.id);
    if (twin && !areApart(sheet, closure.when, twin.when))
      mistake(
        checking,
        'said-twice',
        path,
        `another closure ${closure.id}`,
        'have an id of its own, unless their variants can never be chosen together',
      );
  });
  if (sheet.closures.length === 0)
    mistake(checking, 'missing', ['closures'], 'missing', 'at least one closure');
  else checkReachable(checking, keys);
  checkSpecimens(checking, sites);
}

/** Two things that can never apply in one case: their variants are different ones of one group. */
function areApart(sheet: Sheet, one: When | undefined, other: When | undefined): boolean {
  const groupsOf = (when: When | undefined): ReadonlySet<string> =>
    new Set(
      sheet.variants.filter(({ id }) => when?.variant?.includes(id)).map(({ group }) => group),
    );
  const [mine, theirs] = [groupsOf(one), groupsOf(other)];
  const isOneGroup = mine.size === 1 && theirs.size === 1 && [...mine][0] === [...theirs][0];
  const shares = one?.variant?.some((id) => other?.variant?.includes(id));
  return isOneGroup && shares === false;
}

/** More choices than this are more than an author can have thought of. */
const choicesMax = 2000;

/**
 * Every choice of one variant a group, as far as it matters: variants of a group that no condition names stand for
 * each other. Undefined where there are more than can be gone through.
 */
export function choicesOf(
  sheet: Sheet,
  conditions: readonly { readonly when?: When }[],
): readonly (readonly string[])[] | undefined {
  const named = new Set(conditions.flatMap(({ when }) => when?.variant ?? []));
  const groups = new Map<string, Variant[]>();
  for (const variant of sheet.variants) {
    const known = groups.get(variant.group) ?? [];
    const isAnother = named.has(variant.id) || known.every(({ id }) => named.has(id));
    groups.set(variant.group, isAnother ? [...known, variant] : known);
  }
  let choices: (readonly string[])[] = [[]];
  for (const variants of groups.values()) {
    choices = choices.flatMap((chosen) => variants.map(({ id }) => [...chosen, id]));
    if (choices.length > choicesMax) return undefined;
  }
  return choices;
}

/** Whether something applies when these variants are chosen. */
export const appliesTo = (
  chosen: readonly string[],
  when: { readonly variant?: readonly string[] } | undefined,
): boolean => when?.variant === undefined || when.variant.some((id) => chosen.includes(id));

/** For each choice of variants: a last closure with nothing in use, and every site closed by some closure. */
function checkReachable(checking: Checking, keys: readonly string[]): void {
  const { sheet } = checking;
  const told = new Set<string>();
  const tellOnce = (path: Path, found: string, expected: string): void => {
    const key = path.join('.');
    if (!told.has(key)) mistake(checking, 'never-closes', path, found, expected);
    told.add(key);
  };
  const choices = choicesOf(sheet, sheet.closures);
  if (choices === undefined)
    mistake(
      checking,
      'too-large',
      ['variants'],
      `chosen in more than ${choicesMax} ways that matter to closures`,
      'fewer',
    );
  for (const chosen of choices ?? []) {
    const applying = sheet.closures.filter(({ when }) => appliesTo(chosen, when));
    const last = applying.at(-1);
    const words = chosen.length > 0 ? ` with the variants ${chosen.join(', ')}` : '';
    if (last === undefined) {
      tellOnce(['closures'], `without any closure${words}`, 'with at least one');
      continue;
    }
    const key = keys[sheet.closures.indexOf(last)] ?? last.id;
    if (last.inUse.length > 0)
      tellOnce(
        ['closures', key, 'in-use'],
        `said of the last closure${words}`,
        'left out, since nothing is closed after it',
      );
    sheet.sites.forEach(({ id }) => {
      if (!applying.some(({ sites }) => sites.includes(id)))
        tellOnce(['sites', id], `closed by nothing${words}`, 'under the sites of a closure');
    });
  }
}

/** A letter stands for one specimen of a case: left and right may share one where a case has only one side. */
function checkSpecimens(checking: Checking, sites: readonly string[]): void {
  const { specimens } = checking.sheet;
  checkSides(checking);
  specimens.forEach((specimen, index) => {
    const key = keyOf(checking, specimen.id);
    const path: Path = ['specimens', key];
    checkName(checking, 'unknown-site', [...path, 'site'], specimen.site, sites);
    if (key === specimen.id) checkWhen(checking, specimen.when, [...path, 'when'], []);
    const others = specimens.slice(0, index).filter(({ id }) => keyOf(checking, id) !== key);
    const first = others.find(
      ({ letter, when }) =>
        letter === specimen.letter && !areApart(checking.sheet, specimen.when, when),
    );
    if (first !== undefined && specimen.letter !== '')
      mistake(
        checking,
        'said-twice',
        [...path, 'letter'],
        `the specimen ${first.id}`,
        'be a letter of its own, unless their variants can never be chosen together',
      );
  });
}

/** Where a specimen is written: one with a side for each variant stands there once. */
function keyOf({ written }: Checking, id: string): string {
  if (written.specimens?.has(id)) return id;
  const owner = [...(written.specimens ?? [])].find(
    ([key, one]) => one['side-by'] !== undefined && id.startsWith(`${key}-`),
  );
  return owner?.[0] ?? id;
}

/** Sides by variant: of one group, each side once, and in place of a side and a condition. */
function checkSides(checking: Checking): void {
  const { variants } = checking.sheet;
  for (const [key, one] of checking.written.specimens ?? []) {
    const bySide = one['side-by'];
    if (bySide === undefined) continue;
    const path: Path = ['specimens', key];
    const known = variants.map(({ id }) => id);
    for (const variant of bySide.keys())
      checkName(checking, 'unknown-variant', [...path, 'side-by', variant], variant, known);
    for (const side of bySide.values()) {
      const id = sidedId(key, side);
      if (checking.written.specimens?.has(id))
        mistake(checking, 'said-twice', ['specimens', id], `${key} by its side`, 'be another name');
    }
    for (const word of ['side', 'when'] as const)
      if (one[word] !== undefined)
        mistake(checking, 'contradiction', [...path, word], 'said', 'left out, or side-by');
    const groups = new Set(variants.filter(({ id }) => bySide.has(id)).map(({ group }) => group));
    if (groups.size > 1)
      mistake(
        checking,
        'contradiction',
        [...path, 'side-by'],
        `of the groups ${[...groups].join(' and ')}`,
        'of one group, since a case has one of each',
      );
    if (new Set(bySide.values()).size < bySide.size)
      mistake(checking, 'contradiction', [...path, 'side-by'], 'one side twice', 'each side once');
  }
}
