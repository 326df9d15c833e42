import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor, within } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { preloadScreens } from '#screens/App.tsx';
import { createSession } from '#session/createSession.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

/** The antibiotic on the screen: the card when the next dose is due, and what the table gives. */

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

const found = await sheets.find(({ id }) => id === 'laparoscopic-appendicectomy')?.load();
if (!found) throw new Error('The sheet is not there.');
const sheet = found;

/** A case of a child of 20 kg, so many minutes after a dose of cefuroxime, on the frame. */
async function after(minutes: number) {
  const world = makeWorld();
  const session = createSession(world.ports);
  await session.start();
  const patient = { ...invented(sheet).patient, born: '2018-01-31', weightKg: 20 };
  await session.begin({ ...invented(sheet), patient, practice: false });
  await session.send({ type: 'dose', agent: 'cefuroxime' });
  session.show({ name: 'frame' });
  world.wait(minutes);
  showApp(session, [sheet]);
  return session;
}

const holds = () => screen.findByRole('complementary');

test('the frame says when the next dose is due; it opens where the dose is recorded', async () => {
  const session = await after(245);
  const card = within(await holds()).getByRole('button', {
    name: /^Due: Cefuroxime: next dose due/,
  });
  fireEvent.click(card);
  await screen.findByRole('heading', { name: 'Antibiotic' });
  expect(screen.getByRole('main').textContent).toContain('1000 mg');
  expect(screen.getByRole('main').textContent).toContain('the anaesthetist decide');
  fireEvent.click(screen.getByRole('button', { name: 'Just now' }));
  await waitFor(() => expect(session.store.getSnapshot().context.current?.doses).toHaveLength(2));
  await screen.findByRole('region', { name: 'Counting frame' });
  expect(within(await holds()).queryByRole('button', { name: /next dose/ })).toBeNull();
});

test('before its time the frame says nothing of it, and no card counts as a hold', async () => {
  await after(100);
  expect(within(await holds()).queryByRole('button', { name: /next dose/ })).toBeNull();
});

const key = (name: string) => screen.getByRole('button', { name });
const isPressed = (name: string) => key(name).getAttribute('aria-pressed') === 'true';

test('the usual ones have keys of their own; any other comes from the list and then stands on its key', async () => {
  const session = await after(100);
  session.show({ name: 'dose' });
  await screen.findByRole('heading', { name: 'Antibiotic' });
  expect(isPressed('Cefuroxime')).toBe(true);
  expect(isPressed('Another…')).toBe(false);
  fireEvent.click(key('Metronidazole'));
  expect([isPressed('Cefuroxime'), isPressed('Metronidazole')]).toEqual([false, true]);
  fireEvent.click(key('Another…'));
  const list = within(await screen.findByRole('dialog', { name: 'Which antibiotic?' }));
  fireEvent.click(list.getByRole('button', { name: 'Clindamycin' }));
  expect([isPressed('Metronidazole'), isPressed('Clindamycin…')]).toEqual([false, true]);
  fireEvent.click(key('Just now'));
  const doses = () => session.store.getSnapshot().context.current?.doses.map(({ agent }) => agent);
  await waitFor(() => expect(doses()).toEqual(['cefuroxime', 'clindamycin']));
});
