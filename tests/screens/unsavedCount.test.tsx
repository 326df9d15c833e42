import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { preloadScreens } from '#screens/App.tsx';
import { createSession } from '#session/createSession.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

test('an entry of a count that is not saved can be saved again there, and the count goes on', async () => {
  const sheet = await sheets.find(({ id }) => id === 'ports-and-swabs')?.load();
  if (!sheet) throw new Error('The teaching sheet is not there.');
  let isBroken = false;
  const session = createSession(
    makeWorld({ mishapAt: () => (isBroken ? 'refuses' : undefined) }).ports,
  );
  await session.start();
  showApp(session, [sheet]);
  await session.begin(invented(sheet));
  await session.send({ type: 'beginCount', moment: 'first' });
  session.show({ name: 'count', about: 'first' });
  await screen.findByText('Interrupted?');
  const entry = () => session.store.getSnapshot().context.last?.seq;
  const before = entry() ?? 0;

  isBroken = true;
  fireEvent.click(await screen.findByRole('button', { name: '5' }));
  const again = await screen.findByRole('button', { name: 'Save again' });
  expect(entry()).toBe(before);
  isBroken = false;
  fireEvent.click(again);
  await waitFor(() => expect(entry()).toBe(before + 1));
  expect(screen.queryByRole('button', { name: 'Save again' })).toBeNull();
  await new Promise((resolve) => setTimeout(resolve, 700)); // sooner it would be a double tap
  fireEvent.click(screen.getByRole('button', { name: '5' }));
  await waitFor(() => expect(entry()).toBe(before + 2));
});
