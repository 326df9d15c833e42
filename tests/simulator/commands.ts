/** Random commands, most of them such as a theatre would give, some of them wrong in every way we know. */
import fc from 'fast-check';
import type { Command } from '#engine/case/events.ts';
import type { Found } from '#engine/countState.ts';
import type { Checkpoint, MomentId } from '#engine/sheet.ts';
import { losable } from './naiveApply.ts';
import {
  balanceOf,
  everyPlace,
  expectedOf,
  gatesOf,
  insideOf,
  isInside,
  isListedInUse,
  type World,
} from './naiveWorld.ts';

/** One throw of the dice. What it means depends on the case it meets, so that a shorter list still makes sense. */
export type Throw = { readonly what: keyof typeof makers; readonly seed: number };

type View = () => World;
type Dice = (sides: number) => number;
type Made = Iterable<Command>;

const pick = <T>(dice: Dice, list: readonly [T, ...T[]] | readonly T[], fallback: T): T =>
  list[dice(list.length)] ?? fallback;

/** Lines of the case, with those that lie somewhere more often. */
function anyLine(world: World, dice: Dice): string {
  if (dice(40) === 0) return 'no-such-line';
  const lying = [...new Set(world.pieces.map((piece) => piece.line))];
  const all = [...world.lines.keys()];
  return lying.length > 0 && dice(5) > 0 ? pick(dice, lying, 'swab') : pick(dice, all, 'swab');
}

const anySite = (world: World, dice: Dice): string =>
  dice(50) === 0
    ? 'elsewhere'
    : pick(dice, world.sheet.sites, { id: '', name: '', kind: 'wound' }).id;

const oddNumbers = [0, -1, 1.5, 1000, 999];

function quantity(dice: Dice, most: number): number {
  if (dice(25) === 0) return pick(dice, oddNumbers, 0);
  return 1 + dice(Math.max(1, Math.min(most, 3)));
}

/** A place where the line has pieces. */
function placeWith(world: World, dice: Dice, line: string): string {
  const places = everyPlace(world.sheet).filter((place) => balanceOf(world, line, place) > 0);
  const likely = places.filter((place) => place !== 'changed' && place !== 'missing');
  return dice(30) === 0 ? pick(dice, places, 'table') : pick(dice, likely, 'table');
}

const people = [['surgeon', 'circulator'], ['surgeon', 'scrub'], ['surgeon'], ['scrub', 'Ensayo']];

function* oneMove(view: View, dice: Dice): Made {
  const world = view();
  const line = anyLine(world, dice);
  const from = dice(20) === 0 ? 'nowhere' : placeWith(world, dice, line);
  const sites = world.sheet.sites.map((site) => `patient/${site.id}`);
  const ends = ['table', 'off', 'stays', 'specimen', 'away', 'patient', 'supply', 'missing'];
  const into = isInside(from) ? ['table', 'off', 'table', 'off', 'stays'] : [...sites, ...sites];
  const to = dice(4) === 0 ? pick(dice, ends, 'off') : pick(dice, into, 'off');
  const said = dice(3);
  yield {
    type: 'move',
    line,
    from,
    to,
    n: quantity(dice, balanceOf(world, line, from)),
    ...(dice(3) > 0 && { with: 'Testfriend' }),
    ...(said > 0 && {
      reason: dice(40) > 0 ? 'meant' : 'm'.repeat(500 + dice(2)),
      where: 'pelvis',
    }),
    ...(said > 1 && { lot: 'L1' }),
  };
}

/** Takes one thing out of the patient. */
function* takeOut(view: View, dice: Dice): Made {
  const world = view();
  const inside = world.pieces.filter((piece) => isInside(piece.place));
  const piece = inside[dice(inside.length)];
  if (!piece) return;
  const n = balanceOf(world, piece.line, piece.place);
  const to = dice(2) === 0 ? 'table' : 'off';
  yield { type: 'move', line: piece.line, from: piece.place, to, n: dice(3) === 0 ? 1 : n };
}

