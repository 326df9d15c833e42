import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test, vi } from 'vitest';
import { preloadScreens } from '#screens/App.tsx';
import { createSession } from '#session/createSession.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

beforeAll(preloadScreens, 30_000);
afterEach(() => {
  vi.restoreAllMocks();
  cleanup();
});

test('a case that goes on after a start says what was found about its record, until that is read', async () => {
  const sheet = await sheets.find(({ id }) => id === 'laparoscopic-appendicectomy')?.load();
  if (!sheet) throw new Error('The sheet is not there.');
  const storage = [new Map<string, string[]>(), new Map<string, string[]>()];
  const remembered = new Map<string, string>();
  const first = createSession(makeWorld({ storage, remembered }).ports);
  await first.start();
  await first.begin({ ...invented(sheet), practice: false });
  storage[0]?.clear();

  const session = createSession(makeWorld({ storage, remembered }).ports);
  await session.start();
  showApp(session, [sheet]);
  const notice = await screen.findByRole('alert');
  expect(notice.textContent).toContain('had lost this case. It was restored from the other copy.');
  vi.spyOn(performance, 'now').mockReturnValue(performance.now() + 1000); // sooner nobody has read it
  fireEvent.click(await screen.findByRole('button', { name: 'Understood' }));
  expect(screen.queryByText(/restored from the other copy/)).toBeNull();
});
