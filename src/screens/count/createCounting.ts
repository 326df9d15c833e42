import { batch, createEffect, createMemo, createSignal, on } from 'solid-js';
import type { Found, RunningCount } from '#engine/countState.ts';
import type { Enter } from '#engine/counts/events.ts';
import { seenOf } from '#engine/counts/foundIn.ts';
import { useCase, useSession } from '../useSession.ts';
import { type Asked, askedIn, offLines, type Pass, packsListed } from './pass.ts';

/** The way through a running count: what is asked now, what was said so far, and one number after another. */
export function createCounting(running: () => RunningCount) {
  const { session } = useSession();
  const current = useCase();
  const { pass, asked, askedOf, off, chosen, choose, setPass, setApart } = createPasses(running);
  const seen = createSeen(running, pass);
  const found = (line: string) => seenOf(running(), line);

  const { said } = seen;
  const here = createMemo(() => {
    const picked = asked().find((one) => one.id === chosen());
    return picked ?? asked().find((one) => said(one) === undefined);
  });
  const isAll = () => here() === undefined && off().every(seen.isOffSeen);
  createEffect(
    on(here, (one) => {
      if (one === undefined && pass() === 'field' && off().length > 0) setPass('off');
    }),
  );

  async function enter(pieces: number): Promise<void> {
    const one = here();
    if (!one) return;
    seen.note(one, pieces);
    const command =
      pass() === 'field' && one.pack !== undefined
        ? packsEntry(one.line, seen.eachPack(one, packsListed(current(), one.line)))
        : numberEntry(one, pass(), pieces, found(one.line));
    choose(undefined);
    if (command && (await session.send(command, 'circulator')).ok) seen.saidAgain(one.line);
  }

  const saidIn = (of: Pass) =>
    askedOf(of).map((one) => ({ id: `${of}/${one.id}`, one, of, said: said(one, of) }));

  return {
    off,
    here,
    isAll,
    pass,
    /** This pass, or once none is left the numbers of both, which the two people look over before they agree. */
    rows: () => (isAll() && off().length > 0 ? passes.flatMap(saidIn) : saidIn(pass())),
    enter,
    choose,
    /** Asks the parts of the group that is asked one by one. */
    takeApart: () => {
      const { line = '', parts = [] } = here() ?? {};
      const { group } = current().lines.get(line) ?? {};
      if (group === undefined) return;
      seen.askAgain(parts);
      setApart((before) => [...before, group]);
      choose(undefined);
    },
    canGoBack: () => oneBefore(asked(), here()) !== undefined || pass() === 'off',
    /** To the line before, from the first one off the field to the last on it. */
    back: () => {
      const before = oneBefore(asked(), here());
      if (before) choose(before.id);
      else choose(askedOf('field').at(-1)?.id, 'field');
    },
    restart: () => {
      seen.forget();
      setApart([]);
      setPass('field');
    },
  };
}

const passes: readonly Pass[] = ['field', 'off'];

/** What is asked in each pass, which pass it is, and the line that somebody went to. */
function createPasses(running: () => RunningCount) {
  const current = useCase();
  const [pass, setPass] = createSignal<Pass>('field');
  const [chosen, setChosen] = createSignal<string>();
  // Groups whose parts are not all there alike, so that each gets its own number.
  const [apart, setApart] = createSignal<readonly string[]>([]);
  const asked = createMemo(() => askedIn(current(), running(), pass(), apart()), undefined, {
    equals: (one, other) => idsOf(one) === idsOf(other),
  });
  const askedOf = (of: Pass) =>
    of === pass() ? asked() : askedIn(current(), running(), of, apart());
  const off = createMemo(() => offLines(current(), running()));
  const choose = (id: string | undefined, of: Pass = pass()) =>
    batch(() => {
      setPass(of);
      setChosen(id);
    });
  return { pass, asked, askedOf, off, chosen, choose, setPass, setApart };
}

/** What was said in a count, and what is only kept on the screen until it makes an entry. */
function createSeen(running: () => RunningCount, pass: () => Pass) {
  // After a restart in the middle, what was counted off the field is not asked again.
  const [seenOff, setSeenOff] = createSignal<readonly string[]>(countedOff(running()));
  const [packs, setPacks] = createSignal<Readonly<Record<string, number>>>({});
  // Parts that were said to be alike and are not: their number is no answer any more.
  const [again, setAgain] = createSignal<readonly string[]>([]);
  const found = (line: string) => seenOf(running(), line);

  /** What was said of it in a pass; undefined while nothing was. */
  function said({ id, line, pack, parts }: Asked, of: Pass = pass()): number | undefined {
    if (of === 'off') return seenOff().includes(line) ? found(line)?.off : undefined;
    if (again().includes(line)) return undefined;
    if (pack === undefined) return (parts ?? [line]).every(found) ? found(line)?.field : undefined;
    return packs()[id] ?? found(line)?.packs?.[pack];
  }
  return {
    said,
    askAgain: (lines: readonly string[]) => setAgain([...again(), ...lines]),
    saidAgain: (said: string) => setAgain(again().filter((line) => line !== said)),
    isOffSeen: (line: string) => seenOff().includes(line),
    note: (one: Asked, pieces: number) => {
      if (pass() === 'off') setSeenOff([...new Set([...seenOff(), one.line])]);
      else if (one.pack !== undefined) setPacks({ ...packs(), [one.id]: pieces });
    },
    /** What each pack of a line held, as far as it was said. */
    eachPack: (one: Asked, listed: number): readonly (number | undefined)[] =>
      Array.from({ length: listed }, (_, pack) =>
        said({ ...one, id: `${one.line}#${pack + 1}`, pack }),
      ),
    forget: () => {
      setSeenOff([]);
      setPacks({});
      setAgain([]);
    },
  };
}

/** The entry of what has one number in this pass; what the other pass gave stays. */
function numberEntry({ line, parts }: Asked, pass: Pass, pieces: number, before?: Found): Enter {
  if (pass === 'off') return { type: 'enter', line, field: before?.field ?? 0, off: pieces };
  const entry: Enter = { type: 'enter', line, field: pieces, off: before?.off ?? 0 };
  return parts ? { ...entry, together: parts.slice(1) } : entry;
}

/** The entry of a line whose packs are all seen; none while one waits for its number. */
function packsEntry(line: string, each: readonly (number | undefined)[]): Enter | undefined {
  const packs = each.filter((pieces) => pieces !== undefined);
  return packs.length === each.length ? { type: 'enter', line, packs } : undefined;
}

function oneBefore(asked: readonly Asked[], here: Asked | undefined): Asked | undefined {
  const at = asked.findIndex((one) => one.id === here?.id);
  return asked[(at < 0 ? asked.length : at) - 1];
}

/** With the parts: one that was added while the count ran is asked too. */
const idsOf = (asked: readonly Asked[]): string =>
  asked.map(({ id, parts = [] }) => [id, ...parts].join('+')).join();

const countedOff = (running: RunningCount): readonly string[] =>
  running.lines.filter((line) => (seenOf(running, line)?.off ?? 0) > 0);