function* oneAdd(view: View, dice: Dice): Made {
  const world = view();
  const line = anyLine(world, dice);
  const size = world.lines.get(line)?.pack;
  if (size && dice(10) > 0) {
    const packs = [size, dice(4) === 0 ? size - 1 : size].slice(0, 1 + dice(2));
    yield { type: 'add', line, packs };
  } else yield { type: 'add', line, n: quantity(dice, 2) };
}

function* oneTurn(view: View, dice: Dice): Made {
  const world = view();
  const able = [...world.lines.values()].filter((line) => line.turns.length > 0);
  const line = able[dice(able.length)];
  if (!line || dice(20) === 0) {
    yield { type: 'turn', line: anyLine(world, dice), turn: 'placed', at: 'table', n: 1 };
    return;
  }
  const turn = line.turns[0];
  const at = placeWith(world, dice, line.id);
  const asked = turn?.asks !== undefined;
  const n = asked ? 1 : quantity(dice, balanceOf(world, line.id, at));
  const into = dice(10) === 0 ? 0 : 1 + dice(3);
  yield { type: 'turn', line: line.id, turn: turn?.id ?? '', at, n, ...(asked && { into }) };
}

/** Opens what turns, brings it to where it turns, and turns it. */
function* useUp(view: View, dice: Dice): Made {
  const able = [...view().lines.values()].filter((line) => line.turns.length > 0);
  const line = able[dice(able.length)];
  const turn = line?.turns[0];
  if (!line || !turn) return;
  if (balanceOf(view(), line.id, 'table') === 0) yield { type: 'add', line: line.id, n: 1 };
  const site = `patient/${anySite(view(), dice)}`;
  const at = turn.at === 'patient' || (turn.at === 'any' && dice(3) > 0) ? site : 'table';
  if (at !== 'table') yield { type: 'move', line: line.id, from: 'table', to: at, n: 1 };
  const asked = turn.asks === undefined ? {} : { into: 1 + dice(3) };
  yield { type: 'turn', line: line.id, turn: turn.id, at, n: 1, ...asked };
}

function* oneBreak(view: View, dice: Dice): Made {
  const world = view();
  const line = anyLine(world, dice);
  const at = placeWith(world, dice, line);
  const known = world.lines.get(line)?.lengthMm !== undefined && dice(3) > 0;
  const lengths = dice(3) === 0 ? [4, 10] : [4, 11];
  const into = known ? 2 : dice(12) === 0 ? 0 : 2 + dice(2);
  yield { type: 'break', line, at, into, ...(known && { lengths }) };
}

function* carry(view: View, dice: Dice): Made {
  const world = view();
  const starting = [...world.lines.values()].filter((line) => line.startsIn !== undefined);
  const line = starting[dice(starting.length)];
  if (!line?.startsIn) return;
  const site = anySite(world, dice);
  const n = quantity(dice, 2);
  if (dice(3) > 0) yield { type: 'carriedIn', line: line.id, n, site, from: line.startsIn };
  else {
    const by = dice(4) === 0 ? 'scrub' : 'surgeon';
    yield { type: 'searchedNone', line: line.id, n, site, reason: 'searched, none', by };
  }
}

function* explainOne(view: View, dice: Dice): Made {
  const world = view();
  const staying = world.pieces.filter(
    (piece) => piece.place === 'stays' || (isInside(piece.place) && dice(4) === 0),
  );
  const piece = staying[dice(staying.length)];
  yield {
    type: 'explain',
    line: piece?.line ?? anyLine(world, dice),
    ...(dice(8) > 0 && { reason: 'meant', where: 'pelvis', lot: 'L2' }),
    by: pick(dice, people, ['surgeon', 'scrub']),
    ...(dice(10) === 0 && { n: quantity(dice, 2) }),
  };
}

