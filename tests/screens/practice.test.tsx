import { scripts } from 'virtual:practice';
import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, render, screen, waitFor, within } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { Pieces } from '#parts/Pieces.tsx';
import { newLabelNote } from '#practice/slips.ts';
import { preloadScreens } from '#screens/App.tsx';
import { createSession, type Session } from '#session/createSession.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

// A test runner makes the screens as they are asked for; the page has read them before a case begins.
beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

const wholeSheets = await Promise.all(sheets.map((entry) => entry.load()));

async function onScreen(): Promise<Session> {
  const session = createSession(makeWorld().ports);
  await session.start();
  showApp(session, wholeSheets, async () => scripts);
  return session;
}

const coach = () => screen.findByRole('region', { name: 'Practice' });
const stateOf = (session: Session) => session.store.getSnapshot().context;

test('the first start offers the practice cases; one opens marked, and its coach says what to do', async () => {
  const session = await onScreen();
  const card = await screen.findByText('A small operation, from sign in to the record');
  expect(screen.getAllByRole('listitem')).toHaveLength(3);
  fireEvent.click(card);
  await waitFor(() => expect(stateOf(session).route.screen).toBe('case'));
  expect(await screen.findByText('Practice case')).toBeTruthy();
  const strip = await coach();
  await waitFor(() => expect(strip.textContent).toContain('You are the circulator.'));
});

test('a case of a patient has no coach, and a practice case is not among the cases', async () => {
  const session = await onScreen();
  const sheet = await sheets.find(({ id }) => id === 'ports-and-swabs')?.load();
  if (!sheet) throw new Error('The teaching sheet is not there.');
  await session.begin({ ...invented(sheet), practice: true });
  await session.begin(invented(sheet));
  expect(screen.queryByRole('region', { name: 'Practice' })).toBeNull();
  await session.go({ screen: 'start' });
  await screen.findByText('Practice cases on this tablet');
  const running = screen.getByRole('heading', { name: 'In progress' }).parentElement;
  expect(running && within(running).getAllByRole('listitem')).toHaveLength(1);
});

test('a count draws what lies there, and what the record expects is nowhere in the page', async () => {
  const session = await onScreen();
  const script = scripts.find(({ level }) => level === 3);
  const sheet = await sheets.find(({ id }) => id === script?.sheet)?.load();
  if (!script || !sheet) throw new Error('There is no third practice case.');
  const { patient, team, variants, prepared } = script;
  await session.begin({ sheet, patient, team, variants, practice: true }, prepared);
  await session.send({ type: 'beginCount', moment: 'extra' });
  const strip = await coach();
  const list = await within(strip).findByRole('list', { name: /field and table$/ });
  expect(
    within(list)
      .getAllByRole('listitem')
      .map((item) => item.textContent),
  ).toEqual(Array.from({ length: 5 }, () => 'one piece'));
  expect(strip.textContent).not.toMatch(/five|\b5\b/);
});

test('the label in the hand is of somebody else, until a new one is printed', async () => {
  const session = await onScreen();
  const script = scripts.find(({ level }) => level === 3);
  const sheet = await sheets.find(({ id }) => id === script?.sheet)?.load();
  if (!script || !sheet) throw new Error('There is no third practice case.');
  const { patient, team, variants, prepared } = script;
  await session.begin({ sheet, patient, team, variants, practice: true }, prepared);
  await session.send({ type: 'add', line: 'large-swab', packs: [5] });
  await session.send({ type: 'move', line: 'large-swab', from: 'table', to: 'patient', n: 4 });
  const specimen = { type: 'specimen', id: 'appendix' } as const;
  await session.send({ ...specimen, step: 'taken', pieces: 1, whole: true, bag: 'intact' });
  await session.send({ ...specimen, step: 'contained', pot: '1', medium: 'formalin' });
  const strip = await coach();
  const label = () => within(strip).getByRole('img').getAttribute('aria-label');
  await waitFor(() => expect(label()).toContain('PRACTICE-33'));
  fireEvent.click(within(strip).getByText('Destroy it, print a new one'));
  await waitFor(() => expect(label()).toContain('PRUEBA, Linde, PRACTICE-3 '));
  expect(stateOf(session).current?.notes.map(({ text }) => text)).toEqual([newLabelNote]);
});

test('pieces are drawn one by one, and never as a number', () => {
  const { container } = render(() => <Pieces label="Blade, field" kind="sharp" pieces={3} />);
  expect(container.querySelectorAll('svg > g')).toHaveLength(3);
  expect(container.textContent).not.toMatch(/3|three/);
  cleanup();
  const tray = render(() => <Pieces label="Tray" kind="instrument" pieces={44} />);
  expect(tray.container.querySelectorAll('svg > g')).toHaveLength(44);
  expect(tray.container.querySelector('figure')?.dataset.rows).toBe('3');
  cleanup();
  const none = render(() => <Pieces label="Blade, field" kind="sharp" pieces={0} />);
  expect(none.container.textContent).toContain('Nothing of it lies there.');
});
