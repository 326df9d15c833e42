import { expect, test } from 'vitest';
import { entryWords } from '#engine/case/entryWords.ts';
import { createSession, type Session } from '#session/createSession.ts';
import { sheetNamed } from '../support/drillSheets.ts';
import { invented, makeWorld, type World } from '../support/sessionPorts.ts';

/** What was written on paper while the tablet could not be used comes back into the record, and says so. */
const sheet = sheetNamed('ports-and-swabs');
const stateOf = (session: Session) => session.store.getSnapshot().context;

async function opened(world: World): Promise<Session> {
  const session = createSession(world.ports);
  await session.start();
  await session.begin(invented(sheet));
  return session;
}

/** The last entry in words. */
function lastWords(session: Session): string {
  const { current, rows } = stateOf(session);
  const event = rows.at(-1)?.events.at(-1);
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
  await session.send(note('swab count at 10:40'));
  expect(lastWords(session)).toMatch(/from paper$/);
  session.markFromPaper(false);
  await session.send(note('after'));
  expect(lastWords(session)).not.toContain('from paper');

  const caseId = stateOf(session).current?.id ?? '';
  const again = createSession(world.ports);
  await again.start();
  await again.go({ screen: 'case', caseId, view: { name: 'frame' } });
  const marks = stateOf(again).rows.flatMap(({ events }) => events.map((one) => one.fromPaper));
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
  const outcome = await session.send({ type: 'incision' });
  expect(outcome).toMatchObject({ ok: false, refusal: { code: 'checkpoint-open' } });
  expect(stateOf(session).rows).toHaveLength(1);
});
