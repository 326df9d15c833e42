import { type Accessor, createMemo, createSignal } from 'solid-js';
import type { Role } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import { say } from '#words/say.ts';
import { canBeOff } from './pass.ts';

/** Numbers by what was asked: a line in the field, or off it. */
type Numbers = Readonly<Record<string, number>>;

/** Somebody who did not count before, in the place of one of the two. */
export type FreshEyes = {
  readonly name: string;
  readonly for: Extract<Role, 'scrub' | 'circulator'>;
};

/** Which of the two counts now, where each counts alone. */
export type Turn = 'first' | 'second';

/** The numbers of two who count alone, kept apart until both have given theirs. */
function createApart() {
  /** What the first of the two has seen. It is shown to nobody. */
  const [first, setFirst] = createSignal<Numbers>();
  const [alike, setAlike] = createSignal<Numbers>({});
  const [unlike, setUnlike] = createSignal<readonly string[]>([]);
  return {
    ...{ first, alike, unlike },
    restart: () => {
      setFirst(undefined);
      setAlike({});
      setUnlike([]);
    },
    give: (numbers: Numbers) => {
      setFirst(numbers);
      setUnlike([]);
    },
    /** Puts the numbers of the second beside those of the first. Answers whether they are the same. */
    compare: (second: Numbers): boolean => {
      const both = Object.entries(first() ?? {});
      const same = both.filter(([asked, pieces]) => second[asked] === pieces);
      setAlike({ ...alike(), ...Object.fromEntries(same) });
      setUnlike(both.filter((one) => !same.includes(one)).map(([asked]) => asked));
      setFirst(undefined);
      return same.length === both.length;
    },
  };
}

/**
 * The lines that did not agree, being counted again by two people: together and aloud, or each alone, so that neither
 * hears or sees the numbers of the other. Where those differ, both count again what they differ on.
 *
 * Nothing of it is recorded before the two have the same numbers.
 */
export function createRecounting(current: Accessor<Case>) {
  const [seen, setSeen] = createSignal<Numbers>({});
  const [chosen, setChosen] = createSignal<string>();
  const [isAlone, setAlone] = createSignal(false);
  const [fresh, setFresh] = createSignal<FreshEyes>();
  const apart = createApart();

  const lines = createMemo(() => Object.keys(current().differing), undefined, { equals: sameIds });
  // A line with pieces off the field is asked twice, so that the split stays what people saw.
  const asked = createMemo(
    () =>
      lines()
        .flatMap((line) => askedOf(current(), line))
        .filter((one) => apart.alike()[one] === undefined),
    undefined,
    { equals: sameIds },
  );
  const here = createMemo(() => {
    const picked = chosen();
    if (picked && asked().includes(picked)) return picked;
    return asked().find((one) => seen()[one] === undefined);
  });
  const restart = () => {
    setSeen({});
    setChosen(undefined);
    apart.restart();
  };
  return {
    ...{ lines, asked, here, seen, isAlone, restart, unlike: apart.unlike },
    isFresh: () => fresh() !== undefined,
    people: () => peopleOf(current(), fresh()),
    turn: (): Turn => (apart.first() ? 'second' : 'first'),
    choose: setChosen,
    enter: (pieces: number) => {
      const one = here();
      if (one) setSeen({ ...seen(), [one]: pieces });
      setChosen(undefined);
    },
    countAlone: (is: boolean) => {
      restart();
      setAlone(is);
    },
    bringIn: (other: FreshEyes) => {
      restart();
      setFresh(other);
    },
    /** The first of two has a number for everything; the second begins. */
    handOver: () => {
      apart.give(seen());
      setSeen({});
    },
    /** Both have: whether they have the same. If not, what they differ on is asked again. */
    compare: (): boolean => {
      const isSame = apart.compare(seen());
      setSeen({});
      return isSame;
    },
    /** What both have seen, by line. Units: whole pieces. */
    found: () => foundIn(lines(), isAlone() ? apart.alike() : seen()),
  };
}

/** The two who count: those of the team, or somebody fresh in the place of one. */
function peopleOf({ team }: Case, fresh?: FreshEyes): readonly [scrub: string, circulator: string] {
  const nameFor = (role: FreshEyes['for']) => (fresh?.for === role ? fresh.name : team[role]);
  return [nameFor('scrub'), nameFor('circulator')];
}

const foundIn = (lines: readonly string[], numbers: Numbers) =>
  Object.fromEntries(
    lines.map((line) => [
      line,
      { field: numbers[`${line}:field`] ?? 0, off: numbers[`${line}:off`] ?? 0 },
    ]),
  );

export type Recounting = ReturnType<typeof createRecounting>;

const sameIds = (one: readonly string[], other: readonly string[]): boolean =>
  one.join() === other.join();

export const lineOf = (asked: string): string => asked.slice(0, asked.lastIndexOf(':'));

export const isOff = (asked: string): boolean => asked.endsWith(':off');

const askedOf = (current: Case, line: string): readonly string[] =>
  canBeOff(current, line) ? [`${line}:field`, `${line}:off`] : [`${line}:field`];

/** What is asked, by its line's name. */
export function askedName(current: Case, asked: string): string {
  const line = lineOf(asked);
  const name = current.lines.get(line)?.name ?? line;
  if (askedOf(current, line).length === 1) return name;
  return isOff(asked) ? say`${name} · off the field` : say`${name} · field and table`;
}
