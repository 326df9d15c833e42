import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor, within } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { preloadScreens } from '#screens/App.tsx';
import { createSession } from '#session/createSession.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

/** A recount by two people each alone, and with somebody who did not count before. */

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

const found = await sheets.find(({ id }) => id === 'ports-and-swabs')?.load();
if (!found) throw new Error('The sheet is not there.');
const sheet = found;

/** A case whose extra count had a seal too few, at its recount. */
async function recountOpen() {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin({ ...invented(sheet), practice: false });
  const open = sheet.lines.filter(({ opening, counted }) => opening > 0 && counted);
  for (const moment of ['first', 'extra'] as const) {
    await session.send({ type: 'beginCount', moment });
    for (const { id, opening } of open) {
      const isShort = moment === 'extra' && id === 'port-12-seal';
      await session.send({ type: 'enter', line: id, field: opening - (isShort ? 1 : 0) });
    }
    await session.send({ type: 'agree' });
  }
  session.show({ name: 'recount' });
  showApp(session, [sheet]);
  await screen.findByRole('heading', { name: 'Count again' });
  const last = () => session.store.getSnapshot().context.last?.events.at(-1);
  const recounts = async () =>
    ((await session.readRows()) ?? [])
      .flatMap(({ events }) => events)
      .filter(({ type }) => type === 'recounted').length;
  return { last, recounts };
}

const tap = async (name: string | RegExp) =>
  fireEvent.click(await screen.findByRole('button', { name }));

test('two who count alone are compared, and what they have alike is the recount', async () => {
  const { last } = await recountOpen();
  await tap(/^Each alone/);
  await tap('2');
  await tap('Testa counts now');
  for (const row of within(screen.getByRole('main')).getAllByRole('listitem'))
    expect(row.textContent).not.toMatch(/2$/);
  await tap('2');
  await tap('Compare the two');
  await waitFor(() => expect(last()).toMatchObject({ type: 'recounted' }));
  expect(last()).toMatchObject({
    agreedBy: ['Testa', 'Prueba'],
    outcomes: [{ line: 'port-12-seal', found: { field: 2, off: 0 } }],
  });
});

test('where two who count alone have different numbers nothing is recorded, and that is counted again', async () => {
  const { last, recounts } = await recountOpen();
  await tap(/^Each alone/);
  await tap('1');
  await tap('Testa counts now');
  await tap('2');
  await tap('Compare the two');
  expect((await screen.findByText(/You two have different numbers/)).textContent).toBe(
    '◆ You two have different numbers: Seal 12 mm. Each counts that again, alone.',
  );
  await tap('2');
  await tap('Testa counts now');
  await tap('2');
  await tap('Compare the two');
  await waitFor(() =>
    expect(last()).toMatchObject({ outcomes: [{ found: { field: 2, off: 0 } }] }),
  );
  expect(await recounts()).toBe(1);
});

test('a fresh pair of eyes counts in the place of one of the two, and is named in the record', async () => {
  const { last } = await recountOpen();
  await tap(/^Fresh eyes/);
  const dialog = await screen.findByRole('dialog');
  const bring = within(dialog).getByRole('button', { name: /Counts with us/ });
  fireEvent.input(within(dialog).getByLabelText('Who counts'), { target: { value: 'testa ' } });
  await waitFor(() => expect(dialog.textContent).toContain('That is one of the two.'));
  fireEvent.input(within(dialog).getByLabelText('Who counts'), { target: { value: 'Nuovo' } });
  await waitFor(() => expect(bring.getAttribute('aria-disabled')).toBeNull());
  expect(screen.getByText(/^The same two, roles swapped/)).toBeDefined();
  fireEvent.click(bring);
  await waitFor(() => expect(screen.queryByText(/^The same two/)).toBeNull());
  await tap('2');
  await tap('Recount agreed');
  await waitFor(() => expect(last()).toMatchObject({ agreedBy: ['Testa', 'Nuovo'] }));
});