/** What a true count would see, with now and then one too few or too many. */
function seenOf(world: World, dice: Dice, line: string, errors: number): Found {
  const inUse = isListedInUse(world, line) ? insideOf(world, line) : 0;
  const field = balanceOf(world, line, 'table') + inUse;
  const off = balanceOf(world, line, 'off');
  const wrong = errors > 0 && dice(errors) === 0 ? pick(dice, [-1, 1, -2], -1) : 0;
  const insideSeen = inUse === 0 && dice(2) === 0 ? insideOf(world, line) : 0;
  const shift = dice(6) === 0 && field > 0 ? 1 : 0;
  return { field: Math.max(0, field + insideSeen + wrong - shift), off: off + shift };
}

const moments: readonly MomentId[] = [
  'first',
  'closing',
  'final',
  'extra',
  'relief',
  'cavity',
  'added',
];

/** A whole count, with errors in one line out of so many. */
function* wholeCount(view: View, dice: Dice, moment: MomentId, errors: number): Made {
  yield { type: 'beginCount', moment };
  const running = view().running;
  if (!running) return;
  for (const id of running.lines) {
    const line = view().lines.get(id);
    if (moment === 'first' && line?.pack) {
      const packs = line.opening > 0 ? [line.pack, ...(dice(4) === 0 ? [line.pack - 1] : [])] : [];
      yield { type: 'enter', line: id, packs };
    } else if (moment === 'first') {
      const wrong = errors > 0 && dice(errors) === 0 ? 1 : 0;
      yield { type: 'enter', line: id, field: (line?.opening ?? 0) + wrong, off: 0 };
    } else yield { type: 'enter', line: id, ...seenOf(view(), dice, id, errors) };
    if (dice(60) === 0) return;
  }
  yield dice(20) === 0 ? { type: 'agree', by: ['scrub'] } : { type: 'agree' };
}

function* someCount(view: View, dice: Dice): Made {
  yield* wholeCount(view, dice, pick(dice, moments, 'extra'), 3);
}

function* partOfCount(view: View, dice: Dice): Made {
  const world = view();
  const line = world.running?.lines[dice(world.running.lines.length)] ?? anyLine(world, dice);
  const choice = dice(6);
  if (choice === 0) yield { type: 'agree' };
  else if (choice === 1) yield { type: 'abandon', reason: dice(4) === 0 ? '' : 'bleeding' };
  else if (choice === 2) yield { type: 'beginCount', moment: pick(dice, moments, 'extra') };
  else if (choice === 3) {
    yield { type: 'beginCount', moment: 'extra', scrub: 'Testa', circulator: 'Testa' };
  } else yield { type: 'enter', line, ...seenOf(world, dice, line, 2) };
}

function* someRecount(view: View, dice: Dice): Made {
  const world = view();
  const line = troubled(world, dice);
  const found = seenOf(world, dice, line, 3);
  const wrong = dice(3) > 0 ? (world.troubles.get(line)?.difference ?? 0) : 0;
  const total = expectedOf(world, line) + wrong;
  const right = dice(4) > 0 ? { field: Math.max(0, total - found.off), off: found.off } : found;
  const by = dice(12) === 0 ? { by: ['scrub', 'Testa'] } : {};
  yield { type: 'recount', lines: { [line]: right }, ...by };
}

/** A line that differs, one with a discrepancy first; or any. */
function troubled(world: World, dice: Dice): string {
  const differing = [...world.troubles.keys()];
  const open = differing.filter((line) => world.troubles.get(line)?.stage === 'discrepancy');
  const some = open.length > 0 && dice(4) > 0 ? open : differing;
  return pick(dice, some, anyLine(world, dice));
}

/** Counts every line that differs twice more, and rightly. */
function* settleAll(view: View, dice: Dice): Made {
  for (const line of [...view().troubles.keys()]) {
    for (let i = 0; i < 2; i++) {
      const off = balanceOf(view(), line, 'off');
      const field = Math.max(0, expectedOf(view(), line) - off);
      yield { type: 'recount', lines: { [line]: { field, off } } };
      if (dice(15) === 0) return;
    }
  }
}

