/** Who reads a part of the state is told of that part, so that one tap asks little of the screen. */
import { batch, createRenderEffect, createRoot, createSignal } from 'solid-js';
import { expect, test } from 'vitest';
import { createRows } from '#parts/rows.ts';
import { createFields } from '#screens/createFields.ts';
import { createSessionView } from '#screens/useSession.ts';
import { createSession } from '#session/createSession.ts';
import { oneSite } from '../simulator/sheets.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';

/** Makes it, and keeps what `read` sees of it each time that it is told. */
function watched<T>(make: () => T, read: (made: T) => unknown) {
  return createRoot(() => {
    const made = make();
    const seen: unknown[] = [];
    createRenderEffect(() => seen.push(read(made)));
    return { made, seen };
  });
}

test('a reader of one field is not told of another', () => {
  const first: { readonly lights: string; readonly head: string | undefined } = {
    lights: 'up',
    head: undefined,
  };
  const { made, seen } = watched(
    () => createFields(first),
    ([fields]) => fields.head,
  );
  const [fields, set] = made;
  set({ lights: 'down', head: undefined });
  expect(fields.lights).toBe('down');
  expect(seen).toEqual([undefined]);
  set({ lights: 'down', head: 'abc' });
  expect(seen).toEqual([undefined, 'abc']);
  expect(Object.keys(fields)).toEqual(['lights', 'head']);
});

test('a row that is made anew as it was tells nobody; one that changed does, and keeps its place', () => {
  const [list, setList] = createSignal([
    { id: 'swab', name: 'Swab', n: 1 },
    { id: 'seal', name: 'Seal', n: 3 },
  ]);
  const { made: rows, seen } = watched(
    () => createRows(list),
    ({ row }) => row('seal')?.n,
  );
  const ids = rows.ids();
  setList([
    { id: 'swab', name: 'Swab', n: 2 },
    { id: 'seal', name: 'Seal', n: 3 },
  ]);
  expect(seen).toEqual([3]);
  expect(rows.row('swab')?.n).toBe(2);
  batch(() => setList((before) => before.map((row) => ({ ...row, n: 7 }))));
  expect(seen).toEqual([3, 7]);
  expect(rows.ids()).toBe(ids);
  setList([{ id: 'seal', name: 'Seal', n: 7 }]);
  expect(rows.ids()).toEqual(['seal']);
  expect(rows.row('swab')).toBeUndefined();
  expect(seen).toEqual([3, 7]);
});

test('who reads what a move does not change is told of none, and nobody before all fields are new', async () => {
  const session = createSession(makeWorld().ports);
  await session.start();
  const steady: unknown[] = [];
  const moves: string[] = [];
  const torn: unknown[] = [];
  const view = createRoot(() => {
    const made = createSessionView(session);
    createRenderEffect(() => steady.push(made.fields()?.closures));
    createRenderEffect(() => {
      const now = made.fields();
      moves.push(`${now?.log?.type} ${now?.log?.entry === now?.entry}`);
      if (now?.ledger !== made.open()?.ledger) torn.push(now);
    });
    return made;
  });
  await session.begin(invented(oneSite));
  await session.send({ type: 'beginCount', moment: 'first' });
  for (const { id } of oneSite.lines)
    await session.send({ type: 'enter', line: id, field: 5, off: 0 });
  await session.send({ type: 'agree' });
  const opened = view.fields();
  const before = steady.length;
  await session.send({ type: 'add', line: 'swab', packs: [5] });
  await session.send({ type: 'move', line: 'swab', from: 'table', to: 'off', n: 1 });
  expect(moves.slice(-2)).toEqual(['added true', 'moved true']);
  expect(steady).toHaveLength(before);
  expect(torn).toEqual([]);
  expect(view.fields()).toBe(opened);
  expect({ ...opened }).toEqual(session.store.getSnapshot().context.current);
});
