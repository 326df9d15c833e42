import { expect, test } from 'vitest';
import type { Sheet } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import { afterCount } from '#screens/count/afterCount.ts';
import { lineActs, turnPlace } from '#screens/frame/lineActions.ts';
import { measuredNext, unweighed } from '#screens/frame/unweighed.ts';
import { keptStretches, linesInCase, siteInHand, wireBlocks } from '#screens/frame/wires.ts';
import { count, type Done, given, givenOn, incised, look } from '../support/given.ts';
import { line, storySheet } from '../support/storySheet.ts';

/** What the screens offer next, from a case alone: acts of a line, the site in hand, and where a count leads. */

const add = (line: string, n: number): Done => ({ type: 'add', line, n });
const into = (line: string, site = 'abdomen', n = 1): Done => ({
  type: 'move',
  line,
  from: 'table',
  to: `patient/${site}`,
  n,
});

function actsOf(current: Case, id: string) {
  const line = current.lines.get(id);
  if (!line) throw new Error(`There is no line ${id}.`);
  return lineActs(current, line);
}
const idsOf = (current: Case, id: string) => actsOf(current, id).map((act) => act.id);

test('a loop on the table has no turn yet; in the patient it is placed with one tap', () => {
  const before = given(...incised, add('loop', 1)).current;
  expect(idsOf(before, 'loop')).toEqual(['off']);
  const after = given(...incised, add('loop', 1), into('loop')).current;
  expect(idsOf(after, 'loop')).toEqual(['turn-placed', 'out-table']);
  expect(actsOf(after, 'loop')[0]?.command).toEqual({
    type: 'turn',
    line: 'loop',
    turn: 'placed',
    at: 'patient/abdomen',
    n: 1,
  });
});

test('a turn that asks how many is answered on a sheet of its own', () => {
  const { current } = given(...incised, add('reel', 1));
  expect(actsOf(current, 'reel')[0]).toMatchObject({
    id: 'turn-cut',
    label: 'Cut…',
    command: undefined,
  });
});

test('with none at its place a turn has no place; with two it is the first site of the sheet', () => {
  const loop = given().current.lines.get('loop');
  const turn = loop?.turns[0];
  if (!loop || !turn) throw new Error('The sheet has no loop.');
  expect(turnPlace(given(...incised, add('loop', 1)).current, loop, turn)).toBeUndefined();
  const both = given(...incised, add('loop', 2), into('loop'), into('loop', 'uterus')).current;
  expect(turnPlace(both, loop, turn)).toBe('patient/uterus');
});

test('only what may stay is offered to stay, and then its reason is asked', () => {
  const pusher = given(...incised, add('pusher', 1), into('pusher')).current;
  expect(idsOf(pusher, 'pusher')).not.toContain('stays');
  const steps: readonly Done[] = [...incised, add('drain', 1), into('drain')];
  expect(idsOf(given(...steps).current, 'drain')).toContain('stays');
  const left = given(...steps, {
    type: 'move',
    line: 'drain',
    from: 'patient/abdomen',
    to: 'stays',
    n: 1,
  }).current;
  expect(actsOf(left, 'drain')).toMatchObject([{ id: 'why', command: undefined }]);
});

test('what a tap puts on the table goes off the field as its act, and the other way about', () => {
  const swab = given(...incised, into('swab')).current;
  expect(actsOf(swab, 'swab').find(({ id }) => id === 'out-table')?.command).toMatchObject({
    from: 'patient/abdomen',
    to: 'table',
  });
});

test('pieces go into the site that is closed last; an orifice never comes by itself', () => {
  expect(siteInHand(given(...incised).current)).toBe('abdomen');
  const uterusClosed = given(...incised, count('cavity'), { type: 'close', closure: 'uterus' });
  expect(siteInHand(uterusClosed.current)).toBe('abdomen');
});

test('what closes sites with another variant only says nothing of where pieces go', () => {
  const [first] = storySheet.closures;
  if (!first) throw new Error('The sheet has no closure.');
  const birth = { ...first, id: 'birth', sites: ['uterus'], when: { variant: ['open'] } };
  const sheet = { ...storySheet, closures: [...storySheet.closures, birth] };
  expect(siteInHand(givenOn(sheet, ...incised).current)).toBe('abdomen');
});

test('with the cavities closed the first site of the sheet stands, where a tap is refused', () => {
  const { current } = given(
    ...incised,
    { type: 'specimen', id: 'lump', step: 'notTaken', reason: 'none', by: 'surgeon' },
    count('cavity'),
    { type: 'close', closure: 'uterus' },
    look('abdomen'),
    count('closing'),
    { type: 'close', closure: 'abdomen' },
  );
  expect(siteInHand(current)).toBe('uterus');
});

test('a count that agrees leads to the closure that it is for, any other to the frame', () => {
  const cavity = given(...incised, count('cavity')).current;
  expect(afterCount(cavity, 'cavity')).toEqual({ name: 'closing', about: 'uterus' });
  expect(afterCount(cavity, 'extra')).toEqual({ name: 'frame' });
  expect(afterCount(given(...incised).current, 'first')).toEqual({ name: 'frame' });
});

