import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { fail } from '#journal/failures.ts';
import { preloadScreens } from '#screens/App.tsx';
import { createSession, type Session } from '#session/createSession.ts';
import type { JournalPort } from '#session/ports.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

const teaching = await sheets.find(({ id }) => id === 'ports-and-swabs')?.load();

/** A case with one note, and its record on the screen, over a journal that is changed for the test. */
async function onRecord(journal: (real: JournalPort) => JournalPort): Promise<Session> {
  if (!teaching) throw new Error('The teaching sheet is not there.');
  const session = createSession(makeWorld({ journal }).ports);
  await session.start();
  showApp(session, [teaching]);
  await session.begin(invented(teaching));
  await session.send({ type: 'note', text: 'The light was moved.' });
  session.show({ name: 'record' });
  return session;
}

const print = () => screen.findByRole('button', { name: /^Print/ });

test('a record that no copy answers for says so, prints nothing, and is read again when asked', async () => {
  let isBroken = true;
  await onRecord((real) => ({
    ...real,
    readCase: async (caseId, as) => (isBroken ? fail('cannot-read') : real.readCase(caseId, as)),
  }));
  expect((await screen.findByRole('alert')).textContent).toContain('cannot be read now');
  expect((await print()).getAttribute('aria-disabled')).toBe('true');
  isBroken = false;
  fireEvent.click(screen.getByRole('button', { name: 'Read it again' }));
  expect(await screen.findByText(/The light was moved/)).toBeTruthy();
  expect((await print()).getAttribute('aria-disabled')).toBeNull();
});

test('an entry that comes while the record is read stands in it, and an older reading does not', async () => {
  const reads: (() => void)[] = [];
  const session = await onRecord((real) => ({
    ...real,
    readCase: async (caseId, as) => {
      const read = await real.readCase(caseId, as);
      await new Promise<void>((resolve) => reads.push(resolve));
      return read;
    },
  }));
  await waitFor(() => expect(reads).toHaveLength(1));
  await session.send({ type: 'note', text: 'The table was turned.' });
  await waitFor(() => expect(reads).toHaveLength(2));
  reads[1]?.();
  expect(await screen.findByText(/The table was turned/)).toBeTruthy();
  reads[0]?.();
  await new Promise((resolve) => setTimeout(resolve, 10));
  expect(screen.getByText(/The table was turned/)).toBeTruthy();
});

test('a file that cannot be taken out from the record says why', async () => {
  await onRecord((real) => ({ ...real, exportCase: async () => fail('cannot-read') }));
  fireEvent.click(await screen.findByRole('button', { name: 'Take out as a file' }));
  expect((await screen.findByRole('alert')).textContent).toContain('No copy of this case');
});
