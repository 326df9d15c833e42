import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor, within } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { preloadScreens } from '#screens/App.tsx';
import { createSession } from '#session/createSession.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

/** What leaves the room lawfully with somebody: the cord clamp on the baby. */

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

const found = await sheets.find(({ id }) => id === 'caesarean-section')?.load();
if (!found) throw new Error('The sheet is not there.');
const sheet = found;

/** The sheet of the clamp, in a case that is counted in. */
async function clampOpen() {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin({ ...invented(sheet), practice: false });
  await session.send({ type: 'beginCount', moment: 'first' });
  const opened = sheet.variants.find(({ id }) => id === 'section')?.opens ?? {};
  for (const [line, field] of Object.entries(opened))
    await session.send({ type: 'enter', line, field });
  await session.send({ type: 'agree' });
  session.show({ name: 'frame' });
  showApp(session, [sheet]);
  const wire = await screen.findByRole('listitem', { name: 'Cord clamp' });
  fireEvent.click(within(wire).getByRole('button', { name: /more actions$/ }));
  fireEvent.click(await screen.findByRole('button', { name: 'Other acts for Cord clamp' }));
  const dialog = await screen.findByRole('dialog');
  fireEvent.click(within(dialog).getByText('It leaves with somebody…'));
  return { session, dialog };
}

test('the clamp leaves with the baby, who is named, and then is not on the table', async () => {
  const { session, dialog } = await clampOpen();
  const leave = within(dialog).getByRole('button', { name: /^It leaves the room/ });
  expect(leave.getAttribute('aria-disabled')).toBe('true');
  fireEvent.click(leave);
  fireEvent.input(within(dialog).getByLabelText('With whom'), { target: { value: 'the baby, B' } });
  await waitFor(() => expect(leave.getAttribute('aria-disabled')).toBeNull());
  fireEvent.click(leave);
  const now = () => session.store.getSnapshot().context.current;
  await waitFor(() =>
    expect(now()?.away).toMatchObject([{ line: 'cord-clamp', n: 1, with: 'the baby, B' }]),
  );
});
