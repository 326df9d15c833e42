import { expect, test } from 'vitest';
import { gateState } from '#engine/closures/holdsOf.ts';
import { rowOf } from '#engine/ledger.ts';
import { keyOf, type Node, recorded, starts } from './tiny.ts';
import { nextOf, type Width, wayOutOf } from './tinySteps.ts';

/**
 * `EXHAUST=8 EXHAUST_WIDE=5 npx vitest run tests/simulator/exhaustion.test.ts` goes as many steps deep. A step is
 * what a person would call one: a move, a whole count, a search, a declaration.
 */
const isPassable = ({ current }: Node): boolean => gateState(current, 'wound') !== 'held';

const isSignOutHeld = (current: Node['current']): boolean =>
  gateState(current, 'sign-out') === 'held';

/** A piece that is where it may not be although the closure is clear or made; found without asking the holds. */
function misplaced({ current, truth, lied, isSeen }: Node): string | undefined {
  for (const id of current.lines.keys()) {
    const row = rowOf(current.ledger, id);
    if ((row.inside[0] ?? 0) > 0) return `${id} is inside`;
    const stays = current.left[id]?.reduce((sum, one) => sum + one.n, 0) ?? 0;
    if (stays !== row.stays) return `${row.stays} ${id} stay, the record has ${stays}`;
    const mayStay = current.lines.get(id)?.stay.may !== 'no';
    const isSaid = current.left[id]?.every(
      (one) => one.reason !== undefined && (mayStay || (one.decidedBy?.length ?? 0) >= 2),
    );
    if (row.stays > 0 && !isSaid) return `${id} stays and nobody said why`;
    const isMarked =
      current.counts.waivers.length > 0 ||
      current.counts.amendments.length > 0 ||
      current.missing.length > 0;
    // A count that differs after the closure was made does not undo it, but holds sign out: it is known.
    const isMade = gateState(current, 'wound') === 'done';
    const isHeld = isMade && current.differing[id] !== undefined && isSignOutHeld(current);
    const isTold = isMarked || isHeld;
    const isTrue = !lied && isSeen && !isTold;
    if (isTrue && (truth[id]?.inside ?? 0) > 0) return `${id} really is inside, and unmarked`;
  }
  return undefined;
}

const story = ({ current, truth }: Node): string =>
  JSON.stringify({ log: logOf(current.log), truth, differing: current.differing });
function logOf(log: Node['current']['log']): readonly string[] {
  const words: string[] = [];
  for (let at = log; at; at = at.tail) words.unshift(`${at.type} ${at.subject}`);
  return words;
}

/** Walks out of a node with lawful steps. Nodes on the way that are known to lead out are the end of it. */
function leadsOut(node: Node, known: Set<string>): boolean {
  const way: string[] = [];
  let at = node;
  for (let i = 0; i < 60; i++) {
    const key = keyOf(at);
    const step = known.has(key) ? undefined : wayOutOf(at);
    if (!step) {
      for (const passed of way) known.add(passed);
      return true;
    }
    way.push(key);
    const current = recorded(at.current, step.commands);
    if (!current) return false;
    at = { ...at, current, truth: step.truth ?? at.truth };
  }
  return false;
}

function exhaust(width: Width, depth: number) {
  const seen = new Set<string>();
  const known = new Set<string>();
  const unsound: string[] = [];
  const trapped: string[] = [];
  const sizes: number[] = [];
  let passable = 0;
  let edge: readonly Node[] = starts();
  for (const node of edge) seen.add(keyOf(node));
  for (let step = 0; step <= depth; step++) {
    const further: Node[] = [];
    sizes.push(edge.length);
    for (const node of edge) {
      if (isPassable(node)) {
        passable += 1;
        const wrong = misplaced(node);
        if (wrong) unsound.push(`${wrong}: ${story(node)}`);
      }
      if (!leadsOut(node, known)) trapped.push(story(node));
      if (step === depth) continue;
      for (const next of nextOf(node, width)) {
        const key = keyOf(next);
        if (seen.has(key)) continue;
        seen.add(key);
        further.push(next);
      }
    }
    edge = further;
  }
  const states = `${seen.size} states (${sizes.join(' + ')})`;
  console.log(`${width}, ${depth} steps: ${states}, ${passable} clear or closed`);
  return { unsound: unsound.slice(0, 3), trapped: trapped.slice(0, 3), passable };
}

const hours = { timeout: 4 * 3_600_000 };

test(
  '[X1] [X4] no closure of a small case is clear with a piece misplaced; all lead out',
  hours,
  () => {
    const { unsound, trapped, passable } = exhaust('core', Number(process.env.EXHAUST ?? 7));
    expect(unsound).toEqual([]);
    expect(trapped).toEqual([]);
    expect(passable).toBeGreaterThan(0);
  },
);

test('[X1] [X4] nor with what stays, breaks, slips in unseen, reliefs and films', hours, () => {
  const { unsound, trapped, passable } = exhaust('wide', Number(process.env.EXHAUST_WIDE ?? 4));
  expect(unsound).toEqual([]);
  expect(trapped).toEqual([]);
  expect(passable).toBeGreaterThan(0);
});

test('a piece inside a closure that is clear is told', () => {
  const [start] = starts();
  if (!start) throw new Error('no start');
  const move = { type: 'move', line: 'swab', from: 'table', to: 'patient', n: 1 } as const;
  const current = recorded(start.current, [move]);
  expect(current && misplaced({ ...start, current })).toBe('swab is inside');
  expect(misplaced({ ...start, truth: { swab: { table: 0, inside: 1, off: 0 } } })).toBe(
    'swab really is inside, and unmarked',
  );
});
