import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor, within } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { preloadScreens } from '#screens/App.tsx';
import { createSession, type Session } from '#session/createSession.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

/* The band says what the team says at sign in, and which allergy it is as soon as somebody has written it. */
const loaded = await sheets.find(({ id }) => id === 'ports-and-swabs')?.load();
if (!loaded) throw new Error('The teaching sheet is not there.');
const sheet = loaded;

async function asked(): Promise<Session> {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin(invented(sheet));
  await session.send({ type: 'beginCheckpoint', id: 'sign-in' });
  for (const { id, usual = 'yes' } of stepsBefore()) {
    const answer = { type: 'answer', checkpoint: 'sign-in', step: id, value: usual } as const;
    await session.send(answer);
  }
  session.show({ name: 'checkpoint', about: 'sign-in' });
  showApp(session, [sheet]);
  await screen.findByText('Allergies not asked');
  return session;
}

function stepsBefore() {
  const { steps } = sheet.checkpoints.find(({ id }) => id === 'sign-in') ?? { steps: [] };
  return steps.slice(
    0,
    steps.findIndex(({ whoItem }) => whoItem === 5),
  );
}

const tap = async (name: string): Promise<void> => {
  fireEvent.click(await screen.findByRole('button', { name }));
};

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

test('none known, said at sign in, stands on top of every screen', async () => {
  await asked();
  await tap('None known');
  await screen.findByText('No known allergies');
});

test('one that is known is written there and then', async () => {
  const session = await asked();
  await tap('Known, and said aloud');
  const dialog = within(await screen.findByRole('dialog'));
  fireEvent.input(dialog.getByLabelText('Which, with commas between'), {
    target: { value: 'latex, iodine' },
  });
  fireEvent.click(dialog.getByRole('button', { name: 'Write it down' }));
  await screen.findByText('Allergies: latex, iodine');
  await waitFor(() => expect(screen.queryByRole('dialog')).toBeNull());
  const { current } = session.store.getSnapshot().context;
  expect(current?.checkpoints['sign-in']?.answers.allergy).toMatchObject({ value: 'known' });
});

test('or later, and until then nobody reads that none is known', async () => {
  const session = await asked();
  await tap('Known, and said aloud');
  await tap('Go on, write it later');
  await screen.findByText('Allergy known: ask which');
  session.show({ name: 'frame' });
  await tap('More…');
  fireEvent.click(await screen.findByRole('button', { name: /^Allergies/ }));
  fireEvent.input(screen.getByLabelText('Which, with commas between'), {
    target: { value: 'latex' },
  });
  await tap('Write it down');
  await screen.findByText('Allergy: latex');
});

test('what was written wrongly is taken away only by a key that says what goes', async () => {
  const session = await asked();
  await session.send({ type: 'allergies', known: ['latex'] });
  session.show({ name: 'frame' });
  await tap('More…');
  fireEvent.click(await screen.findByRole('button', { name: /^Allergies/ }));
  expect(screen.queryByRole('button', { name: /^Take away/ })).toBeNull();
  fireEvent.input(screen.getByLabelText('Which, with commas between'), { target: { value: ' ' } });
  expect(screen.queryByRole('button', { name: 'Write it down' })).toBeNull();
  fireEvent.click(await screen.findByRole('button', { name: /^Take away: latex/ }));
  await screen.findByText('No known allergies');
});

test('at the question of sign in nothing that was written can be taken away', async () => {
  const session = await asked();
  await session.send({ type: 'allergies', known: ['latex'] });
  await tap('Known, and said aloud');
  const dialog = within(await screen.findByRole('dialog'));
  fireEvent.input(dialog.getByLabelText('Which, with commas between'), { target: { value: '' } });
  const key = dialog.getByRole('button', { name: 'Write it down' });
  expect(key.getAttribute('aria-disabled')).toBe('true');
  expect(dialog.queryByRole('button', { name: /^Take away/ })).toBeNull();
});
