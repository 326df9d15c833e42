import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor, within } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { preloadScreens } from '#screens/App.tsx';
import { createSession, type Session } from '#session/createSession.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

/** Which specimens are offered beyond the planned ones, and how one is added. */

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

/** The dialog of a new specimen, in a case of a sheet with these variants. */
async function adding(id: string, variants: readonly string[]): Promise<Session> {
  const sheet = await sheets.find((known) => known.id === id)?.load();
  if (!sheet) throw new Error(`There is no sheet ${id}.`);
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin({ ...invented(sheet), variants, practice: false });
  session.show({ name: 'specimen', about: '' });
  showApp(session, [sheet]);
  await newSpecimen();
  return session;
}

async function newSpecimen(): Promise<void> {
  const [key] = await screen.findAllByRole('button', { name: 'New specimen' });
  if (key) fireEvent.click(key);
  await screen.findByRole('dialog');
}

const offered = () =>
  within(screen.getByRole('group', { name: 'What is taken' })).getAllByRole('button');
const named = (name: string) => offered().find((one) => one.textContent?.startsWith(name));

test('a new specimen is offered by the name that the sheet has for it, with site and test', async () => {
  await adding('thyroidectomy', ['right-lobe']);
  expect(named('Isthmus of thyroid')?.textContent).toContain('midline');
  expect(named('Nodes level VI')?.textContent).toContain('histology');
  expect(offered().at(-1)?.textContent).toContain('Something else');
});

test('the side that is not operated is not offered, and what is planned is not offered twice', async () => {
  await adding('thyroidectomy', ['right-lobe']);
  expect(named('Left lobe of thyroid')).toBeUndefined();
  expect(named('Right lobe of thyroid')).toBeUndefined();
});

test('one tap adds it; a further one of its kind has a letter of its own', async () => {
  const session = await adding('laparoscopic-sigmoid-colectomy', []);
  const specimens = () => session.store.getSnapshot().context.current?.specimens ?? {};
  const node = named('Node');
  if (node) fireEvent.click(node);
  await waitFor(() => expect(specimens().node).toMatchObject({ letter: 'C', stage: 'planned' }));
  await waitFor(() => expect(screen.queryByRole('dialog')).toBeNull());
  await newSpecimen();
  const again = named('Node');
  expect(again?.textContent).toContain('one more');
  if (again) fireEvent.click(again);
  await waitFor(() =>
    expect(specimens()['node-2']).toMatchObject({ name: 'Node', media: ['formalin'] }),
  );
  expect(specimens()['node-2']?.letter).not.toBe('C');
});
