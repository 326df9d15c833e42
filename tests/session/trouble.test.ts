import { expect, test } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import { createSession, type Session } from '#session/createSession.ts';
import type { JournalPort } from '#session/ports.ts';
import { oneSite } from '../simulator/sheets.ts';
import { invented, makeWorld, type World } from '../support/sessionPorts.ts';

const stateOf = (session: Session) => session.store.getSnapshot().context;
const note: Command = { type: 'note', text: 'The light was moved.' };
const begin = (session: Session) => session.begin(invented(oneSite));

async function started(world: World): Promise<Session> {
  const session = createSession(world.ports);
  await session.start();
  return session;
}

/** A world whose storage fails while it is told to. */
function failing() {
  const trouble = { isOn: false };
  const world = makeWorld({ mishapAt: () => (trouble.isOn ? 'refuses' : undefined) });
  return { world, trouble };
}

test('two taps on the button that opens a case open one case', async () => {
  const session = await started(makeWorld());
  const [first, second] = await Promise.all([begin(session), begin(session)]);
  expect(first).toEqual({ ok: true });
  expect(second).toMatchObject({ ok: false, failure: { code: 'not-now' } });
  await session.go({ screen: 'start' });
  expect(stateOf(session).cases).toHaveLength(1);
});

test('a case whose opening was not saved is opened when it is saved again', async () => {
  const { world, trouble } = failing();
  const session = await started(world);
  trouble.isOn = true;
  expect((await begin(session)).ok).toBe(false);
  expect(stateOf(session).notSaved).toBeTypeOf('string');
  expect(await begin(session)).toMatchObject({ ok: false, failure: { code: 'not-now' } });

  trouble.isOn = false;
  expect(await session.retry()).toEqual({ ok: true });
  expect(stateOf(session).route).toMatchObject({ screen: 'case', view: { name: 'checkpoint' } });
  expect(stateOf(session).notSaved).toBeUndefined();
  await session.go({ screen: 'start' });
  expect(stateOf(session).cases).toHaveLength(1);
});

test('an opening that was not saved can be given up', async () => {
  const { world, trouble } = failing();
  const session = await started(world);
  trouble.isOn = true;
  await begin(session);
  trouble.isOn = false;
  await session.go({ screen: 'start' });
  expect(stateOf(session).notSaved).toBeUndefined();
  expect(stateOf(session).route).toEqual({ screen: 'start' });
  expect(await begin(session)).toEqual({ ok: true });
});

test('a case with an unsaved entry is not left before it is saved', async () => {
  const { world, trouble } = failing();
  const session = await started(world);
  await begin(session);
  trouble.isOn = true;
  await session.send(note);
  await session.go({ screen: 'start' });
  expect(stateOf(session).route.screen).toBe('case');
  expect(stateOf(session).notice).toMatchObject({ kind: 'failed' });

  // Nor can it be saved: what to do then is said.
  expect((await session.retry()).ok).toBe(false);
  expect(stateOf(session).notice).toMatchObject({
    kind: 'failed',
    sentence: expect.stringContaining('take the case out as a file'),
  });
  expect((await session.exportCase(stateOf(session).current?.id ?? ''))?.split('\n')).toHaveLength(
    3,
  );

  trouble.isOn = false;
  await session.retry();
  expect(stateOf(session).notice).toBeUndefined();
  await session.go({ screen: 'start' });
  expect(stateOf(session).route.screen).toBe('start');
});

/** A journal whose reading waits until it is let go on. */
function slowReading() {
  let goOn = (): void => undefined;
  const slow = { isOn: false, goOn: () => goOn() };
  const journal = (real: JournalPort): JournalPort => ({
    ...real,
    readCase: async (...asked) => {
      if (slow.isOn)
        await new Promise<void>((resolve) => {
          goOn = resolve;
        });
      return real.readCase(...asked);
    },
  });
  return { slow, journal };
}

test('a tap that waits behind something else is said to be not saved yet within a second', async () => {
  const { slow, journal } = slowReading();
  const session = await started(makeWorld({ journal }));
  await begin(session);
  slow.isOn = true;
  const reading = session.takeOver();
  const sent = session.send(note);
  await expect.poll(() => stateOf(session).notSaved, { timeout: 1000 }).toBeTypeOf('string');
  expect(session.canSend(note)).toBe(false);

  slow.isOn = false;
  slow.goOn();
  await reading;
  expect(await sent).toEqual({ ok: true });
  expect(stateOf(session).notSaved).toBeUndefined();
});

/** Two windows on one storage, each with a journal of its own, and one lock between them. */
async function twoWindows() {
  const storage = [new Map<string, string[]>(), new Map<string, string[]>()];
  const remembered = new Map<string, string>();
  let lost: (caseId: string) => void = () => undefined;
  let role: 'writer' | 'reader' = 'writer';
  const first = makeWorld({
    storage,
    remembered,
    writer: {
      claim: async () => role,
      onLost: (listener) => {
        lost = listener;
      },
    },
  });
  const one = await started(first);
  await begin(one);
  const claim = async (_caseId: string, how?: 'take-over') => {
    if (how === 'take-over') role = 'reader'; // of the first window
    return how === 'take-over' ? 'writer' : 'reader';
  };
  const other = await started(makeWorld({ storage, remembered, writer: { claim } }));
  const caseId = stateOf(one).current?.id ?? '';
  await other.go({ screen: 'case', caseId, view: { name: 'frame' } });
  return { one, other, lose: () => lost(caseId) };
}

test('a window that follows can take the writing over, and its entries have a higher epoch', async () => {
  const { one, other, lose } = await twoWindows();
  expect(stateOf(other).follows).toBe(true);
  const before = stateOf(one).epoch;
  await other.takeOver();
  expect(stateOf(other).follows).toBe(false);
  expect(stateOf(other).epoch).toBeGreaterThan(before);
  expect(await other.send(note)).toEqual({ ok: true });

  lose();
  await expect.poll(() => stateOf(one).follows).toBe(true);
  expect(stateOf(one).last?.seq).toBe(2);
});

test('a window that slept while another wrote is told, and shows what is there', async () => {
  const { one, other } = await twoWindows();
  await other.takeOver();
  await other.send(note);
  expect(await one.send(note)).toMatchObject({ ok: false, failure: { code: 'other-writer' } });
  expect(stateOf(one)).toMatchObject({
    notSaved: undefined,
    notice: { kind: 'failed' },
    follows: true,
  });
  expect(stateOf(one).last?.seq).toBe(2);
  expect(stateOf(one).head).toBe(stateOf(other).head);
});

test('a part of the program that does not come stops no record, and is asked for again', async () => {
  let isThere = false;
  const usual = makeWorld().ports.rules;
  const rules: typeof usual = async () => {
    if (!isThere) throw new TypeError('Failed to fetch');
    return usual();
  };
  const session = await started(makeWorld({ rules }));
  const first = await begin(session);
  expect(first).toMatchObject({ ok: false, failure: { code: 'not-now' } });
  expect(stateOf(session).stage).toBe('ready');
  expect(stateOf(session).notice).toMatchObject({ sentence: expect.stringContaining('again') });
  isThere = true;
  expect(await begin(session)).toEqual({ ok: true });
  expect(session.canSend(note)).toBe(true);
  expect(await session.send(note)).toEqual({ ok: true });
});
