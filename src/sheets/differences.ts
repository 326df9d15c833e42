import type { Sheet } from '#engine/sheet.ts';
import { say, sayOf } from '#words/say.ts';
import { type Facts, type FactWord, factWords, partsOf, type SheetPart } from './parts.ts';

/** One thing in which two versions of a sheet differ. */
export type Difference = {
  /** The kind of part: Lines, Questions. */
  readonly heading: string;
  readonly name: string;
} & (
  | { readonly kind: 'new' | 'gone'; readonly facts: Facts }
  | {
      readonly kind: 'changed';
      /** The word of the format. */
      readonly word: FactWord;
      /** Undefined where nothing was said. */
      readonly from: string | undefined;
      readonly to: string | undefined;
    }
);

/** Everything in which a sheet differs from the one before, part by part. Empty: they say the same. */
export function differencesOf(before: Sheet, after: Sheet): readonly Difference[] {
  const known = partsOf(before);
  return [...partsOf(after)].flatMap(([heading, parts]) =>
    differing(heading, known.get(heading) ?? [], parts),
  );
}

function differing(
  heading: string,
  before: readonly SheetPart[],
  after: readonly SheetPart[],
): readonly Difference[] {
  const isIn = (parts: readonly SheetPart[]) => {
    const keys = new Set(parts.map(({ key }) => key));
    return ({ key }: SheetPart): boolean => keys.has(key);
  };
  const [wasThere, isThere] = [isIn(before), isIn(after)];
  const gone = before
    .filter((part) => !isThere(part))
    .map(({ name, facts }) => ({ heading, name, kind: 'gone', facts }) as const);
  const rest = after.flatMap((part): readonly Difference[] => {
    const old = before.find(({ key }) => key === part.key);
    if (old) return changes(heading, old, part);
    return [{ heading, name: part.name, kind: 'new', facts: part.facts }];
  });
  const orderOf = (parts: readonly SheetPart[], both: (part: SheetPart) => boolean) =>
    parts.filter(both).map(({ key }) => key);
  const [was, is] = [orderOf(before, isThere), orderOf(after, wasThere)];
  const isMoved = was.join('\n') !== is.join('\n');
  const namesIn = (keys: readonly string[]) =>
    keys.map((key) => after.find((part) => part.key === key)?.name ?? key).join(', ');
  const moved = {
    heading,
    name: say`Their order`,
    kind: 'changed',
    word: 'order',
    from: namesIn(was),
    to: namesIn(is),
  } as const;
  return [...gone, ...rest, ...(isMoved ? [moved] : [])];
}

function changes(heading: string, before: SheetPart, after: SheetPart): readonly Difference[] {
  return factWords.flatMap((word): readonly Difference[] => {
    const [from, to] = [before.facts[word], after.facts[word]];
    if (from === to) return [];
    return [{ heading, name: before.name, kind: 'changed', word, from, to }];
  });
}

/** "Swab 10 × 10: opening is 10; it was 5." */
export function differenceInWords(difference: Difference): string {
  const { name } = difference;
  switch (difference.kind) {
    case 'gone':
      return say`${name}: is not there any more.`;
    case 'new': {
      const said = Object.entries(difference.facts)
        .filter(([word]) => word !== 'name')
        .map(([word, value]) => `${sayOf(word)} ${value}`);
      return said.length > 0 ? say`${name}: is new (${said.join('; ')}).` : say`${name}: is new.`;
    }
    case 'changed': {
      const { from, to } = difference;
      const word = sayOf(difference.word);
      if (to === undefined) return say`${name}: ${word} is not said any more; it was ${from}.`;
      return from === undefined
        ? say`${name}: ${word} is ${to}; it was not said.`
        : say`${name}: ${word} is ${to}; it was ${from}.`;
    }
  }
}
