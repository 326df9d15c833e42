import type { Sheet } from '#engine/sheet.ts';
import { partsOf, type SheetPart } from './parts.ts';

/** One thing in which two versions of a sheet differ. */
export type Difference = {
  /** The kind of part: Lines, Questions. */
  readonly heading: string;
  readonly name: string;
} & (
  | { readonly kind: 'new' | 'gone'; readonly facts: Readonly<Record<string, string>> }
  | {
      readonly kind: 'changed';
      /** The word of the format. */
      readonly word: string;
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
    name: 'Their order',
    kind: 'changed',
    word: 'order',
    from: namesIn(was),
    to: namesIn(is),
  } as const;
  return [...gone, ...rest, ...(isMoved ? [moved] : [])];
}

function changes(heading: string, before: SheetPart, after: SheetPart): readonly Difference[] {
  const words = new Set([...Object.keys(before.facts), ...Object.keys(after.facts)]);
  return [...words].flatMap((word): readonly Difference[] => {
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
      return `${name}: is not there any more.`;
    case 'new': {
      const said = Object.entries(difference.facts)
        .filter(([word]) => word !== 'name')
        .map(([word, value]) => `${word} ${value}`);
      return `${name}: is new${said.length > 0 ? ` (${said.join('; ')})` : ''}.`;
    }
    case 'changed': {
      const { word, from, to } = difference;
      const is = to === undefined ? `${word} is not said any more` : `${word} is ${to}`;
      return `${name}: ${is}; ${from === undefined ? 'it was not said' : `it was ${from}`}.`;
    }
  }
}
