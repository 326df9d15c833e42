import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor, within } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { at } from '#engine/ledger.ts';
import { discrepancySteps } from '#engine/state.ts';
import { preloadScreens } from '#screens/App.tsx';
import { createSession } from '#session/createSession.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

/** A piece that was declared missing turns up, in the middle of the case or when it is over. */

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

const found = await sheets.find(({ id }) => id === 'ports-and-swabs')?.load();
if (!found) throw new Error('The sheet is not there.');
const sheet = found;
const line = 'port-12-seal';

/** A case in which one seal of three was declared missing, on the counting frame. */
async function oneDeclared() {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin({ ...invented(sheet), practice: false });
  const open = sheet.lines.filter(({ opening, counted }) => opening > 0 && counted);
  for (const moment of ['first', 'extra'] as const) {
    await session.send({ type: 'beginCount', moment });
    for (const { id, opening } of open)
      await session.send({
        type: 'enter',
        line: id,
        field: moment === 'extra' && id === line ? opening - 1 : opening,
      });
    await session.send({ type: 'agree' });
  }
  await session.send({ type: 'recount', lines: { [line]: { field: 2 } } });
  for (const step of discrepancySteps)
    await session.send({ type: 'discrepancy', line, step, skip: 'no time', by: 'surgeon' });
  const by = ['surgeon', 'scrub'];
  await session.send({ type: 'declare', line, n: 1, reason: 'not found', by });
  session.show({ name: 'frame' });
  showApp(session, [sheet]);
  const current = () => session.store.getSnapshot().context.current;
  const missing = () => {
    const now = current();
    return now && at(now.ledger, line, 'missing');
  };
  expect(missing()).toBe(1);
  return { session, missing, off: () => at(current()?.ledger ?? never(), line, 'off') };
}

function never(): never {
  throw new Error('no case is open');
}

test('in mid-case it is found on the sheet of its line', async () => {
  const { missing, off } = await oneDeclared();
  const wire = await screen.findByRole('listitem', { name: 'Seal 12 mm' });
  fireEvent.click(within(wire).getByRole('button', { name: /more actions$/ }));
  fireEvent.click(await screen.findByRole('button', { name: 'Other acts for Seal 12 mm' }));
  const dialog = await screen.findByRole('dialog');
  expect(dialog.textContent).toContain('1 Seal 12 mm');
  fireEvent.click(within(dialog).getByRole('button', { name: 'One found, off the field' }));
  await waitFor(() => expect(missing()).toBe(0));
  expect(off()).toBe(1);
});

test('before the patient leaves it stands on that screen too', async () => {
  const { session, missing } = await oneDeclared();
  session.show({ name: 'leaving' });
  fireEvent.click(await screen.findByRole('button', { name: 'One found, on the table' }));
  await waitFor(() => expect(missing()).toBe(0));
  await waitFor(() => expect(screen.queryByText('Missing, and found after all')).toBeNull());
});