const steps = ['surgeon-told', 'record-read', 'field-searched', 'room-searched', 'xray'] as const;

function* search(view: View, dice: Dice): Made {
  const line = troubled(view(), dice);
  const skips = dice(3) === 0;
  for (const step of steps) {
    if (dice(10) === 0) continue;
    const film = { readBy: 'Sample', wholeField: dice(4) > 0, result: 'nothing-seen' } as const;
    if (step === 'xray') {
      yield skips
        ? { type: 'discrepancy', line, step, skip: 'no time' }
        : { type: 'discrepancy', line, step, ...film };
    } else yield { type: 'discrepancy', line, step, by: 'surgeon' };
  }
}

function* endDiscrepancy(view: View, dice: Dice): Made {
  const world = view();
  const line = troubled(world, dice);
  const trouble = world.troubles.get(line);
  const from = dice(2) === 0 ? { from: pick(dice, losable(world, line), 'table') } : {};
  const n = dice(3) > 0 ? Math.max(1, Math.abs(trouble?.difference ?? 1)) : quantity(dice, 2);
  const reason = 'said so';
  const choice = trouble && dice(4) > 0 ? (trouble.difference > 0 ? 2 : dice(2)) : dice(3);
  if (choice === 0) {
    yield { type: 'declare', line, n, reason, by: pick(dice, people, ['scrub']), ...from };
  } else if (choice === 1) {
    const place = dice(3) === 0 ? 'table' : 'off';
    yield { type: 'discrepancy', line, step: 'found', place, n, ...from };
  } else {
    const by = dice(6) === 0 ? ['scrub', 'surgeon'] : ['scrub', 'circulator', 'surgeon'];
    yield { type: 'amend', line, n, reason, by };
  }
}

function* film(_view: View, dice: Dice): Made {
  const by = pick(dice, people, ['surgeon', 'scrub']);
  if (dice(2) === 0) yield { type: 'deferXray', reason: 'unstable', by };
  else {
    const readBy = dice(10) === 0 ? '' : 'Sample';
    yield { type: 'xray', wholeField: dice(3) > 0, result: 'nothing-seen', readBy };
  }
}

function* someRelief(_view: View, dice: Dice): Made {
  const role = pick(dice, ['scrub', 'circulator', 'surgeon'] as const, 'scrub');
  yield { type: 'relief', role, to: pick(dice, ['Nuovo', 'Neu', 'Testa', 'Prueba'], 'Nuovo') };
}

function* someWaiver(view: View, dice: Dice): Made {
  const reason = dice(6) === 0 ? '' : 'exsanguinating';
  const by = pick(dice, people, ['surgeon', 'scrub']);
  const asked = view().sheet.closures.map((closure) => closure.count);
  const moment = pick(dice, dice(3) > 0 ? asked : moments, 'closing');
  yield { type: 'waive', moment, reason, by };
}

function* lookAndClose(view: View, dice: Dice): Made {
  const world = view();
  const open = gatesOf(world).filter((gate) => !world.closed.has(gate));
  const gate = dice(4) > 0 ? (open[0] ?? 'skin') : pick(dice, gatesOf(world), 'skin');
  const closure = world.sheet.closures.find((one) => one.id === gate);
  for (const step of closure?.look ?? []) {
    if (dice(6) > 0) yield { type: 'look', closure: gate, answers: { [step.id]: 'yes' } };
  }
  yield gate === 'sign-out' ? { type: 'finish' } : { type: 'close', closure: gate };
}

function* reopenOne(view: View, dice: Dice): Made {
  const done = [...view().closed];
  const closure = pick(dice, dice(4) > 0 ? done : gatesOf(view()), 'skin');
  yield { type: 'reopen', closure, reason: dice(5) === 0 ? '' : 'bleeding' };
}

function* takeBack(view: View, dice: Dice): Made {
  const { entry } = view();
  const choice = dice(4);
  if (choice < 2) yield { type: 'correct', last: 1 };
  else if (choice === 2) yield { type: 'correct', entry: Math.max(1, entry - dice(10)) };
  else yield { type: 'correct', entry: 1 + dice(entry + 1) };
}

