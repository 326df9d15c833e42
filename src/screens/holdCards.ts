import type { Hold, HoldCode } from '#engine/closures/holds.ts';
import { piecesInside } from '#engine/closures/verdictOf.ts';
import type { Case } from '#engine/state.ts';
import type { View } from '#session/route.ts';

/** One card of the list of holds, with the screen where it is settled. */
export type HoldView = {
  readonly key: string;
  readonly code: HoldCode;
  readonly title: string;
  readonly detail: string;
  readonly who: string;
  readonly tone: 'held' | 'missing';
  readonly view: View | undefined;
};

const urgent: readonly HoldCode[] = [
  'line-short',
  'line-over',
  'fragment-open',
  'piece-inside',
  'not-saved',
];

/** Holds as cards: all pieces inside on one, every other hold on its own. */
export function holdCards(
  current: Case,
  holds: readonly Hold[],
  notSaved: string | undefined,
): readonly HoldView[] {
  const inside = holds.filter((hold) => hold.code === 'piece-inside');
  const others = holds.filter((hold) => hold.code !== 'piece-inside');
  const cards = others.map((hold) => cardOf(current, hold));
  const first = inside.length > 0 ? [insideCard(current, inside)] : [];
  return [...(notSaved ? [unsavedCard(notSaved)] : []), ...first, ...cards];
}

function insideCard(current: Case, inside: readonly Hold[]): HoldView {
  const lines = new Set(inside.map((hold) => hold.about));
  const pieces = piecesInside(current).filter((one) => lines.has(one.line));
  const sum = pieces.reduce((total, one) => total + one.n, 0);
  const names = pieces.map((one) => `${one.n} ${nameOf(current, one.line)}`);
  return {
    key: 'piece-inside',
    code: 'piece-inside',
    title: sum === 1 ? '1 piece in the patient' : `${sum} pieces in the patient`,
    detail: names.join(', '),
    who: 'surgeon and scrub',
    tone: 'missing',
    view: { name: 'frame' },
  };
}

const nameOf = (current: Case, line: string): string => current.lines.get(line)?.name ?? line;

function unsavedCard(sentence: string): HoldView {
  return {
    key: 'not-saved',
    code: 'not-saved',
    title: 'Not saved',
    detail: sentence,
    who: 'everyone',
    tone: 'missing',
    view: undefined,
  };
}

function cardOf(current: Case, hold: Hold): HoldView {
  const { code, about, title, detail, who } = hold;
  const tone = urgent.includes(code) ? 'missing' : 'held';
  return { key: `${code}/${about}`, code, title, detail, who, tone, view: viewOf(current, hold) };
}

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
