import { checkpointsOf, signOut } from '#engine/applies.ts';
import type { Hold, HoldCode } from '#engine/closures/holds.ts';
import { holdsOf } from '#engine/closures/holdsOf.ts';
import { piecesInside } from '#engine/closures/verdictOf.ts';
import type { Case } from '#engine/state.ts';
import type { View } from '#session/route.ts';
import { say } from '#words/say.ts';
import { nextDoses } from './doseWords.ts';
import { nextGate } from './gates.ts';

/** One card of the list of holds, with the screen where it is settled. */
export type HoldCard = {
  readonly id: string;
  readonly code: string;
  readonly title: string;
  readonly detail?: string;
  readonly tone: 'held' | 'missing' | 'due' | 'agreed';
  readonly view: View | undefined;
};

/** What stands between now and the next act that cannot be taken back: first the incision, then each gate. */
export type Waiting = {
  readonly title: string;
  readonly sentence: string;
  readonly open: readonly HoldCard[];
};

const urgent: readonly HoldCode[] = ['line-short', 'line-over', 'fragment-open', 'piece-inside'];

/** The list of holds for the screen. `notSaved` says why the last entry is not on disk. */
export function waitingOf(current: Case, notSaved: string | undefined): Waiting {
  const isCutting = current.incisionAt === undefined;
  const gate = nextGate(current);
  const holds = isCutting ? incisionHolds(current) : holdsOf(current, gate);
  const open = [...unsavedCard(notSaved), ...openCards(current, holds)];
  const title = titleOf(isCutting, gate, open.length > 0);
  return {
    title,
    sentence: sentenceOf(open.length),
    open,
  };
}

/** Doses of which the time comes or has come. They hold nothing, and stand after all that does. */
export function dueCards(current: Case, now: string): readonly HoldCard[] {
  if (current.finishedAt !== undefined) return [];
  return nextDoses(current, now)
    .filter(({ state }) => state === 'due' || state === 'soon')
    .map(({ agent, name, said, state }) => ({
      id: `dose/${agent}`,
      code: 'dose-due',
      title: `${name}: ${said.slice(0, 1).toLowerCase()}${said.slice(1)}`,
      detail: state === 'due' ? say`Tell the anaesthetist` : say`Soon: tell the anaesthetist`,
      tone: 'due',
      view: { name: 'dose' },
    }));
}

function titleOf(isCutting: boolean, gate: string, isHeld: boolean): string {
  if (isCutting) return isHeld ? say`Incision waits for` : say`Ready for incision`;
  if (!isHeld) return say`Nothing open that I know of`;
  return gate === signOut ? say`Sign out is held` : say`Closure is held`;
}

function sentenceOf(open: number): string {
  if (open === 0) return say`The last look is yours.`;
  return open === 1 ? say`1 thing is open` : say`${open} things are open`;
}

/** Of what holds closure, what has to come before the incision. */
function incisionHolds(current: Case): readonly Hold[] {
  const early = checkpointsOf(current).filter(
    ({ before }) => before === 'anaesthesia' || before === 'incision',
  );
  const ids = new Set(early.map((checkpoint) => checkpoint.id));
  return holdsOf(current, signOut).filter(
    ({ code, about }) => (code === 'checkpoint-open' && ids.has(about)) || code === 'baseline-open',
  );
}

/** All pieces inside on one card, every other hold on its own. */
export function openCards(current: Case, holds: readonly Hold[]): readonly HoldCard[] {
  const inside = holds.filter((hold) => hold.code === 'piece-inside');
  const others = holds.filter((hold) => hold.code !== 'piece-inside');
  const first = inside.length > 0 ? [insideCard(current, inside)] : [];
  return [...first, ...others.map((hold) => cardOf(current, hold))];
}

function insideCard(current: Case, inside: readonly Hold[]): HoldCard {
  const lines = new Set(inside.map((hold) => hold.about));
  const pieces = piecesInside(current).filter((one) => lines.has(one.line));
  const sum = pieces.reduce((total, one) => total + one.n, 0);
  const names = pieces.map((one) => `${one.n} ${nameOf(current, one.line)}`);
  return {
    id: 'piece-inside',
    code: 'piece-inside',
    title: sum === 1 ? say`1 piece in the patient` : say`${sum} pieces in the patient`,
    detail: names.join(', '),
    tone: 'missing',
    view: { name: 'frame' },
  };
}

const nameOf = (current: Case, line: string): string => current.lines.get(line)?.name ?? line;

function unsavedCard(sentence: string | undefined): readonly HoldCard[] {
  if (sentence === undefined) return [];
  const card = {
    id: 'not-saved',
    code: 'not-saved',
    title: say`Not saved`,
    detail: sentence,
  } as const;
  return [{ ...card, tone: 'missing', view: undefined }];
}

function cardOf(current: Case, hold: Hold): HoldCard {
  const { code, about, title, detail } = hold;
  const tone = urgent.includes(code) ? 'missing' : 'held';
  return { id: `${code}/${about}`, code, title, detail, tone, view: viewOf(current, hold) };
}

/** What the team did last of its checkpoints and the first count; the spine has the others, with their times. */
export function doneCards(current: Case): readonly HoldCard[] {
  const { first } = current.counts.done;
  const checkpoints = checkpointsOf(current).flatMap((checkpoint) => {
    const at = current.checkpoints[checkpoint.id]?.finishedAt;
    return at === undefined
      ? []
      : [{ id: checkpoint.id, title: say`${checkpoint.name} complete`, at }];
  });
  const counted = first ? [{ id: 'first', title: firstWords(first.lines), at: first.at }] : [];
  return [...checkpoints, ...counted]
    .toSorted((one, other) => (one.at < other.at ? -1 : Number(one.at > other.at)))
    .slice(-1)
    .map(({ id, title, at }) => ({
      id: `done/${id}`,
      code: 'done',
      title: `${title}, ${at.slice(11, 16)}`,
      tone: 'agreed',
      view: undefined,
    }));
}

const firstWords = (lines: number): string => say`First count agreed, ${lines} lines`;

/** The screen where a hold is settled. */
function viewOf(current: Case, hold: Hold): View | undefined {
  switch (hold.screen) {
    case 'checkpoint':
      return { name: 'checkpoint', about: hold.about };
    case 'count':
      return { name: 'count', about: momentOf(current, hold) };
    case 'recount':
      return { name: 'recount' };
    case 'discrepancy':
      return { name: 'discrepancy', about: hold.about };
    case 'frame':
      return { name: 'frame' };
    case 'specimen':
      return { name: 'specimen', about: hold.about };
    case 'look':
      return { name: 'look', about: hold.about };
    case 'closure':
      return { name: 'closing', about: hold.about };
    case 'handover':
    case 'xray':
      return { name: 'leaving' };
    case 'journal':
      return undefined;
  }
}

const momentOf = (current: Case, hold: Hold): string => {
  if (hold.code === 'relief-due') return 'relief';
  return current.counts.running?.moment ?? hold.about;
};