function* passCheckpoint(view: View, dice: Dice): Made {
  const checkpoint = pick(dice, view().sheet.checkpoints, undefined);
  if (checkpoint) yield* pass(checkpoint);
}

function* pass(checkpoint: Checkpoint): Made {
  yield { type: 'beginCheckpoint', id: checkpoint.id, present: ['circulator', 'surgeon'] };
  for (const step of checkpoint.steps) {
    yield { type: 'answer', checkpoint: checkpoint.id, step: step.id, value: 'yes' };
  }
  yield { type: 'finishCheckpoint', id: checkpoint.id };
}

function* incise(): Made {
  yield { type: 'incision' };
}

/** What a theatre does before it starts: the first count, the time out, the incision. */
function* openTheatre(view: View, dice: Dice): Made {
  if (dice(8) > 0) yield* wholeCount(view, dice, 'first', 8);
  yield* passCheckpoint(view, () => 0);
  yield* incise();
}

const isSearching = (world: World): boolean =>
  [...world.troubles.values()].some((trouble) => trouble.stage === 'discrepancy');

/** Does what is likely next in such a case. */
function* likely(view: View, dice: Dice): Made {
  const world = view();
  if (world.first === 'open') yield* openTheatre(view, dice);
  else if (isSearching(world) && dice(8) > 0) {
    if (dice(3) > 0) yield* search(view, dice);
    if (dice(3) > 0) yield* endDiscrepancy(view, dice);
    if (dice(2) === 0) yield* settleAll(view, dice);
  } else if (world.troubles.size > 0 && dice(8) > 0) {
    yield* dice(3) > 0 ? someRecount(view, dice) : settleAll(view, dice);
  } else if (world.closed.size > 1 && dice(2) === 0) yield* leave(view, dice);
  else {
    const next = [headForHome, headForHome, useUp, useUp, oneMove, oneMove, someCount, specimen];
    yield* pick(dice, next, oneMove)(view, dice);
  }
}

/** Settles what only the patient's leaving asks for, signs out and ends the case. */
function* leave(view: View, dice: Dice): Made {
  yield* headForHome(view, dice);
  for (const line of new Set(linesThatStay(view()))) {
    if (dice(4) === 0) continue;
    const by = ['surgeon', 'scrub'];
    yield { type: 'explain', line, reason: 'meant', where: 'pelvis', lot: 'L3', by };
    yield { type: 'handover', line, to: 'ward', plan: 'out on day 2' };
  }
  if (dice(2) === 0) yield* film(view, dice);
  const last = view().sheet.checkpoints.find((one) => one.before === 'leaving');
  if (last) yield* pass(last);
  yield { type: 'finish' };
}

const linesThatStay = (world: World): readonly string[] =>
  world.pieces.filter((piece) => piece.place === 'stays').map((piece) => piece.line);

/** Takes all out, counts for the next closure, looks and closes. */
function* headForHome(view: View, dice: Dice): Made {
  for (let i = 0; i < 12 && view().pieces.some((piece) => isInside(piece.place)); i++) {
    yield* takeOut(view, dice);
  }
  const next = view().sheet.closures.find((one) => !view().closed.has(one.id));
  if (next) yield* wholeCount(view, dice, next.count, 12);
  yield* settleAll(view, dice);
  yield* lookAndClose(view, dice);
}

