/**
 * What runs inside the page of a browser that has no test tool of its own: finding parts by their role and name, as
 * the library of the unit tests does it, and saying where a finger would have to go.
 */

/** How a part is found, from the page inwards. A text stands for itself, or is the source of an expression. */
export type Words = { readonly text: string } | { readonly source: string; readonly flags: string };

export type Step =
  | { readonly by: 'role'; readonly role: string; readonly name?: Words; readonly exact: boolean }
  | { readonly by: 'text'; readonly words: Words; readonly exact: boolean }
  | { readonly by: 'css'; readonly selector: string; readonly hasText?: Words }
  | { readonly by: 'filter'; readonly hasText: Words }
  | { readonly by: 'nth'; readonly n: number };

type Matcher = (words: string) => boolean;

/** The part of the library of the unit tests that is used here. */
type Queries = {
  readonly queryAllByRole: (
    at: Element,
    role: string,
    options: { readonly name?: Matcher },
  ) => Element[];
  readonly getRoles: (at: Element) => Record<string, Element[]>;
};

/** Where a finger goes, or why it cannot. Units: CSS pixels of the view. */
export type Spot = { readonly x: number; readonly y: number } | { readonly waits: string };

export type Parts = ReturnType<typeof makeParts>;

/** Everything of it is made anew in each page, so nothing outside of it is used. */
export function makeParts(queries: Queries) {
  const tidy = (words: string | null): string => (words ?? '').replace(/\s+/g, ' ').trim();
  const matcher = (words: Words, exact: boolean): Matcher => {
    if ('source' in words) return (said) => new RegExp(words.source, words.flags).test(tidy(said));
    const wanted = tidy(words.text);
    return exact
      ? (said) => tidy(said) === wanted
      : (said) => tidy(said).toLowerCase().includes(wanted.toLowerCase());
  };
  const withText = (found: readonly Element[], words: Words | undefined): Element[] =>
    found.filter((part) => !words || matcher(words, false)(part.textContent ?? ''));
  const byText = (at: Element, is: Matcher): Element[] => {
    const found = [...at.querySelectorAll('*')].filter((part) => is(part.textContent ?? ''));
    return found.filter((part) => ![...part.children].some((child) => found.includes(child)));
  };
  const inside = (at: Element, step: Step): Element[] => {
    if (step.by === 'css') return withText([...at.querySelectorAll(step.selector)], step.hasText);
    if (step.by === 'text') return byText(at, matcher(step.words, step.exact));
    if (step.by !== 'role') return [];
    const name = step.name && matcher(step.name, step.exact);
    return queries.queryAllByRole(at, step.role, name ? { name } : {});
  };
  const find = (steps: readonly Step[]): Element[] => {
    let found: Element[] = [document.documentElement];
    for (const step of steps) {
      if (step.by === 'filter') found = withText(found, step.hasText);
      else if (step.by === 'nth') found = found.slice(step.n, step.n + 1);
      else found = [...new Set(found.flatMap((at) => inside(at, step)))];
    }
    return found;
  };
  const one = (steps: readonly Step[]): Element | undefined => {
    const found = find(steps);
    if (found.length > 1) throw new Error(`${found.length} parts are meant by these words.`);
    return found[0];
  };
  const isVisible = (part: Element): boolean => {
    const { width, height } = part.getBoundingClientRect();
    return width > 0 && height > 0 && getComputedStyle(part).visibility === 'visible';
  };
  const middleOf = (part: Element) => {
    const { left, width, top, height } = part.getBoundingClientRect();
    return { x: left + width / 2, y: top + height / 2 };
  };
  const whatIsAt = ({ x, y }: { readonly x: number; readonly y: number }, part: Element) => {
    const hit = document.elementFromPoint(x, y);
    const isIt = hit !== null && (part.contains(hit) || hit.closest('label')?.contains(part));
    return isIt ? part : hit;
  };
  /** Visible, at rest, not off, and nothing lies over it. */
  const spotOf = async (steps: readonly Step[]): Promise<Spot> => {
    const part = one(steps);
    if (!part || !isVisible(part)) return { waits: 'It is not in sight.' };
    if (part.closest(':disabled, [aria-disabled="true"]')) return { waits: 'It is off.' };
    const before = middleOf(part);
    await new Promise((resolve) => requestAnimationFrame(resolve));
    if (middleOf(part).y !== before.y) return { waits: 'It moves.' };
    if (whatIsAt(before, part) !== part)
      part.scrollIntoView({ block: 'center', behavior: 'instant' });
    const spot = middleOf(part);
    const hit = whatIsAt(spot, part);
    return hit === part ? spot : { waits: `${hit?.outerHTML.slice(0, 200)} lies over it.` };
  };
  /** As the text stands there after a person has typed it. */
  const fill = (steps: readonly Step[], words: string): string | undefined => {
    const part = one(steps);
    if (!(part instanceof HTMLInputElement || part instanceof HTMLTextAreaElement))
      return 'There is no such field.';
    part.focus();
    part.select();
    if (!document.execCommand(words === '' ? 'delete' : 'insertText', false, words))
      if (part.value !== words) return 'The field took no text.';
    return undefined;
  };
  /** What is said of a part, for the questions that tests ask. */
  const say = (steps: readonly Step[]) => {
    const found = find(steps);
    const [part] = found;
    return {
      count: found.length,
      isVisible: part !== undefined && isVisible(part),
      isFocused: part !== undefined && part === document.activeElement,
      text: part?.textContent ?? null,
      attributes: Object.fromEntries(
        [...(part?.attributes ?? [])].map((at) => [at.name, at.value]),
      ),
    };
  };
  /** Roles and texts, as a screen reader goes through them. */
  const spoken = (steps: readonly Step[]): string =>
    find(steps)
      .flatMap((part) => Object.entries(queries.getRoles(part)))
      .flatMap(([role, parts]) =>
        parts.map((part) => `${role} ${part.getAttribute('aria-label') ?? ''} ${part.textContent}`),
      )
      .join('\n');
  return { find, one, spotOf, fill, say, spoken };
}
