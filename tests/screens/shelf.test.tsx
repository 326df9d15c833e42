/** What can be opened stands on a shelf, what comes apart as one. */
import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor, within } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { at } from '#engine/ledger.ts';
import { preloadScreens } from '#screens/App.tsx';
import { isSet, madeOfOthers, onShelf } from '#screens/frame/shelf.ts';
import type { Session } from '#session/createSession.ts';
import { atFrame } from '../support/atFrame.tsx';
import { scanOn } from '../support/scanner.ts';

const loaded = await sheets.find((known) => known.id === 'ports-and-swabs')?.load();
if (!loaded) throw new Error('The teaching sheet is not there.');
const sheet = loaded;

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

test('a group is one set, where its first line stands; what others give is none of it', () => {
  const made = madeOfOthers(sheet.lines);
  const shelf = onShelf(sheet.lines.filter((line) => line.counted && !made.has(line.id)));
  expect(
    shelf.map((one) => (isSet(one) ? [one.name, ...one.lines.map(({ id }) => id)] : one.id)),
  ).toEqual([
    ...['swab', 'large-swab'],
    ['Port 12 mm', 'port-12-cannula', 'port-12-seal'],
    ...['grasper', 'loop', 'drain'],
  ]);
  expect([...made]).toEqual(['loop-ligature', 'loop-pusher', 'loop-end-piece']);
});

const parts = ['port-12-cannula', 'port-12-seal'];

async function atShelf(): Promise<Session> {
  const session = await atFrame(sheet);
  fireEvent.click(screen.getByRole('button', { name: 'Add to field' }));
  return session;
}

const onTable = (session: Session): readonly number[] => {
  const { current } = session.store.getSnapshot().context;
  return parts.map((line) => (current ? at(current.ledger, line, 'table') : -1));
};

test('a whole set is added with one tap, each part by its own number', async () => {
  const session = await atShelf();
  const [cannulas = 0, seals = 0] = onTable(session);
  fireEvent.click(await screen.findByRole('button', { name: /^Port 12 mm/ }));
  const over = within(await screen.findByRole('dialog', { name: 'Add: Port 12 mm' }));
  const seal = within(over.getByRole('group', { name: 'Seal 12 mm' }));
  fireEvent.click(seal.getByRole('button', { name: 'Seal 12 mm: one more' }));
  fireEvent.click(over.getByRole('button', { name: 'Both saw it: Testa and Prueba' }));
  await waitFor(() => expect(onTable(session)).toEqual([cannulas + 1, seals + 2]));
  await waitFor(() => expect(screen.queryByRole('dialog')).toBeNull());
});

test('of a set a part alone can be added, and none is none', async () => {
  const session = await atShelf();
  const [cannulas = 0, seals = 0] = onTable(session);
  fireEvent.click(await screen.findByRole('button', { name: /^Port 12 mm/ }));
  fireEvent.click(await screen.findByRole('button', { name: 'Cannula 12 mm: one less' }));
  fireEvent.click(screen.getByRole('button', { name: 'Seal 12 mm: one less' }));
  const both = screen.getByRole('button', { name: 'Both saw it: Testa and Prueba' });
  fireEvent.click(both);
  expect(await screen.findByText('Say how many of a part were opened.')).toBeDefined();
  fireEvent.click(screen.getByRole('button', { name: 'Seal 12 mm: one more' }));
  fireEvent.click(both);
  await waitFor(() => expect(onTable(session)).toEqual([cannulas, seals + 1]));
});

test('a pack that is scanned while a set is being added waits, and its lot is not lost with the set', async () => {
  const session = await atShelf();
  fireEvent.click(await screen.findByRole('button', { name: /^Port 12 mm/ }));
  scanOn(document.body, ']d20109506000134376' + '10Q7');
  expect(await screen.findByText(/That is another item\. Add this one first\./)).toBeDefined();
  fireEvent.click(screen.getByRole('button', { name: 'Both saw it: Testa and Prueba' }));
  await waitFor(() => expect(screen.queryByRole('dialog')).toBeNull());
  scanOn(document.body, ']d20109506000134376' + '10Q7');
  const asked = await screen.findByRole('dialog', { name: 'Add to the field' });
  expect(asked.textContent).toContain('Q7');
  // Its lot is that of one line, so that each part stands there by itself.
  fireEvent.click(within(asked).getByRole('button', { name: /^Seal 12 mm/ }));
  fireEvent.click(screen.getByRole('button', { name: 'Both saw it: Testa and Prueba' }));
  const scanned = () => session.store.getSnapshot().context.current?.scanned;
  await waitFor(() => expect(scanned()).toMatchObject([{ line: 'port-12-seal', n: 1 }]));
});