function* specimen(view: View, dice: Dice): Made {
  const world = view();
  const [id, one] = [...world.specimens.entries()][0] ?? [];
  if (!id || !one) return;
  const stones = balanceOf(world, 'stone', `patient/${one.site}`);
  if (one.stage === 'planned') {
    const carries = stones > 0 && dice(2) === 0 ? { carries: { stone: stones } } : {};
    const whole = dice(4) > 0;
    yield { type: 'specimen', id, step: 'taken', pieces: 1, whole, bag: 'none', ...carries };
    if (!whole) {
      yield { type: 'specimen', id, step: 'partLeft', reason: 'decided', by: 'surgeon' };
    }
  }
  if (dice(3) === 0) return;
  const seenBy = ['scrub', 'circulator'];
  yield { type: 'specimen', id, step: 'contained', pot: '1', medium: 'formalin', seenBy };
  yield { type: 'specimen', id, step: 'labelled', label: 'usual', on: 'pot', by: 'circulator' };
  if (dice(3) === 0) return;
  yield { type: 'specimen', id, step: 'readBack', by: 'scrub' };
  if (dice(3) > 0) yield { type: 'specimen', id, step: 'handedOver', to: 'Porter' };
}

function* handOver(view: View, dice: Dice): Made {
  const staying = view().pieces.filter((piece) => piece.place === 'stays');
  const line = staying[dice(staying.length)]?.line ?? anyLine(view(), dice);
  yield { type: 'handover', line, to: 'ward', plan: 'out on day 2' };
}

const makers = {
  openTheatre,
  likely,
  leave,
  useUp,
  oneMove,
  takeOut,
  oneAdd,
  oneTurn,
  oneBreak,
  carry,
  explainOne,
  someCount,
  partOfCount,
  someRecount,
  settleAll,
  search,
  endDiscrepancy,
  film,
  someRelief,
  someWaiver,
  lookAndClose,
  reopenOne,
  takeBack,
  passCheckpoint,
  incise,
  headForHome,
  specimen,
  handOver,
};

/** How often each is thrown, in parts of the whole. */
const weights: Readonly<Record<keyof typeof makers, number>> = {
  openTheatre: 3,
  likely: 45,
  leave: 3,
  useUp: 3,
  oneMove: 14,
  takeOut: 5,
  oneAdd: 6,
  oneTurn: 6,
  oneBreak: 2,
  carry: 2,
  explainOne: 3,
  someCount: 4,
  partOfCount: 3,
  someRecount: 5,
  settleAll: 3,
  search: 3,
  endDiscrepancy: 4,
  film: 1,
  someRelief: 1,
  someWaiver: 1,
  lookAndClose: 4,
  reopenOne: 1,
  takeBack: 5,
  passCheckpoint: 2,
  incise: 1,
  headForHome: 4,
  specimen: 2,
  handOver: 1,
};

/** The commands of one throw, each made from the case as the ones before it have left it. */
export function* commandsOf({ what, seed }: Throw, view: View): Made {
  // A small generator of its own (mulberry32), so that one seed makes a whole throw and shrinks to another.
  let state = seed;
  const roll: Dice = (sides) => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) % Math.max(1, sides);
  };
  yield* makers[what](view, roll);
}

const whats: readonly (keyof typeof makers)[] = [
  'openTheatre',
  'likely',
  'leave',
  'useUp',
  'oneMove',
  'takeOut',
  'oneAdd',
  'oneTurn',
  'oneBreak',
  'carry',
  'explainOne',
  'someCount',
  'partOfCount',
  'someRecount',
  'settleAll',
  'search',
  'endDiscrepancy',
  'film',
  'someRelief',
  'someWaiver',
  'lookAndClose',
  'reopenOne',
  'takeBack',
  'passCheckpoint',
  'incise',
  'headForHome',
  'specimen',
  'handOver',
];

const oneThrow: fc.Arbitrary<Throw> = fc.record({
  what: fc.oneof(...whats.map((what) => ({ weight: weights[what], arbitrary: fc.constant(what) }))),
  seed: fc.nat(0xffffff),
});

/** A case: mostly one that starts as a theatre starts, then anything. */
export const throwsArbitrary: fc.Arbitrary<readonly Throw[]> = fc
  .tuple(fc.boolean(), fc.boolean(), fc.array(oneThrow, { maxLength: 40, size: 'max' }))
  .map(([starts, startsToo, rest]) =>
    starts || startsToo ? [{ what: 'openTheatre', seed: 1 } as const, ...rest] : rest,
  );
