import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor, within } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import type { Line } from '#engine/sheet.ts';
import { preloadScreens } from '#screens/App.tsx';
import type { Session } from '#session/createSession.ts';
import { atFrame } from '../support/atFrame.tsx';
import { scanOn } from '../support/scanner.ts';

/*
 * Packs are scanned on the counting frame. The numbers of items are those that GS1 uses in its own examples (company
 * prefix 9506000); the lines that carry them here are made up.
 */
const loaded = await sheets.find((known) => known.id === 'ports-and-swabs')?.load();
if (!loaded) throw new Error('The teaching sheet is not there.');
const codes: Readonly<Record<string, readonly string[]>> = {
  swab: ['9506000134352'],
  loop: ['09506000134369'],
};
const withCodes = (line: Line): Line => {
  const known = codes[line.id];
  return known ? { ...line, codes: known } : line;
};
const sheet = { ...loaded, lines: loaded.lines.map(withCodes) };

const swabs = ']d20109506000134352' + '17271231' + '10YZ-A';
const loop = ']d20109506000134369' + '17271231' + '10L0OP\u001D21S1';
const unknown = ']d20109506000134376' + '10Q7';

const scan = (text: string): void => scanOn(document.body, text);
const current = (session: Session) => {
  const { current: open } = session.store.getSnapshot().context;
  if (!open) throw new Error('A case is open.');
  return open;
};
const added = (name: string) => screen.findByRole('dialog', { name: `Add: ${name}` });
const bothSaw = async () =>
  fireEvent.click(await screen.findByRole('button', { name: 'Both saw it: Testa and Prueba' }));

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

test('a pack that the sheet knows shows line, lot and expiry, and waits for two people', async () => {
  const session = await atFrame(sheet);
  scan(swabs);
  const sheetOver = await added('Swab 10 × 10');
  for (const words of ['YZ-A', '2027-12-31', '(01)09506000134352 (17)271231 (10)YZ-A'])
    expect(sheetOver.textContent).toContain(words);
  expect(current(session).scanned).toEqual([]);
  await bothSaw();
  await waitFor(() =>
    expect(current(session).scanned).toMatchObject([
      {
        line: 'swab',
        n: 5,
        words: ['YZ-A, expires 2027-12-31; (01)09506000134352 (17)271231 (10)YZ-A'],
      },
    ]),
  );
});

test('a second pack of the same is one more; another item waits', async () => {
  const session = await atFrame(sheet);
  scan(swabs);
  await added('Swab 10 × 10');
  scan(loop);
  expect(await screen.findByText(/That is another item\. Add this one first\./)).toBeDefined();
  scan(swabs);
  expect(await screen.findByText('Pack 2 holds')).toBeDefined();
  await bothSaw();
  await waitFor(() => expect(current(session).scanned).toMatchObject([{ n: 10 }]));
  expect(current(session).scanned[0]?.words).toHaveLength(2);
});

test('a pack with a serial number is there only once, now and later', async () => {
  const session = await atFrame(sheet);
  scan(loop);
  await added('Pre-tied loop');
  scan(loop);
  expect(
    await screen.findByText(/This pack was scanned already: serial number S1\./),
  ).toBeDefined();
  await bothSaw();
  await waitFor(() => expect(current(session).scanned).toMatchObject([{ line: 'loop', n: 1 }]));
  await waitFor(() => expect(screen.queryByRole('dialog')).toBeNull());
  scan(loop);
  const again = await screen.findByText(/This pack was added at 13:20: serial number S1\./);
  expect(again).toBeDefined();
  expect(current(session).scanned).toHaveLength(1);
});

test('a pack that the sheet does not know asks for its line once, and is known from then on', async () => {
  const session = await atFrame(sheet);
  scan(unknown);
  const asked = await screen.findByRole('dialog', { name: 'Add to the field' });
  expect(asked.textContent).toContain('Which line is it?');
  fireEvent.click(within(asked).getByRole('button', { name: /^Drain/ }));
  await bothSaw();
  await waitFor(() => expect(current(session).scanned).toMatchObject([{ line: 'drain', n: 1 }]));
  await waitFor(() => expect(screen.queryByRole('dialog')).toBeNull());
  scan(unknown);
  expect(await added('Drain')).toBeDefined();
});

