import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import { preloadScreens } from '#screens/App.tsx';
import { createSession, type Session } from '#session/createSession.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

/*
 * Blind counting: design 3.3. The lines are given numbers of their own (a swab line of 637) so that a number
 * found in the page can only be what the record expects.
 */
const plain = await sheets.find((known) => known.id === 'ports-and-swabs')?.load();
if (!plain) throw new Error('The teaching sheet is not there.');
const sheet = {
  ...plain,
  lines: plain.lines.map((line) => {
    const { pack: _, ...bare } = line;
    return line.id === 'swab' ? { ...bare, opening: 637 } : line;
  }),
};
const openings = sheet.lines.filter((line) => line.opening > 0 && line.counted);

async function onScreen(): Promise<Session> {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin(invented(sheet));
  await count(session, 'first');
  showApp(session, [sheet]);
  return session;
}

async function count(session: Session, moment: 'first' | 'extra', swabs = 637): Promise<void> {
  await session.send({ type: 'beginCount', moment });
  for (const line of openings) await session.send(seen(line.id, line.opening, swabs));
  await session.send({ type: 'agree' });
}

const seen = (line: string, opening: number, swabs: number): Command => ({
  type: 'enter',
  line,
  field: line === 'swab' ? swabs : opening,
});

// A test runner makes the screens as they are asked for; the page has read them before a case begins.
beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

/** Whether this text stands anywhere in the page, in words or in an attribute. */
const isInPage = (text: string): boolean => document.documentElement.outerHTML.includes(text);

test('the frame shows what the record holds', async () => {
  const session = await onScreen();
  session.show({ name: 'frame' });
  await waitFor(() => expect(isInPage('637')).toBe(true));
});

test('while a count runs, what the record expects is nowhere in the page', async () => {
  const session = await onScreen();
  session.show({ name: 'frame' });
  await session.send({ type: 'beginCount', moment: 'extra' });
  await waitFor(() => expect(screen.getByText('Interrupted?')).toBeTruthy());
  expect(isInPage('637')).toBe(false);

  session.show({ name: 'record' });
  session.show({ name: 'frame' });
  expect(isInPage('637')).toBe(false);
});

test('a line that waits for its recount shows no balance on the frame or on the record', async () => {
  const session = await onScreen();
  await count(session, 'extra', 635);
  session.show({ name: 'frame' });
  await waitFor(() => expect(screen.getAllByText('?').length).toBeGreaterThan(0));
  expect(isInPage('637')).toBe(false);

  session.show({ name: 'recount' });
  await waitFor(() => expect(screen.getByText('Count again')).toBeTruthy());
  expect(isInPage('637')).toBe(false);
});

test('from afar pieces inside are large, and no number of them is said in a count or before a recount', async () => {
  const session = await onScreen();
  const stones = { type: 'carriedIn', line: 'faecolith', n: 411, site: 'abdomen' } as const;
  await session.send({ ...stones, from: 'imaging' });
  session.show({ name: 'wall' });
  await waitFor(() => expect(isInPage('411')).toBe(true));
  await session.send({ type: 'beginCount', moment: 'extra' });
  await waitFor(() => expect(screen.getByText(/^Being counted\./)).toBeTruthy());
  expect(isInPage('411')).toBe(false);
  expect(isInPage('637')).toBe(false);

  await session.send({ type: 'abandon', reason: 'Broken off.' });
  await waitFor(() => expect(isInPage('411')).toBe(true));
  await count(session, 'extra', 635);
  await waitFor(() => expect(screen.getByText(/^Being counted\./)).toBeTruthy());
  expect(isInPage('411')).toBe(false);
});

test('once a discrepancy is open its numbers are shown', async () => {
  const session = await onScreen();
  await count(session, 'extra', 635);
  await session.send({ type: 'recount', lines: { swab: { field: 635 } } });
  session.show({ name: 'discrepancy', about: 'swab' });
  await waitFor(() => expect(screen.getByText(/Do not close\. 2 missing/)).toBeTruthy());
  expect(isInPage('637')).toBe(true);
});

test('one tap on the table stretch moves one piece, and the row keeps its element', async () => {
  const session = await onScreen();
  session.show({ name: 'frame' });
  const wire = await waitFor(() => {
    const found = document.querySelector('[data-line="swab"]');
    if (!found) throw new Error('The swab line is not on the screen.');
    return found;
  });
  const table = wire.querySelector('[data-place="table"]');
  await session.send({ type: 'move', line: 'swab', from: 'table', to: 'off', n: 1 });
  await waitFor(() => expect(table?.textContent).toContain('636'));
  const off = wire.querySelector('[data-place="off"]');
  if (off) fireEvent.click(off);
  await waitFor(() => expect(table?.textContent).toContain('637'));
  expect(document.querySelector('[data-line="swab"]')).toBe(wire);
});
