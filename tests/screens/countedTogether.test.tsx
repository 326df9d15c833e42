import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { preloadScreens } from '#screens/App.tsx';
import { createSession, type Session } from '#session/createSession.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

/* A port is asked for once, with its parts named; what is not alike is asked for part by part. */
const loaded = await sheets.find(({ id }) => id === 'laparoscopic-appendicectomy')?.load();
if (!loaded) throw new Error('The sheet of the appendicectomy is not there.');
const sheet = loaded;
const port = ['port-5-cannula', 'port-5-obturator', 'port-5-seal'];
const opened = sheet.lines.filter(({ opening, counted }) => opening > 0 && counted);

/** The first count, with a number for everything but the 5 mm ports. */
async function counting(): Promise<Session> {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin(invented(sheet));
  await session.send({ type: 'beginCount', moment: 'first' });
  for (const { id, opening, pack } of opened)
    if (!port.includes(id))
      await session.send({
        ...{ type: 'enter', line: id, field: opening },
        ...(pack === undefined
          ? {}
          : { packs: Array.from({ length: opening / pack }, () => pack) }),
      });
  session.show({ name: 'count', about: 'first' });
  showApp(session, [sheet]);
  await waitFor(() => expect(asked()).toContain('Port 5 mm'));
  return session;
}

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

const asked = (): string =>
  (document.querySelector('section.count [aria-live="polite"]')?.textContent ?? '').replaceAll(
    '\u00a0',
    ' ',
  );

const digit = (n: number): void => {
  fireEvent.click(screen.getByRole('button', { name: `${n}` }));
};

test('a port is asked for once, with every part named', async () => {
  await counting();
  expect(asked()).toBe('Port 5 mm Of each: Cannula 5 mm · Obturator 5 mm · Seal 5 mm');
  digit(2);
  await screen.findByText('Every line has a number.');
});

test('what is not alike is asked for part by part, and each keeps its own number', async () => {
  const session = await counting();
  fireEvent.click(screen.getByRole('button', { name: 'Not alike: one by one' }));
  for (const [part, n] of [
    ['Cannula 5 mm', 2],
    ['Obturator 5 mm', 3],
    ['Seal 5 mm', 1],
  ] as const) {
    await waitFor(() => expect(asked()).toBe(part));
    digit(n);
  }
  await screen.findByText('Every line has a number.');
  await session.send({ type: 'agree' });
  fireEvent.click(screen.getByRole('button', { name: 'To the frame' }));
  const shown = (part: string) =>
    screen.findByRole('button', { name: new RegExp(`^${part}, on the table: (\\d)`) });
  expect((await shown('Obturator 5 mm')).textContent).toContain('3');
  expect((await shown('Seal 5 mm')).textContent).toContain('1');
});

test('who said that they were alike, and then sees that they are not, is asked for each again', async () => {
  await counting();
  digit(2);
  await screen.findByText('Every line has a number.');
  fireEvent.click(screen.getByRole('button', { name: /^Port 5 mm/ }));
  fireEvent.click(await screen.findByRole('button', { name: 'Not alike: one by one' }));
  for (const [part, n] of [
    ['Cannula 5 mm', 3],
    ['Obturator 5 mm', 2],
    ['Seal 5 mm', 1],
  ] as const) {
    await waitFor(() => expect(asked()).toBe(part));
    digit(n);
  }
  await screen.findByText('Every line has a number.');
  const rows = [...document.querySelectorAll('.count-line')].map((row) => row.textContent);
  expect(rows).toContain('Seal 5 mm1');
  expect(rows).toContain('Cannula 5 mm3');
});

test('a part that was said by itself goes on by itself after the page was opened anew', async () => {
  const session = await counting();
  await session.send({ type: 'enter', line: 'port-5-cannula', field: 2 });
  await session.send({ type: 'enter', line: 'port-5-obturator', field: 1 });
  await waitFor(() => expect(asked()).toBe('Seal 5 mm'));
});

test('once a part is counted off the field, each part of its group is asked by itself', async () => {
  const session = await counting();
  digit(2);
  await screen.findByText('Every line has a number.');
  await session.send({ type: 'agree' });
  await session.send({ type: 'move', line: 'port-5-seal', from: 'table', to: 'off', n: 1 });
  await session.send({ type: 'beginCount', moment: 'extra' });
  session.show({ name: 'count', about: 'extra' });
  const rows = await waitFor(() => {
    const found = [...document.querySelectorAll('.count-name')].map((name) => name.textContent);
    expect(found).toContain('Swab 10 × 10');
    return found;
  });
  expect(rows).toContain('Seal 5 mm');
  expect(rows).not.toContain('Port 5 mm');
  expect(rows).toContain('Port 12 mm');
});
