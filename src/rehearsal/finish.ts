import { checkpointsOf, gatesOf, signOut } from '#engine/applies.ts';
import type { Hold } from '#engine/closures/holds.ts';
import { holdsOf } from '#engine/closures/holdsOf.ts';
import { type MomentId, momentIds, type Sheet, type Variant } from '#engine/sheet.ts';
import { act, opened, type Play } from './play.ts';
import {
  type Blocked,
  checked,
  counted,
  explained,
  handedOver,
  type Instead,
  looked,
  type Part,
  type Stepped,
  specimenStepped,
  takenOut,
} from './usual.ts';

/** A case that came to its end, with how it was before each closure; or what is in the way. */
export type Finished =
  | { readonly ok: true; readonly play: Play; readonly before: readonly Play[] }
  | Blocked;

/**
 * Plays a case with these variants to just after the incision. A conversion among them is made then, as in theatre.
 *
 * Throws: Error, where no case of the sheet can be opened, which the checks before tell.
 */
export function begunWith(sheet: Sheet, chosen: readonly string[], instead: Instead): Stepped {
  const later = sheet.variants.filter(
    (one) => one.choose === 'mid-case' && chosen.includes(one.id),
  );
  const start = opened(
    sheet,
    chosen.filter((id) => later.every((one) => one.id !== id)),
  );
  if (start === undefined) throw new Error(`no case of ${sheet.id} can be opened`);
  const incised = toIncision(start, instead);
  if (!incised.ok) return incised;
  return { ok: true, play: later.reduce(converted, incised.play) };
}

function converted(play: Play, { id }: Variant): Play {
  const made = act(play, { type: 'variant', to: id }, `variant: { to: ${id} }`);
  if (!made.ok) throw new Error(`${id} cannot be chosen after the incision`);
  return made.play;
}

/** Plays a case from its opening to just after the incision: checkpoints before it, and the first count. */
export function toIncision(play: Play, instead: Instead): Stepped {
  let current = play;
  for (const { id, before } of checkpointsOf(play.current)) {
    if (before !== 'anaesthesia' && before !== 'incision') continue;
    const made = checked(current, id, instead);
    if (!made.ok) return made;
    current = made.play;
  }
  if (current.current.counts.first === 'open') {
    const made = counted(current, 'first');
    if (!made.ok) return made;
    current = made.play;
  }
  const incised = act(current, { type: 'incision' }, 'incision: {}');
  if (incised.ok) return incised;
  const part = { kind: 'gate', gate: 'incision' } as const;
  return { ok: false, play: current, part, why: incised.refusal.sentence };
}

/** Plays a case from where it is to its end, settling whatever holds each gate as a team would. */
export function toEnd(play: Play, instead: Instead): Finished {
  const before: Play[] = [];
  let current = play;
  for (const gate of gatesOf(play.current)) {
    if (current.current.closures[gate]?.closedAt !== undefined) continue;
    const settled = settledFor(current, gate, instead);
    if (!settled.ok) return settled;
    before.push(settled.play);
    const passed = gate === signOut ? leaving(settled.play, instead) : closed(settled.play, gate);
    if (!passed.ok) return passed;
    current = passed.play;
  }
  return { ok: true, play: current, before };
}

function closed(play: Play, closure: string): Stepped {
  const made = act(play, { type: 'close', closure }, `close: { closure: ${closure} }`);
  if (made.ok) return made;
  return {
    ok: false,
    play,
    part: { kind: 'gate', gate: closure },
    why: made.refusal.sentence,
  };
}

function leaving(play: Play, instead: Instead): Stepped {
  const out = checked(play, signOut, instead);
  if (!out.ok) return out;
  const made = act(out.play, { type: 'finish' }, 'finish: {}');
  if (made.ok) return made;
  return {
    ok: false,
    play: out.play,
    part: { kind: 'gate', gate: signOut },
    why: made.refusal.sentence,
  };
}

/** A gate is held by few things, and each takes few steps; more rounds than this go in a circle. */
const roundsMax = 40;

/** Settles the holds of a gate one after another until there are none, or nothing changes any more. */
function settledFor(play: Play, gate: string, instead: Instead): Stepped {
  let current = play;
  let blocked: Blocked | undefined;
  for (let round = 0; round < roundsMax; round += 1) {
    const holds = [...holdsOf(current.current, gate)].sort((one, other) => rank(one) - rank(other));
    if (holds.length === 0) return { ok: true, play: current };
    let made: Stepped | undefined;
    for (const hold of holds) {
      made = settled(current, gate, hold, instead);
      if (made.ok && made.play.current.entry > current.current.entry) break;
      // What comes first in order is the cause; what is told of it is why it could not be settled.
      blocked ??= made.ok ? blockedBy(current, gate, hold) : made;
      made = undefined;
    }
    if (made?.ok !== true) return blocked ?? blockedBy(current, gate, holds[0]);
    [current, blocked] = [made.play, undefined];
  }
  return blockedBy(current, gate, holdsOf(current.current, gate)[0]);
}

const blockedBy = (play: Play, gate: string, hold: Hold | undefined): Blocked => ({
  ok: false,
  play,
  part: hold === undefined ? { kind: 'gate', gate } : partOf(hold, gate),
  why: hold === undefined ? 'It does not end' : hold.title,
});

function partOf({ code, about }: Hold, gate: string): Part {
  if (code === 'count-due') return { kind: 'count', moment: momentFrom(about) };
  if (code === 'piece-inside' || code === 'stays-unexplained') return { kind: 'line', line: about };
  return code.startsWith('specimen')
    ? { kind: 'specimen', specimen: about }
    : { kind: 'gate', gate };
}

/** In the order in which a team settles them: what makes a count stale comes before the count. */
const order: readonly Hold['code'][] = [
  'baseline-open',
  'checkpoint-open',
  'specimen-inside',
  'piece-inside',
  'stays-unexplained',
  'specimen-unlabelled',
  'specimen-unread',
  'specimen-here',
  'handover-open',
  'look-open',
  'count-due',
];
const rank = ({ code }: Hold): number => {
  const place = order.indexOf(code);
  return place < 0 ? order.length : place;
};

const momentFrom = (word: string): MomentId => momentIds.find((known) => known === word) ?? 'extra';

function settled(play: Play, gate: string, hold: Hold, instead: Instead): Stepped {
  switch (hold.code) {
    case 'baseline-open':
    case 'count-due':
      return counted(play, momentFrom(hold.about));
    case 'checkpoint-open':
      return checked(play, hold.about, instead);
    case 'specimen-inside':
    case 'specimen-unlabelled':
    case 'specimen-unread':
    case 'specimen-here':
      return specimenStepped(play, hold.about);
    case 'piece-inside':
      return takenOut(play, hold.about);
    case 'stays-unexplained':
      return explained(play, hold.about);
    case 'handover-open':
      return handedOver(play, hold.about);
    case 'look-open':
      return looked(play, hold.about, instead);
    default:
      return blockedBy(play, gate, hold);
  }
}
