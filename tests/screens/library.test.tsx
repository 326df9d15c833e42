import { shared, sheets as texts } from 'virtual:sheet-texts';
import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor, within } from '@solidjs/testing-library';
import { afterEach, expect, test, vi } from 'vitest';
import { createSession, type Session } from '#session/createSession.ts';
import type { SheetLibrary } from '#session/sheetLibrary.ts';
import { makeGuardedTablet } from '../support/guardedWorld.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { libraryOf } from '../support/sheetLibrary.ts';
import { showApp } from '../support/showApp.tsx';
import { testa } from '../support/vaultPorts.ts';

// The screens of the library are loaded when they are first shown.
vi.setConfig({ testTimeout: 20_000 });

const teaching = await sheets.find((known) => known.id === 'ports-and-swabs')?.load();
if (!teaching) throw new Error('The teaching sheet is not there.');
const sheet = teaching;
const text = texts.find(({ name }) => name === 'ports-and-swabs')?.text ?? '';

async function onScreen(
  session = createSession(makeWorld().ports),
): Promise<{ session: Session; library: SheetLibrary }> {
  const library = libraryOf([sheet], texts, shared, session.confirm);
  await session.start();
  showApp(session, library);
  return { session, library };
}

afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

const slow = { timeout: 10_000 };
const press = (name: string | RegExp) => fireEvent.click(screen.getByRole('button', { name }));
const find = (words: string | RegExp) => screen.findByText(words, {}, slow);
const write = (label: string, words: string) =>
  fireEvent.input(screen.getByLabelText(label), { target: { value: words } });

/** From the first screen to the page of the teaching sheet. */
async function openSheet(): Promise<{ session: Session; library: SheetLibrary }> {
  const shown = await onScreen();
  press('Sheets');
  fireEvent.click(await screen.findByRole('button', { name: /teaching sheet/ }, slow));
  await find('Cannula 12 mm');
  return shown;
}

async function bringIn(words: string, name = 'ports-and-swabs.yaml'): Promise<void> {
  press('Sheets');
  const input = await screen.findByLabelText(/Bring in a sheet/, {}, slow);
  const file = new File([words], name, { type: 'text/yaml' });
  Object.defineProperty(input, 'files', { value: [file], configurable: true });
  fireEvent.change(input);
}

test('a sheet says what it opens, asks and closes before a case is started', async () => {
  await openSheet();
  const swab = screen.getByText('Swab 10 × 10').closest('li');
  expect(swab?.textContent).toContain('5');
  expect(swab?.textContent).toContain('packs of 5');
  expect(screen.getByText('Pre-tied loop').closest('li')?.textContent).toContain(
    'no X-ray shows it',
  );
  press('What is asked');
  expect(await find(/Is any allergy known/)).toBeTruthy();
  press('What is removed and closed');
  expect(await find(/May still be in use inside: Cannula 12 mm, Seal 12 mm\./)).toBeTruthy();
});

test('a sheet from a file is shown as differences, and is in use only after a name', async () => {
  const { library } = await onScreen();
  await bringIn(text.replace('opening: 5\n', 'opening: 10\n'));
  expect(await find('Swab 10 × 10: opening is 10; it was 5.')).toBeTruthy();
  expect(library.entries()[0]?.kept).toBeUndefined();
  press(/Take into use/);
  expect(library.entries()[0]?.kept).toBeUndefined();
  write('Who takes it into use', 'Testcase, Ash');
  press(/Take into use/);
  expect(await find('In use from the next case on, as version 1.')).toBeTruthy();
  expect((await library.entries()[0]?.load())?.lines[0]?.opening).toBe(10);
});

test('where people are set up, a sheet is in use only after the PIN of one of them', async () => {
  const tablet = makeGuardedTablet();
  const { vault } = await tablet.start();
  await vault.setUp(testa);
  const { session, library } = await onScreen((await tablet.start()).session);
  await bringIn(text.replace('opening: 5\n', 'opening: 10\n'));
  await find('Swab 10 × 10: opening is 10; it was 5.');
  expect(screen.queryByLabelText('Who takes it into use')).toBeNull();
  press(/Take into use/);
  await vi.waitFor(() => expect(session.store.getSnapshot().context.asking).toBeDefined());
  session.leave();
  expect(await find(/It was not confirmed. The old one stays in use./)).toBeTruthy();
  expect(library.entries()[0]?.kept).toBeUndefined();
  press(/Take into use/);
  await vi.waitFor(() => expect(session.store.getSnapshot().context.asking).toBeDefined());
  const { people } = session.store.getSnapshot().context.unit;
  await session.give(people[0]?.id ?? '', testa.pin);
  expect(await find('In use from the next case on, as version 1.')).toBeTruthy();
  expect(library.entries()[0]?.kept).toMatchObject({ takenBy: 'Testa', confirmed: 'pin' });
});

