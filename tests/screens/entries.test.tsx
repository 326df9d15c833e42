import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor, within } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { at } from '#engine/ledger.ts';
import { preloadScreens } from '#screens/App.tsx';
import { createSession } from '#session/createSession.ts';
import { makeGuardedTablet } from '../support/guardedWorld.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';
import { prueba, testa } from '../support/vaultPorts.ts';

/** An entry that is not the last one is read and taken back, on its own. */

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

const found = await sheets.find(({ id }) => id === 'ports-and-swabs')?.load();
if (!found) throw new Error('The sheet is not there.');
const sheet = found;

/** A case in which `more` was entered after its first count; its list of entries is open. */
async function entriesOpen(
  more: readonly Parameters<ReturnType<typeof createSession>['send']>[0][],
) {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin({ ...invented(sheet), practice: false });
  await session.send({ type: 'beginCount', moment: 'first' });
  for (const { id, opening } of sheet.lines)
    if (opening > 0) await session.send({ type: 'enter', line: id, field: opening });
  await session.send({ type: 'agree' });
  for (const command of more) expect((await session.send(command)).ok).toBe(true);
  session.show({ name: 'frame' });
  showApp(session, [sheet]);
  fireEvent.click(await screen.findByRole('button', { name: 'More…' }));
  fireEvent.click(await screen.findByRole('button', { name: /^Earlier entries/ }));
  const dialog = await screen.findByRole('dialog', { name: 'Earlier entries' });
  await within(dialog).findAllByRole('listitem');
  const balance = (place: 'table' | 'off') => {
    const { current } = session.store.getSnapshot().context;
    return current && at(current.ledger, 'swab', place);
  };
  return { session, dialog, balance };
}

const wordsOf = (dialog: HTMLElement) =>
  within(dialog)
    .getAllByRole('listitem')
    .map(({ textContent }) => textContent);
const off = { type: 'move', line: 'swab', from: 'table', to: 'off', n: 1 } as const;
const note = { type: 'note', text: 'a word' } as const;
const add = { type: 'add', line: 'swab', packs: [5] } as const;

test('the entries stand newest first, and one in the middle is taken back alone', async () => {
  const { dialog, balance } = await entriesOpen([add, off, note]);
  const before = balance('table') ?? 0;
  const [first = '', second = '', third = ''] = wordsOf(dialog);
  expect([first, second, third]).toEqual([
    expect.stringContaining('a word'),
    expect.stringContaining('from the table'),
    expect.stringContaining('5 added to the field'),
  ]);
  fireEvent.click(within(dialog).getByRole('button', { name: /5 added to the field/ }));
  fireEvent.click(await within(dialog).findByRole('button', { name: /^Take entry \d+ back/ }));
  await waitFor(() => expect(balance('table')).toBe(before - 5));
  expect(balance('off')).toBe(1);
  await waitFor(() => expect(screen.queryByRole('dialog')).toBeNull());
});

test('an entry on which a later one depends says which, and is not taken back', async () => {
  const { session, dialog, balance } = await entriesOpen([add, { ...off, n: 10 }]);
  const before = balance('table');
  const entry = session.store.getSnapshot().context.last?.events[0]?.entry ?? 0;
  fireEvent.click(within(dialog).getByRole('button', { name: /5 added to the field/ }));
  const back = await within(dialog).findByRole('button', { name: `Take entry ${entry - 1} back` });
  expect(back.getAttribute('aria-disabled')).toBe('true');
  expect(dialog.textContent).toContain(`A later entry depends on it. (Entry ${entry})`);
  fireEvent.click(back);
  expect(balance('table')).toBe(before);
});

test('one that was taken back says by which, and cannot be taken back again', async () => {
  const { dialog } = await entriesOpen([note, { type: 'correct', last: 1 }]);
  const row = within(dialog).getByRole('button', { name: /a word.*taken back by entry/ });
  fireEvent.click(row);
  const back = await within(dialog).findByRole('button', { name: /^Take entry \d+ back/ });
  expect(back.getAttribute('aria-disabled')).toBe('true');
  expect(dialog.textContent).toContain('That entry was taken back already.');
});

test('of very many only the newest are drawn until more are wanted', async () => {
  const { dialog } = await entriesOpen(Array.from({ length: 41 }, () => note));
  expect(wordsOf(dialog)).toHaveLength(40);
  fireEvent.click(within(dialog).getByRole('button', { name: 'Older ones' }));
  await waitFor(() => expect(wordsOf(dialog).length).toBeGreaterThan(41));
});

test('a locked tablet hides them as it hides the record', async () => {
  const { session, vault } = await makeGuardedTablet().start();
  await vault.setUp(testa);
  await vault.add(prueba, ['Testa']);
  const begun = session.begin(invented(sheet));
  await waitFor(() => expect(session.store.getSnapshot().context.asking).toBeDefined());
  await session.give('person-1', testa.pin);
  expect(await begun).toEqual({ ok: true });
  await session.send({ type: 'note', text: 'a word that is nobody else’s' });
  session.lock();
  await session.send({ type: 'beginCount', moment: 'first' });
  await session.send({ type: 'abandon', reason: 'Broken off.' });
  session.show({ name: 'frame' });
  showApp(session, [sheet]);
  fireEvent.click(await screen.findByRole('button', { name: 'More…' }));
  fireEvent.click(await screen.findByRole('button', { name: /^Earlier entries/ }));
  const dialog = await screen.findByRole('dialog', { name: 'Earlier entries' });
  await within(dialog).findByText('■ Locked: the record is hidden.');
  await new Promise((resolve) => setTimeout(resolve, 20));
  expect(dialog.textContent).not.toContain('a word that');
});
