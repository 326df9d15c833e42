import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { seenOf } from '#engine/counts/foundIn.ts';
import { preloadScreens } from '#screens/App.tsx';
import { createSession, type Session } from '#session/createSession.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

/* Before they agree the two people see every number of both passes, and each can be said again. */
const loaded = await sheets.find(({ id }) => id === 'ports-and-swabs')?.load();
if (!loaded) throw new Error('The teaching sheet is not there.');
const plain = loaded;
const two = ['port-12-seal', 'grasper'] as const;
const sheet = { ...plain, lines: plain.lines.filter(({ id }) => two.some((one) => one === id)) };

/** A count of two lines of which one has a piece off the field, up to that piece. */
async function counting(): Promise<Session> {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin(invented(sheet));
  await session.send({ type: 'beginCount', moment: 'first' });
  for (const line of two) await session.send({ type: 'enter', line, field: 2 });
  await session.send({ type: 'agree' });
  await session.send({ type: 'move', line: 'port-12-seal', from: 'table', to: 'off', n: 1 });
  await session.send({ type: 'beginCount', moment: 'extra' });
  session.show({ name: 'count', about: 'extra' });
  showApp(session, [sheet]);
  await waitFor(() => expect(lineNow()).not.toBe(''));
  return session;
}

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

const lineNow = (): string =>
  document.querySelector('.count-line[aria-current] .count-name')?.textContent ?? '';
const partNow = (): string =>
  document.querySelector('.count-part[aria-current]')?.textContent ?? '';
const rows = () =>
  [...document.querySelectorAll('.count-line')].map((row) => [
    row.querySelector('.count-name')?.textContent,
    row.querySelector('.count-detail')?.textContent,
    row.querySelector('.count-number')?.textContent,
  ]);
const press = (name: string | RegExp) => fireEvent.click(screen.getByRole('button', { name }));

/** One number for the line that is asked; done when another is asked or none. */
async function say(n: number): Promise<void> {
  const before = lineNow() + partNow();
  press(`${n}`);
  await waitFor(() => expect(lineNow() + partNow()).not.toBe(before));
}

test('every number of both passes stands there before they agree', async () => {
  await counting();
  for (const n of [1, 2, 3]) await say(n);
  await screen.findByText('3 numbers · look them over together');
  const names = sheet.lines.map(({ name }) => name);
  await waitFor(() =>
    expect(rows().map(([name, , n]) => [name, n])).toEqual([
      [names[0], '1'],
      [names[1], '2'],
      [names[0], '3'],
    ]),
  );
  expect(rows()[2]?.[1]).toBe('Off the field');
});

test('one that is tapped there is asked again, in its own pass, and the others stay', async () => {
  const session = await counting();
  for (const n of [1, 2, 3]) await say(n);
  await screen.findByText('Every line has a number.');
  press(new RegExp(`^${sheet.lines[1]?.name}.*2`));
  expect([lineNow(), partNow()]).toEqual([sheet.lines[1]?.name, '1 Field and table']);
  await say(4);
  await screen.findByText('Every line has a number.');
  await waitFor(() => expect(rows().map(([, , n]) => n)).toEqual(['1', '4', '3']));
  const running = session.store.getSnapshot().context.current?.counts.running;
  expect(running && seenOf(running, 'grasper')).toMatchObject({ field: 4 });
});

test('from the first line off the field one goes back to the last on it', async () => {
  await counting();
  for (const n of [1, 2]) await say(n);
  expect(partNow()).toBe('2 Off the field');
  press('Back');
  expect([lineNow(), partNow()]).toEqual([sheet.lines[1]?.name, '1 Field and table']);
  await say(5);
  expect(partNow()).toBe('2 Off the field');
  await say(3);
  await waitFor(() => expect(rows().map(([, , n]) => n)).toEqual(['1', '5', '3']));
});
