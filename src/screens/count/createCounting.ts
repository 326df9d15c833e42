import { createEffect, createMemo, createSignal, on } from 'solid-js';
import type { Enter } from '#engine/counts/events.ts';
import type { RunningCount } from '#engine/state.ts';
import { useCase, useSession } from '../useSession.ts';
import { type Asked, askedIn, offLines, type Pass, packsListed } from './pass.ts';

/** The way through a running count: what is asked now, what was said so far, and one number after another. */
export function createCounting(running: () => RunningCount) {
  const { session } = useSession();
  const current = useCase();
  const [pass, setPass] = createSignal<Pass>('field');
  const [chosen, setChosen] = createSignal<string>();
  // After a restart in the middle, what was counted off the field is not asked again.
  const [seenOff, setSeenOff] = createSignal<readonly string[]>(countedOff(running()));
  const [packs, setPacks] = createSignal<Readonly<Record<string, number>>>({});
  const asked = createMemo(() => askedIn(current(), running(), pass()), undefined, {
    equals: (one, other) => idsOf(one) === idsOf(other),
  });
  const off = createMemo(() => offLines(current(), running()));
  const found = (line: string) => running().found[line];

  /** What was said of it in this pass; undefined while nothing was. */
  function said({ id, line, pack }: Asked): number | undefined {
    if (pass() === 'off') return seenOff().includes(line) ? found(line)?.off : undefined;
    if (pack === undefined) return found(line)?.field;
    return packs()[id] ?? found(line)?.packs?.[pack];
  }
  const here = createMemo(() => {
    const picked = asked().find((one) => one.id === chosen());
    return picked ?? asked().find((one) => said(one) === undefined);
  });
  const isAll = () => here() === undefined && off().every((line) => seenOff().includes(line));
  createEffect(
    on(here, (one) => {
      if (one === undefined && pass() === 'field' && off().length > 0) setPass('off');
    }),
  );

  async function enter(pieces: number): Promise<void> {
    const one = here();
    if (!one) return;
    const command = commandFor(one, pieces);
    setChosen(undefined);
    if (command) await session.send(command, 'circulator');
  }

  /** The entry that a number makes; none while other packs of the line wait for theirs. */
  function commandFor(one: Asked, pieces: number): Enter | undefined {
    const { line } = one;
    const before = found(line);
    if (pass() === 'off') {
      setSeenOff([...new Set([...seenOff(), line])]);
      return { type: 'enter', line, field: before?.field ?? 0, off: pieces };
    }
    if (one.pack === undefined)
      return { type: 'enter', line, field: pieces, off: before?.off ?? 0 };
    setPacks({ ...packs(), [one.id]: pieces });
    const each = Array.from({ length: packsListed(current(), line) }, (_, pack) =>
      said({ ...one, id: `${line}#${pack + 1}`, pack }),
    );
    const seen = each.filter((number) => number !== undefined);
    return seen.length === each.length ? { type: 'enter', line, packs: seen } : undefined;
  }

  return {
    asked,
    off,
    here,
    isAll,
    pass,
    said,
    enter,
    choose: setChosen,
    back: () => {
      const list = asked();
      const at = list.findIndex((one) => one.id === here()?.id);
      const before = list[(at < 0 ? list.length : at) - 1];
      if (before) setChosen(before.id);
    },
    restart: () => {
      setSeenOff([]);
      setPacks({});
      setPass('field');
    },
  };
}

const idsOf = (asked: readonly Asked[]): string => asked.map((one) => one.id).join();

const countedOff = ({ found }: RunningCount): readonly string[] =>
  Object.keys(found).filter((line) => (found[line]?.off ?? 0) > 0);
