import { expect, test } from 'vitest';
import { at } from '#engine/ledger.ts';
import { createSession, type Session } from '#session/createSession.ts';
import { sheetNamed } from '../support/drillSheets.ts';
import { scriptOf } from '../support/practised.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';

const stateOf = (session: Session) => session.store.getSnapshot().context;

async function prepared() {
  const world = makeWorld();
  const session = createSession(world.ports);
  await session.start();
  const { patient, team, variants, prepared: entries, sheet } = scriptOf(2);
  const opening = { sheet: sheetNamed(sheet), patient, team, variants, practice: true };
  const outcome = await session.begin(opening, entries);
  return { world, session, outcome, entries };
}

test('what comes before the person begins is recorded like any entry, and the frame is opened', async () => {
  const { session, outcome, entries, world } = await prepared();
  expect(outcome).toEqual({ ok: true });
  const { current, last, route } = stateOf(session);
  expect(last?.seq).toBe(entries.length + 1);
  expect(current && at(current.ledger, 'port-5-seal', 'patient/abdomen')).toBe(2);
  expect(current?.practice).toBe(true);
  expect(route).toMatchObject({ screen: 'case', view: { name: 'frame' } });
  expect(world.homes.map((home) => home.cases.get(current?.id ?? '')?.length)).toEqual([
    last?.seq,
    last?.seq,
  ]);
});

test('a practice case is taken away in every home; a case of a patient never is', async () => {
  const { session, world } = await prepared();
  const practice = stateOf(session).current?.id ?? '';
  await session.begin(invented(sheetNamed('ports-and-swabs')));
  const real = stateOf(session).current?.id ?? '';
  await session.go({ screen: 'start' });
  expect(
    stateOf(session)
      .cases.map((one) => one.caseId)
      .toSorted(),
  ).toEqual([practice, real].toSorted());

  await session.removePractice(real);
  await session.removePractice(practice);
  expect(stateOf(session).cases.map((one) => one.caseId)).toEqual([real]);
  for (const home of world.homes) expect([...home.cases.keys()]).toEqual([real]);
});
