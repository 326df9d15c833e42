/** What a count costs: one tap for each line, one to begin it, and one for each of the two who agree. */
import { cleanup, fireEvent, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { preloadScreens } from '#screens/App.tsx';
import { createSession } from '#session/createSession.ts';
import { closure, line, sheet } from '../simulator/sheets.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

const lines = Array.from({ length: 35 }, (_, at) =>
  line(`item-${at + 1}`, { class: 'instrument', opening: 1 + (at % 9) }),
);
const long = sheet('long', {
  title: 'Thirty-five lines',
  sites: [{ id: 'abdomen', name: 'abdomen', kind: 'cavity' }],
  lines,
  checkpoints: [],
  closures: [closure('abdomen', ['abdomen'], 'closing', { look: [] })],
});

/** The goal for such a count. */
const tapsMost = 38;

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

const lineNow = (): string =>
  document.querySelector('.count-line[aria-current] .count-name')?.textContent ?? '';

test('a closing count of 35 lines takes 38 taps at most', async () => {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin(invented(long));
  await session.send({ type: 'beginCount', moment: 'first' });
  for (const { id, opening } of lines)
    await session.send({ type: 'enter', line: id, field: opening });
  await session.send({ type: 'agree' });
  await session.send({ type: 'incision' });
  session.show({ name: 'count', about: 'closing' });
  showApp(session, [long]);
  let taps = 0;
  const tap = async (name: string | RegExp) => {
    fireEvent.click(await screen.findByRole('button', { name }));
    taps += 1;
  };
  await tap('Begin the count');
  for (const { name, opening } of lines) {
    await waitFor(() => expect(lineNow()).toBe(name));
    await tap(`${opening}`);
  }
  await screen.findByText('Every line has a number.');
  await tap('Testa agrees');
  await tap('Prueba agrees');
  const agreed = () => session.store.getSnapshot().context.current?.counts.done.closing;
  await waitFor(() => expect(agreed()).toBeDefined());
  expect(taps).toBeLessThanOrEqual(tapsMost);
});
