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
  /** What the first of two who count alone has seen. It is shown to nobody. */
  const [first, setFirst] = createSignal<Numbers>();
  /** What two who count alone have seen alike. */
  const [alike, setAlike] = createSignal<Numbers>({});
  const [unlike, setUnlike] = createSignal<readonly string[]>([]);
  const [fresh, setFresh] = createSignal<FreshEyes>();

  const lines = createMemo(() => Object.keys(current().differing), undefined, { equals: sameIds });
  // A line with pieces off the field is asked twice, so that the split stays what people saw.
  const asked = createMemo(
    () =>
      lines()
        .flatMap((line) => askedOf(current(), line))
        .filter((one) => alike()[one] === undefined),
    undefined,
    { equals: sameIds },
  );
  const here = createMemo(() => {
    const picked = chosen();
    if (picked && asked().includes(picked)) return picked;
    return asked().find((one) => seen()[one] === undefined);
  });
  const people = (): readonly [scrub: string, circulator: string] => {
    const { team } = current();
    const other = fresh();
    return [
      other?.for === 'scrub' ? other.name : team.scrub,
      other?.for === 'circulator' ? other.name : team.circulator,
    ];
  };
  const turn = (): Turn => (first() ? 'second' : 'first');

  function restart(): void {
    setSeen({});
    setChosen(undefined);
    setFirst(undefined);
    setAlike({});
    setUnlike([]);
  }
  /** The first of two has a number for everything; the second begins. */
  function handOver(): void {
    setFirst(seen());
    setSeen({});
    setUnlike([]);
  }
  /** Puts the numbers of both side by side. Answers whether they are the same now. */
  function compare(): boolean {
    const others = first() ?? {};
    const differ = asked().filter((one) => seen()[one] !== others[one]);
    const same = asked().filter((one) => !differ.includes(one));
    setAlike({ ...alike(), ...Object.fromEntries(same.map((one) => [one, seen()[one] ?? 0])) });
    setUnlike(differ);
    setFirst(undefined);
    setSeen({});
    return differ.length === 0;
  }
  return {
    ...{ lines, asked, here, seen, isAlone, turn, unlike, people, restart, handOver, compare },
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
    /** What both have seen, by line. Units: whole pieces. */
    found: () => {
      const numbers = isAlone() ? alike() : seen();
      return Object.fromEntries(
        lines().map((line) => [
          line,
          { field: numbers[`${line}:field`] ?? 0, off: numbers[`${line}:off`] ?? 0 },
        ]),
      );
    },
  };
}

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
