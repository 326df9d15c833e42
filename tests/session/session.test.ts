import { expect, test } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import { at } from '#engine/ledger.ts';
import { makeLately } from '#journal/lately.ts';
import { createSession, type Session } from '#session/createSession.ts';
import { type Recovered, recover } from '#session/recovery.ts';
import { sheetNamed } from '../support/drillSheets.ts';
import { invented, makeWorld, type World } from '../support/sessionPorts.ts';

const sheet = sheetNamed('ports-and-swabs');

const stateOf = (session: Session) => session.store.getSnapshot().context;
const caseOf = (session: Session) => {
  const { current } = stateOf(session);
  if (!current) throw new Error('No case is open.');
  return current;
};

async function opened(world: World): Promise<Session> {
  const session = createSession(world.ports);
  await session.start();
  await session.begin(invented(sheet));
  return session;
}

const found: readonly Command[] = [
  { type: 'beginCount', moment: 'first' },
  ...sheet.lines
    .filter((line) => line.opening > 0 && line.counted)
    .map((line): Command => ({ type: 'enter', line: line.id, field: line.opening })),
  { type: 'agree' },
];

async function counted(world: World): Promise<Session> {
  const session = await opened(world);
  for (const command of found) await session.send(command);
  return session;
}

const swabOff: Command = { type: 'move', line: 'swab', from: 'table', to: 'off', n: 1 };

test('a recorded command is on the screen and in both homes', async () => {
  const world = makeWorld();
  const session = await counted(world);
  await session.send(swabOff);

  expect(at(caseOf(session).ledger, 'swab', 'off')).toBe(1);
  const rows = world.homes.map((home) => home.cases.get(caseOf(session).id)?.length);
  expect(rows).toEqual([stateOf(session).last?.seq, stateOf(session).last?.seq]);
});

test('two fast taps are two entries, in order', async () => {
  const session = await counted(makeWorld());
  await Promise.all([session.send(swabOff), session.send(swabOff)]);
  expect(at(caseOf(session).ledger, 'swab', 'off')).toBe(2);
});

test('a refusal is shown and nothing is recorded', async () => {
  const session = await counted(makeWorld());
  const before = stateOf(session).last?.seq;
  const outcome = await session.send({ ...swabOff, n: 99 });

  expect(outcome).toMatchObject({ ok: false, refusal: { code: 'not-enough' } });
  expect(stateOf(session).notice).toMatchObject({ kind: 'refused' });
  expect(stateOf(session).last?.seq).toBe(before);
});

test('an entry that is not on disk does not move the screen and is offered again', async () => {
  let isBroken = false;
  const world = makeWorld({ mishapAt: () => (isBroken ? 'refuses' : undefined) });
  const session = await counted(world);
  const before = caseOf(session);
  isBroken = true;
  const outcome = await session.send(swabOff);

  expect(outcome).toMatchObject({ ok: false, failure: { code: 'not-saved' } });
  expect(caseOf(session)).toBe(before);
  expect(stateOf(session).notSaved).toBeTypeOf('string');
  expect(session.canSend(swabOff)).toBe(false);

  isBroken = false;
  expect(await session.retry()).toEqual({ ok: true });
  expect(at(caseOf(session).ledger, 'swab', 'off')).toBe(1);
  expect(stateOf(session).notSaved).toBeUndefined();
});

test('while an entry is not saved nothing else is recorded', async () => {
  let isBroken = false;
  const world = makeWorld({ mishapAt: () => (isBroken ? 'refuses' : undefined) });
  const session = await counted(world);
  isBroken = true;
  await session.send(swabOff);
  isBroken = false;

  expect(await session.send(swabOff)).toMatchObject({ ok: false, failure: { code: 'not-now' } });
  await session.retry();
  expect(at(caseOf(session).ledger, 'swab', 'off')).toBe(1);
});

test('a new start comes back to the same case and the same screen', async () => {
  const storage = [new Map<string, string[]>(), new Map<string, string[]>()];
  const remembered = new Map<string, string>();
  const first = await counted(makeWorld({ storage, remembered }));
  await first.send(swabOff);
  first.show({ name: 'specimen', about: 'appendix' });

  const second = createSession(makeWorld({ storage, remembered }).ports);
  await second.start();
  expect(stateOf(second).route).toEqual(stateOf(first).route);
  expect(caseOf(second)).toEqual(caseOf(first));
  expect(stateOf(second).head).toBe(stateOf(first).head);
});

test('a count that was running goes on after a new start', async () => {
  const storage = [new Map<string, string[]>(), new Map<string, string[]>()];
  const remembered = new Map<string, string>();
  const first = await opened(makeWorld({ storage, remembered }));
  for (const command of found.slice(0, 2)) await first.send(command);

  const second = createSession(makeWorld({ storage, remembered }).ports);
  await second.start();
  expect(caseOf(second).counts.running).toEqual(caseOf(first).counts.running);
});

