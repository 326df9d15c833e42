import { expect, test, vi } from 'vitest';
import type { Session } from '#session/createSession.ts';
import { whyNotRemove } from '#session/takeOut.ts';
import { sheetNamed } from '../support/drillSheets.ts';
import { makeGuardedTablet, type Started } from '../support/guardedWorld.ts';
import { invented } from '../support/sessionPorts.ts';
import { testa } from '../support/vaultPorts.ts';

const sheet = sheetNamed('ports-and-swabs');
const stateOf = (session: Session) => session.store.getSnapshot().context;

async function give(session: Session, pin: string = testa.pin): Promise<void> {
  await vi.waitFor(() => expect(stateOf(session).asking).toBeDefined());
  await session.give('person-1', pin);
}

/** One case of a set-up tablet, seen at the first screen. `finishedAt` as it would be after its end. */
async function withCase() {
  const tablet = makeGuardedTablet();
  const started = await tablet.start();
  await started.vault.setUp(testa);
  const begun = started.session.begin(invented(sheet));
  await give(started.session);
  await begun;
  const caseId = stateOf(started.session).current?.id ?? '';
  return { tablet, ...started, caseId };
}

/** Marks the only case in the list as one that has ended; the rules of ending are not what is tested here. */
async function listedAsEnded({ session }: Pick<Started, 'session'>, finishedAt: string) {
  await session.go({ screen: 'start' });
  const cases = stateOf(session).cases.map((one) => ({ ...one, finishedAt }));
  session.store.trigger.changed({ change: { cases } });
}

const out = async (session: Session, caseId: string) => {
  const taken = session.exportCase(caseId);
  await give(session);
  return taken;
};

test('a file is given for a PIN, and the book says who took it', async () => {
  const { session, caseId, tablet } = await withCase();
  const text = await out(session, caseId);
  expect(text).toContain('Testcase, Ash');
  expect(tablet.unit.events.at(-1)).toMatchObject({
    type: 'caseTakenOut',
    caseId,
    rows: 1,
    head: stateOf(session).head,
    by: ['Testa'],
  });
});

test('without a PIN no file is given', async () => {
  const { session, caseId, tablet } = await withCase();
  const taken = session.exportCase(caseId);
  await give(session, '9999');
  session.without('Testa', 'PIN forgotten'); // not offered here, and not taken
  expect(stateOf(session).asking).toMatchObject({ done: [], canGoWithout: false });
  session.leave();
  expect(await taken).toBeUndefined();
  expect(tablet.unit.events.map(({ type }) => type)).not.toContain('caseTakenOut');
});

test('a case goes for good when it has ended, was taken out whole, and its days are over', async () => {
  const { session, caseId, tablet, idleFor } = await withCase();
  const why = () => {
    const [one] = stateOf(session).cases;
    return one && whyNotRemove(stateOf(session), one, session.now());
  };
  await session.go({ screen: 'start' });
  expect(why()).toBe('The case has not ended.');
  await listedAsEnded({ session }, session.now());
  expect(why()).toBe('It was not taken out as a file since its last entry.');
  await out(session, caseId);
  expect(why()).toBe('Cases stay 30 days after their end.');
  idleFor(30 * 24 * 60 - 1);
  expect(why()).toBe('Somebody of the unit gives a PIN first.'); // it has locked itself meanwhile
  const opened = session.confirm('Open');
  await give(session);
  await opened;
  await session.removeCase(caseId);
  expect(tablet.storage[0]?.has(caseId)).toBe(true);

  idleFor(1);
  const again = session.confirm('Open');
  await give(session);
  await again;
  await vi.waitFor(() => expect(stateOf(session).cases).toHaveLength(1));
  await listedAsEnded({ session }, '2026-01-05T13:20:00+00:00');
  expect(why()).toBeUndefined();
  const gone = session.removeCase(caseId);
  await give(session);
  await gone;
  for (const cases of tablet.storage) expect(cases.has(caseId)).toBe(false);
  expect([...tablet.unit.notes.keys()].filter((name) => name.includes(caseId))).toEqual([]);
  expect(stateOf(session).cases).toEqual([]);
  expect(tablet.unit.events.at(-1)).toMatchObject({ type: 'caseRemoved', caseId, by: ['Testa'] });
});

test('what a kill left of a removed case goes at the next start', async () => {
  const { session, caseId, tablet, vault } = await withCase();
  const rows = [...(tablet.storage[0]?.get(caseId) ?? [])];
  await vault.removed({ caseId, rows: 1, head: stateOf(session).head }, ['Testa']);
  tablet.storage[0]?.delete(caseId);
  expect(tablet.storage[1]?.get(caseId)).toEqual(rows);
  const again = await tablet.start();
  await again.session.go({ screen: 'start' });
  expect(tablet.storage[1]?.has(caseId)).toBe(false);
  expect(stateOf(again.session).cases).toEqual([]);
});

test('a removed case that is brought in again stays, and is sealed', async () => {
  const { session, caseId, tablet, vault } = await withCase();
  const text = (await out(session, caseId)) ?? '';
  await session.go({ screen: 'start' });
  await vault.removed({ caseId, rows: 1, head: 'ab' }, ['Testa']);
  await session.go({ screen: 'start' });
  expect(stateOf(session).cases).toEqual([]);
  const brought = session.importCase(text);
  await give(session);
  expect(await brought).toMatchObject({ ok: true });
  expect(tablet.storage[0]?.get(caseId)?.[0]).toMatch(/^sealed-1 /);
  const again = await tablet.start();
  await again.session.go({ screen: 'start' });
  expect(stateOf(again.session).cases).toHaveLength(1);
});

test('a tablet on which nobody is set up gives files and takes nothing away', async () => {
  const tablet = makeGuardedTablet();
  const { session } = await tablet.start();
  await session.begin(invented(sheet));
  const caseId = stateOf(session).current?.id ?? '';
  expect(await session.exportCase(caseId)).toContain('Testcase, Ash');
  await listedAsEnded({ session }, '2020-01-01T00:00:00+00:00');
  await session.removeCase(caseId);
  expect(tablet.storage[0]?.has(caseId)).toBe(true);
});
