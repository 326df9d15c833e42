import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor, within } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { preloadScreens } from '#screens/App.tsx';
import { createSession } from '#session/createSession.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

/** What is inside and did not come from the table is said with where it comes from. */

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

test.each([
  ['emergency-laparotomy', /^Large swab of the last operation/, 'earlier-operation'],
  ['laparoscopic-appendicectomy', /^Faecolith/, 'seen'],
] as const)('in %s, %s is said to come from: %s', async (id, words, from) => {
  const sheet = await sheets.find((one) => one.id === id)?.load();
  if (!sheet) throw new Error('The sheet is not there.');
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin({ ...invented(sheet), practice: false });
  session.show({ name: 'frame' });
  showApp(session, [sheet]);
  fireEvent.click(await screen.findByRole('button', { name: 'More…' }));
  fireEvent.click(await screen.findByRole('button', { name: /^Seen inside/ }));
  const dialog = await screen.findByRole('dialog');
  fireEvent.click(within(dialog).getByRole('button', { name: words }));
  fireEvent.click(within(dialog).getByRole('button', { name: /^Seen inside: it must come out/ }));
  const carried = () => session.store.getSnapshot().context.current?.carried;
  await waitFor(() => expect(carried()).toMatchObject([{ n: 1, from }]));
});
