import { expect, test } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import { createSession, type Session } from '#session/createSession.ts';
import { oneSite } from '../simulator/sheets.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';

const minute = 60_000;
const add: Command = { type: 'note', text: 'The light was moved.' };

/** A tablet with a clock that is set by hand, and one that only runs. */
async function tablet(storage = [new Map<string, string[]>(), new Map<string, string[]>()]) {
  const time = { wallMs: Date.parse('2026-01-05T08:00:00Z'), steadyMs: 0 };
  const remembered = new Map<string, string>();
  let ids = 0;
  const next = () => {
    ids += 1;
    return `entry-${ids}`;
  };
  const start = async (): Promise<Session> => {
    const { ports } = makeWorld({ storage, remembered });
    const clock = {
      now: () => new Date(time.wallMs).toISOString(),
      steadyMs: () => time.steadyMs,
    };
    const session = createSession({ ...ports, clock, ids: { next } });
    await session.start();
    return session;
  };
  const pass = (ms: number): void => {
    time.wallMs += ms;
    time.steadyMs += ms;
  };
  const session = await start();
  await session.begin(invented(oneSite));
  await session.send(add);
  return { session, start, time, pass };
}

const notes = (session: Session) =>
  session.store
    .getSnapshot()
    .context.current?.notes.map(({ text }) => text)
    .filter((text) => text !== 'The light was moved.') ?? [];
const rows = async (session: Session) => (await session.readRows()) ?? [];

test('a clock that runs as it should leaves nothing in the record', async () => {
  const { session, pass } = await tablet();
  pass(90 * minute);
  await session.send(add);
  expect(notes(session)).toEqual([]);
});

test('a clock that was set back is recorded before the next entry, and the order stays', async () => {
  const { session, time, pass } = await tablet();
  pass(5 * minute);
  time.wallMs -= 60 * minute;
  await session.send(add);
  expect(notes(session)).toEqual([
    'The clock of this tablet was set back by 60 min. The order of entries is right, times are not.',
  ]);
  const types = (await rows(session)).map(({ events }) => events[0]?.type);
  expect(types.slice(-3)).toEqual(['noteWritten', 'noteWritten', 'noteWritten']);

  pass(minute);
  await session.send(add);
  expect(notes(session)).toHaveLength(1);
});

test('a clock that went ahead, by a day or by a sleep of half an hour, is recorded', async () => {
  const jumps = [
    [30 * minute, '30 min'],
    [24 * 60 * minute, '24 h'],
    [100 * 24 * 60 * minute, '100 days'],
  ] as const;
  for (const [ahead, words] of jumps) {
    const { session, time } = await tablet();
    time.wallMs += ahead;
    await session.send(add);
    expect(notes(session)).toEqual([
      `The clock of this tablet went ahead by ${words}: it was set, or the tablet slept.`,
    ]);
  }
});

test('a clock that was set back while the tablet was off is recorded too', async () => {
  const { start, time } = await tablet();
  time.wallMs = Date.parse('1970-01-01T00:10:00Z');
  time.steadyMs = 0;
  const session = await start();
  await session.send(add);
  expect(notes(session)[0]).toContain('was set back');
});

test('a take-back is of the last entry and not of what the clock did; that is recorded after it', async () => {
  const { session, time } = await tablet();
  time.wallMs -= 60 * minute;
  await session.send({ type: 'correct', last: 1 });
  expect(notes(session)).toEqual([]);
  const last = (await rows(session)).at(-1)?.events[0];
  expect(last).toMatchObject({ type: 'corrected' });
  await session.send(add);
  expect(notes(session)).toHaveLength(1);
});