test('before the incision the first count leads to the checkpoint that stands next, as sign in leads to it', () => {
  const counted = given(...incised.slice(0, 3)).current;
  expect(afterCount(counted, 'first')).toEqual({ name: 'checkpoint', about: 'time-out' });
});

test('a count in which a line differs leads to its recount', () => {
  const { current } = given(...incised, count('cavity', { needle: { field: 1, off: 0 } }));
  expect(afterCount(current, 'cavity')).toEqual({ name: 'recount' });
});

const off = (n: number): Done => ({ type: 'move', line: 'swab', from: 'table', to: 'off', n });

test('as many swabs are offered for the scales as lie off the field and were not weighed', () => {
  expect(unweighed(given(...incised).current, 'swab')).toBe(5);
  expect(unweighed(given(...incised, off(3)).current, 'swab')).toBe(3);
  const weighed: Done = { type: 'weigh', line: 'swab', n: 2, wetG: 30 };
  expect(unweighed(given(...incised, off(3), weighed).current, 'swab')).toBe(1);
});

test('a line that waits for its recount says nothing there of what the record holds', () => {
  const differs = count('cavity', { swab: { field: 1, off: 3 } });
  const { current } = given(...incised, off(3), differs);
  expect(current.differing.swab?.stage).toBe('recount');
  expect(unweighed(current, 'swab')).toBe(5);
});

test('swabs that were not weighed are measured first, then the suction, and then nobody guesses what', () => {
  const lying = given(...incised, off(2));
  expect(measuredNext(lying.current)).toEqual({ kind: 'swabs', line: 'swab' });
  const weighed = given(...incised, off(2), { type: 'weigh', line: 'swab', n: 2, wetG: 30 });
  expect(measuredNext(weighed.current)).toEqual({ kind: 'suction' });
  const both = given(
    ...incised,
    off(2),
    { type: 'weigh', line: 'swab', n: 2, wetG: 30 },
    { type: 'fluid', kind: 'suction', ml: 15 },
  );
  expect(measuredNext(both.current)).toBeUndefined();
});

test('of swabs that wait for their recount it does not say whether any lie off the field', () => {
  const { current } = given(...incised, off(2), count('cavity', { swab: { field: 1, off: 2 } }));
  expect(current.differing.swab?.stage).toBe('recount');
  expect(measuredNext(current)).toEqual({ kind: 'suction' });
});

/** Port parts, then what is in no group, then another group, then a part that is written far from its port. */
const mixed = (lines: readonly string[]): Sheet => ({
  ...storySheet,
  lines: [
    line('cannula', { group: 'Port', opening: lines.includes('cannula') ? 1 : 0 }),
    line('loose', { opening: lines.includes('loose') ? 1 : 0 }),
    line('bag', { group: 'Bag', opening: lines.includes('bag') ? 1 : 0 }),
    line('seal', { group: 'Port', opening: lines.includes('seal') ? 1 : 0 }),
    line('last', { opening: lines.includes('last') ? 1 : 0 }),
  ],
});

function blocksOf(...opened: readonly string[]) {
  const { current } = givenOn({ ...mixed(opened), closures: [] }, count('first'));
  return wireBlocks(current.lines.values(), linesInCase(current));
}

test('the wires stand in the order of the sheet, the parts of a group together', () => {
  const blocks = blocksOf('cannula', 'loose', 'bag', 'seal', 'last');
  expect(blocks.map(({ title, lines }) => [title, ...lines])).toEqual([
    ['Port', 'cannula', 'seal'],
    ['', 'loose'],
    ['Bag', 'bag'],
    ['', 'last'],
  ]);
});

test('a block is called the same whatever else is opened, so that its wires are not drawn again', () => {
  const idOf = (id: string, ...opened: readonly string[]) =>
    blocksOf(id, ...opened).find(({ lines }) => lines.includes(id))?.id;
  for (const id of ['loose', 'last', 'seal', 'bag']) {
    expect(idOf(id)).toBeDefined();
    expect(idOf(id, 'cannula')).toBe(idOf(id));
    expect(idOf(id, 'cannula', 'bag', 'seal')).toBe(idOf(id));
  }
});

test('a stretch stays the same one only while it shows the same and a tap does the same', () => {
  const old = {
    place: 'table',
    placeWords: 'on the table',
    tone: 'table',
    pieces: 2,
    does: 'moves one to the abdomen',
    onTap: () => {},
  } as const;
  const after = (change: object) =>
    keptStretches([old], [{ ...old, onTap: () => {}, ...change }])[0];
  expect(after({})).toBe(old);
  for (const change of [
    { pieces: 1 },
    { pieces: undefined },
    { does: 'moves one to the uterus' },
    { onTap: undefined },
    { placeWords: 'auf dem Tisch' },
  ])
    expect(after(change)).toMatchObject(change);
});
