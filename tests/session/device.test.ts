import { expect, test } from 'vitest';
import { createSession } from '#session/createSession.ts';
import type { DevicePort } from '#session/ports.ts';
import { makeWorld } from '../support/sessionPorts.ts';

type Tell = Parameters<DevicePort['watch']>[0];

/** A session on a tablet that says what the test lets it say. */
async function tablet() {
  let tell: Tell = () => undefined;
  const device: DevicePort = {
    watch: (listener) => {
      tell = listener;
    },
  };
  const session = createSession({ ...makeWorld().ports, device });
  await session.start();
  const notes = () => session.store.getSnapshot().context.device.map(({ sentence }) => sentence);
  return { session, notes, tell: (...said: Parameters<Tell>) => tell(...said) };
}

test('what the tablet says is shown until it is over', async () => {
  const { notes, tell } = await tablet();
  tell('battery', 'The battery is low.');
  tell('awake', 'It will sleep.');
  expect(notes()).toEqual(['The battery is low.', 'It will sleep.']);
  tell('battery', undefined);
  expect(notes()).toEqual(['It will sleep.']);
});

test('what was read is not told again until it says something else', async () => {
  const { session, notes, tell } = await tablet();
  tell('battery', 'At 20 %.');
  session.heed('battery');
  expect(notes()).toEqual([]);
  tell('battery', 'At 20 %.');
  expect(notes()).toEqual([]);
  tell('battery', 'At 10 %.');
  expect(notes()).toEqual(['At 10 %.']);
});

test('what was over and comes back is told again', async () => {
  const { notes, tell } = await tablet();
  tell('battery', 'At 20 %.');
  tell('battery', undefined);
  tell('battery', 'At 20 %.');
  expect(notes()).toEqual(['At 20 %.']);
});