test.each([
  [']d20109506000134352' + '17251231', /^This pack expired on 2025-12-31\./],
  [']d20109506000134353', /wrong check digit: 09506000134353/],
])('a pack that may not be used is refused with a sentence: %s', async (code, sentence) => {
  const session = await atFrame(sheet);
  scan(code);
  expect((await screen.findByRole('alert')).textContent).toMatch(
    new RegExp(`Note\\. .*${sentence.source.replace('^', '')}`),
  );
  expect(screen.queryByRole('dialog')).toBeNull();
  expect(current(session).scanned).toEqual([]);
});

test('one that expired is refused while another is being added, too', async () => {
  await atFrame(sheet);
  scan(swabs);
  await added('Swab 10 × 10');
  scan(']d20109506000134352' + '17251231');
  expect(await screen.findByText(/This pack expired on 2025-12-31/)).toBeDefined();
  expect(screen.queryByText('Pack 2 holds')).toBeNull();
});

test('HIBC and ISBT 128 are kept as they were sent, with the line that somebody says', async () => {
  const session = await atFrame(sheet);
  scan('+A123BJC5D6E71G');
  const asked = await screen.findByRole('dialog', { name: 'Add to the field' });
  fireEvent.click(within(asked).getByRole('button', { name: /^Drain/ }));
  await bothSaw();
  await waitFor(() =>
    expect(current(session).scanned).toMatchObject([
      { line: 'drain', words: ['HIBC +A123BJC5D6E71G'] },
    ]),
  );
});

/** What stays of a line with two lots on the table: somebody says which it was. */
test('where two lots were opened, the lot of what stays is said by a tap', async () => {
  const session = await atFrame(sheet);
  const say = async (...commands: readonly Command[]) => {
    for (const command of commands) {
      const outcome = await session.send(command);
      if (!outcome.ok) throw new Error(`${command.type} was not entered.`);
    }
  };
  const answer = (checkpoint: string, step: string, value: string): Command => ({
    ...{ type: 'answer', checkpoint, step },
    value,
  });
  await say(
    { type: 'beginCheckpoint', id: 'sign-in' },
    answer('sign-in', 'identity', 'yes'),
    answer('sign-in', 'allergy', 'none-known'),
    { type: 'finishCheckpoint', id: 'sign-in' },
    { type: 'beginCheckpoint', id: 'time-out' },
    answer('time-out', 'patient-procedure', 'yes'),
    { type: 'finishCheckpoint', id: 'time-out' },
    { type: 'incision' },
    { type: 'add', line: 'loop', n: 1, scanned: ['L1; (01)09506000134369 (10)L1'] },
    { type: 'add', line: 'loop', n: 1, scanned: ['L2; (01)09506000134369 (10)L2'] },
    { type: 'move', line: 'loop', from: 'table', to: 'patient/abdomen', n: 1 },
    { type: 'turn', line: 'loop', turn: 'placed', at: 'patient/abdomen', n: 1 },
  );
  const lots = () => current(session).left['loop-ligature']?.map(({ lot }) => lot);
  expect(lots()).toEqual([undefined]);
  const [take] = await screen.findAllByRole('button', { name: /^Ligature/ });
  if (!take) throw new Error('The ligature has a wire.');
  fireEvent.click(take);
  fireEvent.click(await screen.findByRole('button', { name: 'Other acts for Ligature' }));
  const over = await screen.findByRole('dialog', { name: 'Ligature' });
  fireEvent.click(within(over).getByRole('button', { name: 'L2' }));
  fireEvent.click(within(over).getByRole('button', { name: 'Record why it stays' }));
  await waitFor(() => expect(lots()).toEqual(['L2; (01)09506000134369 (10)L2']));
});
