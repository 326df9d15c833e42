import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { preloadScreens } from '#screens/App.tsx';
import { makeGuardedTablet } from '../support/guardedWorld.ts';
import { scanOn } from '../support/scanner.ts';
import { invented } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';
import { ensayo, prueba, testa } from '../support/vaultPorts.ts';

const loaded = await sheets.find((known) => known.id === 'ports-and-swabs')?.load();
if (!loaded) throw new Error('The teaching sheet is not there.');
const sheet = loaded;
const scan = (text: string): void => scanOn(document.body, text);

/** Three people set up, Testa and Prueba with a badge, at the list of people. */
async function atPeople() {
  const tablet = makeGuardedTablet();
  const started = await tablet.start();
  await started.vault.setUp(testa);
  await started.vault.add(prueba, ['Testa']);
  await started.vault.add(ensayo, ['Testa']);
  await started.vault.setBadge('person-1', 'st-0042', ['Testa']);
  await started.vault.setBadge('person-2', '123456789012345675', ['Testa']);
  await started.session.go({ screen: 'people' });
  showApp(started.session, [sheet]);
  await screen.findByText('People of this unit');
  return started;
}

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

test.each([
  ['a plain number', ']C0ST-0042', 'Testa'],
  ['a provider of GS1', ']d28017123456789012345675', 'Prueba'],
  ['a recipient of GS1', ']d28018123456789012345675', 'Prueba'],
])('%s on a badge chooses its person, and the PIN is asked', async (_, code, name) => {
  const { session, vault } = await atPeople();
  vault.lock();
  void session.confirm('Unlock the tablet');
  await screen.findByText('Somebody of the unit confirms with a PIN.');
  scan(code);
  expect(await screen.findByText(`PIN of ${name}`)).toBeDefined();
  expect(vault.state().stage).toBe('locked');
});

test('the badge of somebody else does not take a turn', async () => {
  const { session } = await atPeople();
  const begun = session.begin(invented(sheet));
  await screen.findByText('Somebody of the unit confirms with a PIN.');
  await session.give('person-2', prueba.pin);
  expect(await begun).toEqual({ ok: true });
  await session.send({ type: 'beginCount', moment: 'first' });
  for (const line of sheet.lines.filter((one) => one.opening > 0 && one.counted))
    await session.send({ type: 'enter', line: line.id, field: line.opening });
  const agreed = session.send({ type: 'agree' });
  await screen.findByText('PIN of Testa');
  scan('123456789012345675');
  expect(
    await screen.findByText('◆ That is the badge of Prueba. It is the turn of Testa.'),
  ).toBeDefined();
  expect(screen.getByText('PIN of Testa')).toBeDefined();
  scan('st-0042');
  await waitFor(() => expect(screen.queryByText(/It is the turn of/)).toBeNull());
  session.leave();
  expect(await agreed).toMatchObject({ ok: false });
});

test('a badge is set by scanning it, and somebody confirms that with a PIN', async () => {
  const { vault } = await atPeople();
  const [, , third] = await screen.findAllByRole('button', { name: /^(Another badge|Badge)…$/ });
  if (!third) throw new Error('There are three people.');
  fireEvent.click(third);
  await screen.findByRole('dialog', { name: 'Badge of Ensayo' });
  scan('st-0042');
  fireEvent.click(await screen.findByRole('button', { name: 'Keep it for Ensayo' }));
  scan('123456789012345675'); // the sheet that asks for a PIN is above: this says who confirms
  await screen.findByText('PIN of Prueba');
  for (const digit of prueba.pin) {
    await new Promise((done) => setTimeout(done, 160));
    fireEvent.click(screen.getAllByRole('button', { name: digit }).at(-1) as HTMLElement); // one is there
  }
  expect(await screen.findByText(/That is the badge of Testa already\./)).toBeDefined();
  scan('ST-0077');
  fireEvent.click(await screen.findByRole('button', { name: 'Keep it for Ensayo' }));
  await screen.findByText('Somebody of the unit confirms with a PIN.');
  scan('123456789012345675');
  await screen.findByText('PIN of Prueba');
  for (const digit of prueba.pin) {
    await new Promise((done) => setTimeout(done, 160));
    fireEvent.click(screen.getAllByRole('button', { name: digit }).at(-1) as HTMLElement); // as above
  }
  await waitFor(() =>
    expect(vault.state().people.find(({ name }) => name === 'Ensayo')?.badge).toBe('st-0077'),
  );
});