test('a sheet with mistakes is refused whole, with all of its messages', async () => {
  const { library } = await onScreen();
  await bringIn(text.replace('pack: 5', 'pack: 4').replace('count: final', 'count: finel'));
  expect(await find(/whole packs of 4/)).toBeTruthy();
  expect(screen.getByText(/perhaps "final" is meant/)).toBeTruthy();
  expect(screen.queryByRole('button', { name: /Take into use/ })).toBeNull();
  press('Leave it');
  expect(await screen.findByRole('button', { name: /teaching sheet/ })).toBeTruthy();
  expect(library.entries()[0]?.kept).toBeUndefined();
});

test('a fault that only a played case shows is told with the way there', async () => {
  await onScreen();
  await bringIn(text.replace(/tracked: yes +# a jaw.*/, 'counted: no'));
  expect(await find(/lets the patient be closed on one Grasper/)).toBeTruthy();
  expect(screen.getByText('close: { closure: skin }')).toBeTruthy();
});

test('a quantity is changed on the tablet, with why and who, and stands on the sheet', async () => {
  const { library } = await openSheet();
  press('Change something');
  const dialog = await screen.findByRole('dialog', { hidden: true });
  const inside = within(dialog);
  fireEvent.click(inside.getByText('How much is opened'));
  fireEvent.click(await inside.findByText('Swab 10 × 10'));
  expect(inside.getByLabelText('Opened at the first count')).toHaveProperty('value', '5');
  expect(inside.getByText('Say what is new.')).toBeTruthy();
  write('Opened at the first count', '10');
  fireEvent.click(inside.getByText('Look at the change'));
  expect(inside.getByText('Say why.')).toBeTruthy();
  write('Why', 'We open two packs');
  write('Who approves it', 'Prueba');
  fireEvent.click(inside.getByText('Look at the change'));
  expect(await find('Swab 10 × 10: opening is 10; it was 5.')).toBeTruthy();
  write('Who takes it into use', 'Testa');
  press(/Take into use/);
  await find(/as version 1/);
  press('Changes and versions');
  expect(await find('swabs swab: opening: 10 (it was 5)')).toBeTruthy();
  expect(await find('We open two packs. Approved by Prueba on 2026-01-05.')).toBeTruthy();
  const changes = (await library.entries()[0]?.load())?.changes ?? [];
  expect(changes.filter(({ approvedBy }) => approvedBy === 'Prueba')).toHaveLength(1);
});

test('a change that leaves the sheet wrong is refused like a file', async () => {
  await openSheet();
  press('Change something');
  const inside = within(await screen.findByRole('dialog', { hidden: true }));
  fireEvent.click(inside.getByText('Hide a line'));
  fireEvent.click(await inside.findByText('Seal 12 mm'));
  write('Why', 'Ours has none');
  write('Who approves it', 'Prueba');
  fireEvent.click(inside.getByText('Look at the change'));
  expect(await find(/in-use.2 names the line "port-12-seal"/)).toBeTruthy();
});

test('a line and a question are added in the words of the format', async () => {
  const { library } = await openSheet();
  const approved = { reason: 'Ours', 'approved-by': 'Prueba', 'approved-on': '2026-01-05' };
  const { changeKinds } = await import('#screens/library/changeKinds.ts');
  const kind = (id: string) => changeKinds().find((one) => one.id === id);
  const line = kind('new-line')?.say('ports', {
    name: 'Towel clip, large',
    opening: '4',
    class: 'instrument',
  });
  const first = await library.change('ports-and-swabs', { ...line, ...approved }, 'a line');
  expect(first.ok && first.sheet.lines.find(({ id }) => id === 'towel-clip-large')).toMatchObject({
    name: 'Towel clip, large',
    opening: 4,
    class: 'instrument',
  });
  const step = kind('new-question')?.say('closure abdomen', {
    ask: 'Is the drain fixed?',
    short: 'Drain fixed',
    who: 'surgeon',
  });
  const second = await library.change('ports-and-swabs', { ...step, ...approved }, 'a question');
  expect(second.ok && second.sheet.closures[0]?.look.at(-1)?.id).toBe('drain-fixed');
  const words = kind('question')?.say('checkpoint sign-in allergy', { ask: 'Any allergy?' });
  const third = await library.change('ports-and-swabs', { ...words, ...approved }, 'words');
  expect(third.ok && third.sheet.checkpoints[0]?.steps[1]?.ask).toBe('Any allergy?');
});

test('the blank form is on the screen, to be printed', async () => {
  await openSheet();
  press('On paper');
  const form = await screen.findByLabelText('Paper form', {}, slow);
  expect(form.textContent).toContain('Ports and swabs, a teaching sheet');
  expect(form.querySelectorAll('table').length).toBeGreaterThan(8);
  const print = vi.fn();
  vi.stubGlobal('print', print);
  press('Print');
  expect(print).toHaveBeenCalledOnce();
});

test('a case that is on can be had on paper from "More", and the count sheet stays blank', async () => {
  const { session } = await onScreen();
  await session.begin(invented(sheet));
  session.show({ name: 'paper' });
  const form = await screen.findByLabelText('Paper form', {}, slow);
  await waitFor(() =>
    expect(form.textContent).toContain(session.store.getSnapshot().context.current?.patient.name),
  );
  expect(form.textContent).toContain('Keep this page apart');
  press('Back');
  expect(session.store.getSnapshot().context.route).toMatchObject({ view: { name: 'frame' } });
});
