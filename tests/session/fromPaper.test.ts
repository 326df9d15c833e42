import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { entryWords } from '#engine/case/entryWords.ts';
import { createSession, type Session } from '#session/createSession.ts';
import { onPaper } from '#session/onPaper.ts';
import { sheetNamed } from '../support/drillSheets.ts';
import { invented, makeWorld, type World } from '../support/sessionPorts.ts';

/** What was written on paper while the tablet could not be used comes back into the record, and says so. */
const sheet = sheetNamed('ports-and-swabs');
beforeEach(() => vi.stubEnv('TZ', 'UTC'));
afterEach(() => vi.unstubAllEnvs());

const stateOf = (session: Session) => session.store.getSnapshot().context;

async function opened(world: World): Promise<Session> {
  const session = createSession(world.ports);
  await session.start();
  await session.begin(invented(sheet));
  return session;
}

/** The last entry in words. */
function lastWords(session: Session): string {
  const { current, last } = stateOf(session);
  const event = last?.events.at(-1);
  if (!current || !event) throw new Error('Nothing was entered.');
  return entryWords(current, event).rest;
}

const note = (text: string) => ({ type: 'note', text }) as const;

test('an entry that is typed in from paper says so, in the record and after a restart', async () => {
  const world = makeWorld();
  const session = await opened(world);
  await session.send(note('before'));
  expect(lastWords(session)).not.toContain('from paper');
  session.markFromPaper(true);
  session.sayPaperTime('none');
  await session.send(note('swab count at 10:40'));
  expect(lastWords(session)).toMatch(/from paper$/);
  session.markFromPaper(false);
  await session.send(note('after'));
  expect(lastWords(session)).not.toContain('from paper');

  const caseId = stateOf(session).current?.id ?? '';
  const again = createSession(world.ports);
  await again.start();
  await again.go({ screen: 'case', caseId, view: { name: 'frame' } });
  const rows = await again.readRows();
  const marks = rows?.flatMap(({ events }) => events.map((one) => one.fromPaper));
  expect(marks).toEqual([undefined, undefined, true, undefined]);
  // After a restart nobody types from paper until somebody says so.
  expect(stateOf(again).fromPaper).toBeUndefined();
});

test('what is said of one case is not said of another', async () => {
  const session = await opened(makeWorld());
  session.markFromPaper(true);
  await session.begin({ ...invented(sheet), practice: true });
  await session.send(note('another case'));
  expect(lastWords(session)).not.toContain('from paper');
});

test('a command from paper is held to the same rules', async () => {
  const session = await opened(makeWorld());
  session.markFromPaper(true);
  session.sayPaperTime('none');
  const outcome = await session.send({ type: 'incision' });
  expect(outcome).toMatchObject({ ok: false, refusal: { code: 'checkpoint-open' } });
  expect(stateOf(session).last?.seq).toBe(1);
});

test('each entry is asked for the time that stands on the paper, and without an answer is not made', async () => {
  const session = await opened(makeWorld());
  session.markFromPaper(true);
  expect(await session.send(note('swab count'))).toMatchObject({ ok: false });
  const { notice, last } = stateOf(session);
  expect(notice).toMatchObject({
    kind: 'failed',
    sentence: 'Say the time that stands on the paper first, or that it has none.',
  });
  expect(last?.seq).toBe(1);
  session.sayPaperTime('12:4');
  expect((await session.send(note('swab count'))).ok).toBe(false);
  session.sayPaperTime('12:40');
  expect((await session.send(note('swab count'))).ok).toBe(true);
  expect(lastWords(session)).toMatch(/from paper, 12:40$/);
});

test('the case goes by the time on the paper, the record keeps the time of typing beside it', async () => {
  const world = makeWorld(); // its clock stands at 13:20
  const session = await opened(world);
  session.markFromPaper(true);
  session.sayPaperTime('12:30');
  await session.send({
    type: 'beginCheckpoint',
    id: 'sign-in',
    leader: 'circulator',
    present: ['circulator', 'anaesthetist'],
  });
  const { current, last } = stateOf(session);
  expect(current?.checkpoints['sign-in']?.beganAt).toBe('2026-01-05T12:30:00+00:00');
  const event = last?.events.at(-1);
  expect(event?.paperAt).toBe('2026-01-05T12:30:00+00:00');
  expect(event?.at).toMatch(/^2026-01-05T13:20/);
  expect(current?.lastAt).toBe(event?.at);
});

test('a time on paper that is still to come today is that of the evening before', () => {
  const night = '2026-01-06T00:30:00+00:00';
  expect(onPaper('23:50', night)).toBe('2026-01-05T23:50:00+00:00');
  expect(onPaper('00:10', night)).toBe('2026-01-06T00:10:00+00:00');
  expect(onPaper('00:30', night)).toBe('2026-01-06T00:30:00+00:00');
  expect(['24:00', '12:60', '1:20', '', 'noon'].map((time) => onPaper(time, night))).toEqual([
    undefined,
    undefined,
    undefined,
    undefined,
    undefined,
  ]);
});