test('a case whose rows are lost in one home is whole from the other', async () => {
  const storage = [new Map<string, string[]>(), new Map<string, string[]>()];
  const remembered = new Map<string, string>();
  const first = await counted(makeWorld({ storage, remembered }));
  storage[0]?.clear();

  const second = createSession(makeWorld({ storage, remembered }).ports);
  await second.start();
  expect(caseOf(second)).toEqual(caseOf(first));
  expect(stateOf(second).reports.map((report) => report.code)).toContain('home-restored');
});

test('what recovery found is told in the case that goes on, until somebody has read it', async () => {
  const storage = [new Map<string, string[]>(), new Map<string, string[]>()];
  const remembered = new Map<string, string>();
  await counted(makeWorld({ storage, remembered }));
  storage[0]?.clear();

  const second = createSession(makeWorld({ storage, remembered }).ports);
  await second.start();
  const unread = () => stateOf(second).unread.map((report) => report.code);
  expect(unread()).toEqual(['home-restored']);
  second.heedReport();
  expect(unread()).toEqual([]);
  const { route, reports } = stateOf(second);
  expect(reports.map((report) => report.code)).toContain('home-restored');
  await second.go({ screen: 'start' });
  await second.go(route);
  expect(unread()).toEqual([]);
});

test('what nobody read about one case is not told in the next one that is begun', async () => {
  const storage = [new Map<string, string[]>(), new Map<string, string[]>()];
  const remembered = new Map<string, string>();
  await counted(makeWorld({ storage, remembered }));
  storage[0]?.clear();

  const second = createSession(makeWorld({ storage, remembered }).ports);
  await second.start();
  expect(stateOf(second).unread).toHaveLength(1);
  await second.go({ screen: 'start' });
  await second.begin(invented(caseOf(second).sheet));
  expect(stateOf(second).unread).toEqual([]);
});

test('a window that only follows records nothing', async () => {
  const storage = [new Map<string, string[]>(), new Map<string, string[]>()];
  const remembered = new Map<string, string>();
  await counted(makeWorld({ storage, remembered }));

  const follower = createSession(makeWorld({ storage, remembered, role: 'reader' }).ports);
  await follower.start();
  expect(stateOf(follower).follows).toBe(true);
  expect(await follower.send(swabOff)).toMatchObject({ ok: false });
  expect(at(caseOf(follower).ledger, 'swab', 'off')).toBe(0);
});

test('an exported case is the same case on another tablet', async () => {
  const here = await counted(makeWorld());
  await here.send(swabOff);
  const text = await here.exportCase(caseOf(here).id);
  if (text === undefined) throw new Error('Nothing was exported.');

  const there = createSession(makeWorld().ports);
  await there.start();
  expect((await there.importCase(text)).ok).toBe(true);
  const { id } = caseOf(here);
  await there.go({ screen: 'case', caseId: id, view: { name: 'record' } });
  expect(caseOf(there)).toEqual(caseOf(here));
  expect(stateOf(there).head).toBe(stateOf(here).head);
});

test('a file that is none changes nothing', async () => {
  const session = createSession(makeWorld().ports);
  await session.start();
  const outcome = await session.importCase('This is a letter.');
  expect(outcome.ok).toBe(false);
  expect(stateOf(session).cases).toEqual([]);
});

test('a row of a newer program stops the case before it and takes no entries', async () => {
  const storage = [new Map<string, string[]>(), new Map<string, string[]>()];
  const remembered = new Map<string, string>();
  const world = makeWorld({ storage, remembered });
  const first = await counted(world);
  const { id } = caseOf(first);
  const newer = {
    type: 'weighedByScale',
    entry: 99,
    at: world.ports.clock.now(),
    by: 'x',
    id: 'n',
  };
  await world.ports.journal.append(id, {
    id: 'n',
    at: world.ports.clock.now(),
    by: 'x',
    epoch: 1,
    app: 'newer',
    events: JSON.parse(JSON.stringify([newer])),
  });

  const second = createSession(makeWorld({ storage, remembered }).ports);
  await second.start();
  expect(stateOf(second).damaged).toContain('another version');
  expect(caseOf(second)).toEqual(caseOf(first));
  expect(await second.send(swabOff)).toMatchObject({ ok: false });
});

test('a case that was read for the list is not folded again, unless something was written since', async () => {
  const world = makeWorld();
  const session = await opened(world);
  const { id } = caseOf(session);
  const lately = makeLately<Recovered>(({ last }) => last?.seq ?? 0);
  const read = () =>
    recover({ journal: world.ports.journal, readRules: world.ports.rules, lately }, id, 'reader');
  const first = await read();
  expect((await read()).current).toBe(first.current);
  await session.send({ type: 'note', text: 'later' });
  const second = await read();
  expect(second.current).not.toBe(first.current);
  expect(second).toMatchObject({
    last: { seq: (first.last?.seq ?? 0) + 1 },
    head: stateOf(session).head,
  });
  expect(second.current).toEqual(caseOf(session));
  lately.forget();
  expect((await read()).current).not.toBe(second.current);
});
