/** What is said beside an entry is read on the screen that comes next by itself. */
import { cleanup, fireEvent, screen } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import type { MomentId, Sheet } from '#engine/sheet.ts';
import { preloadScreens } from '#screens/App.tsx';
import { createSession, type Session } from '#session/createSession.ts';
import { oneSite } from '../simulator/sheets.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

const sheet = { ...oneSite, checkpoints: [] };

async function enter(session: Session, commands: readonly Command[]): Promise<void> {
  for (const command of commands) {
    const outcome = await session.send(command);
    expect([command.type, outcome]).toEqual([command.type, { ok: true }]);
  }
}

/** A count in which so many ports lie on the table, up to its agreement. */
const counted = (moment: MomentId, ports = 2): readonly Command[] => [
  { type: 'beginCount', moment },
  { type: 'enter', line: 'swab', field: 5, off: 0 },
  { type: 'enter', line: 'port', field: ports, off: 0 },
];

async function opened(checkpoints: Sheet['checkpoints'] = []): Promise<Session> {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin(invented({ ...sheet, checkpoints }));
  return session;
}

const press = async (name: RegExp) => fireEvent.click(await screen.findByRole('button', { name }));

test('a first count that differs from the tray list says so on the screen after it', async () => {
  const session = await opened();
  await enter(session, counted('first', 1));
  session.show({ name: 'count', about: 'first' });
  showApp(session, [sheet]);
  await press(/^Testa agrees/);
  await press(/^Prueba agrees/);
  await screen.findByText('All lines'); // the frame has come
  expect(screen.getByRole('alert').textContent).toContain(
    'What was seen differs from the tray list.',
  );
});

test('a case in which something did not agree ends with a word about that, on its record', async () => {
  const session = await opened(oneSite.checkpoints.filter(({ id }) => id === 'sign-out'));
  const agree = { type: 'agree' } as const;
  await enter(session, [
    ...[...counted('first'), agree],
    { type: 'incision' },
    ...[...counted('closing', 1), agree],
    { type: 'recount', lines: { port: { field: 2, off: 0 } } },
    { type: 'recount', lines: { port: { field: 2, off: 0 } } },
    { type: 'look', closure: 'abdomen', answers: { 'abdomen-seen': true } },
    { type: 'close', closure: 'abdomen' },
    ...[...counted('final'), agree],
    { type: 'close', closure: 'skin' },
    { type: 'beginCheckpoint', id: 'sign-out', present: ['circulator', 'surgeon'] },
    { type: 'answer', checkpoint: 'sign-out', step: 'sign-out-said', value: true },
    { type: 'finishCheckpoint', id: 'sign-out' },
  ]);
  session.show({ name: 'leaving' });
  showApp(session, [sheet]);
  await press(/^End the case/);
  await screen.findByRole('button', { name: 'All cases' });
  expect(screen.getByRole('alert').textContent).toContain('Report it as a near miss.');
});

test('as the skin is closed the frame says that sign out comes next, and not again after an entry', async () => {
  const session = await opened();
  const agree = { type: 'agree' } as const;
  await enter(session, [
    ...[...counted('first'), agree],
    { type: 'incision' },
    ...[...counted('closing'), agree],
    { type: 'look', closure: 'abdomen', answers: { 'abdomen-seen': true } },
    { type: 'close', closure: 'abdomen' },
    ...[...counted('final'), agree],
  ]);
  session.show({ name: 'closing', about: 'skin' });
  showApp(session, [sheet]);
  await press(/^Ask to close/);
  await screen.findByText('All lines');
  expect(screen.getByRole('alert').textContent).toContain('Sign out comes next');
  await enter(session, [{ type: 'note', text: 'weighed' }]);
  expect(screen.queryByRole('alert')).toBeNull();
});
