import { describe, expect, test, vi } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import type { Session } from '#session/createSession.ts';
import { isVeiled } from '#session/guard.ts';
import { sheetNamed } from '../support/drillSheets.ts';
import { type GuardedTablet, makeGuardedTablet } from '../support/guardedWorld.ts';
import { invented } from '../support/sessionPorts.ts';
import { ensayo, prueba, testa } from '../support/vaultPorts.ts';

const sheet = sheetNamed('ports-and-swabs');
const pins: Readonly<Record<string, string>> = {
  Testa: testa.pin,
  Prueba: prueba.pin,
  Ensayo: ensayo.pin,
};

const stateOf = (session: Session) => session.store.getSnapshot().context;
const askingOf = (session: Session) =>
  vi.waitFor(() => {
    const { asking } = stateOf(session);
    if (!asking) throw new Error('Nobody is asked.');
    return asking;
  });

/** Three people set up, and the program started once more: locked. */
async function lockedTablet(): Promise<GuardedTablet> {
  const tablet = makeGuardedTablet();
  const { vault } = await tablet.start();
  await vault.setUp(testa);
  await vault.add(prueba, ['Testa']);
  await vault.add(ensayo, ['Testa']);
  return tablet;
}

/** Gives the PIN of somebody, as the sheet over the screen does. */
async function give(session: Session, name: string, pin = pins[name] ?? ''): Promise<void> {
  await askingOf(session);
  const person = stateOf(session).unit.people.find((one) => one.name === name);
  await session.give(person?.id ?? '', pin);
}

async function beginCase(session: Session, practice = false) {
  const begun = session.begin({ ...invented(sheet), practice });
  if (!practice) await give(session, 'Prueba');
  expect(await begun).toEqual({ ok: true });
}

const entered: readonly Command[] = [
  { type: 'beginCount', moment: 'first' },
  ...sheet.lines
    .filter((line) => line.opening > 0 && line.counted)
    .map((line): Command => ({ type: 'enter', line: line.id, field: line.opening })),
];

/** A first count up to its last line. */
async function countUp(session: Session): Promise<void> {
  for (const command of entered) expect(await session.send(command)).toEqual({ ok: true });
}

const namesIn = (tablet: GuardedTablet): string =>
  tablet.storage.flatMap((cases) => [...cases.values()].flat()).join('\n');

describe('Where nobody is set up', () => {
  test('nobody is asked, and rows are plain', async () => {
    const tablet = makeGuardedTablet();
    const { session } = await tablet.start();
    expect(await session.begin(invented(sheet))).toEqual({ ok: true });
    await countUp(session);
    expect(await session.send({ type: 'agree' })).toEqual({ ok: true });
    expect(stateOf(session)).toMatchObject({ unit: { stage: 'none' }, asking: undefined });
    expect(stateOf(session).last?.events[0]).not.toHaveProperty('signed');
    expect(namesIn(tablet)).toContain('Testcase, Ash');
  });

  test('a case of that time goes on after people were set up, as it was', async () => {
    const tablet = makeGuardedTablet();
    const { session, vault } = await tablet.start();
    await session.begin(invented(sheet));
    await vault.setUp(testa);
    const again = await tablet.start();
    expect(stateOf(again.session).current?.patient.name).toBe('Testcase, Ash');
    expect(await again.session.send({ type: 'note', text: 'Goes on.' })).toEqual({ ok: true });
  });
});

describe('What matters is confirmed by PIN', () => {
  test('both agree a count, each with the own PIN, and it stands on the entry', async () => {
    const { session } = await (await lockedTablet()).start();
    await beginCase(session);
    await countUp(session);
    const agreed = session.send({ type: 'agree' });
    expect(await askingOf(session)).toMatchObject({
      words: 'Agree the count',
      names: ['Testa', 'Prueba'],
    });
    await give(session, 'Testa');
    expect(stateOf(session).asking?.done).toEqual([{ name: 'Testa', how: 'pin' }]);
    await give(session, 'Prueba');
    expect(await agreed).toEqual({ ok: true });
    expect(stateOf(session).asking).toBeUndefined();
    expect(stateOf(session).last?.events[0]).toMatchObject({
      type: 'countAgreed',
      signed: [
        { name: 'Testa', how: 'pin' },
        { name: 'Prueba', how: 'pin' },
      ],
    });
  });

  test('a wrong PIN enters nothing and says so; leaving the question enters nothing', async () => {
    const { session } = await (await lockedTablet()).start();
    await beginCase(session);
    await countUp(session);
    const before = stateOf(session).last?.seq;
    const agreed = session.send({ type: 'agree' });
    await give(session, 'Testa', '9999');
    expect(stateOf(session).asking).toMatchObject({
      done: [],
      failure: 'That is not the PIN of Testa.',
    });
    session.leave();
    expect(await agreed).toMatchObject({ failure: { code: 'not-signed' } });
    expect(stateOf(session).last?.seq).toBe(before);
  });

  test('without a PIN it goes on, and the entry says so', async () => {
    const { session } = await (await lockedTablet()).start();
    await beginCase(session);
    await countUp(session);
    const agreed = session.send({ type: 'agree' });
    await askingOf(session);
    session.without('Testa', 'PIN forgotten');
    await give(session, 'Prueba');
    expect(await agreed).toEqual({ ok: true });
    expect(stateOf(session).last?.events[0]?.signed).toEqual([
      { name: 'Testa', how: 'without', reason: 'PIN forgotten' },
      { name: 'Prueba', how: 'pin' },
    ]);
  });

  test('what the rules refuse is refused at once, and nobody is asked', async () => {
    const { session } = await (await lockedTablet()).start();
    await beginCase(session);
    const outcome = await session.send({ type: 'close', closure: sheet.closures[0]?.id ?? '' });
    expect(outcome).toMatchObject({ refusal: { code: expect.any(String) } });
    expect(stateOf(session).asking).toBeUndefined();
  });

  test('a tap that moves a piece asks nobody, also on a locked tablet', async () => {
    const { session } = await (await lockedTablet()).start();
    await beginCase(session);
    session.lock();
    await countUp(session);
    expect(stateOf(session).unit.stage).toBe('locked');
    expect(stateOf(session).asking).toBeUndefined();
  });

  test('a practice case asks nobody, is never sealed, and says practice in its name', async () => {
    const tablet = await lockedTablet();
    const { session } = await tablet.start();
    await beginCase(session, true);
    expect(stateOf(session).current?.id).toMatch(/^practice-/);
    await countUp(session);
    expect(await session.send({ type: 'agree' })).toEqual({ ok: true });
    expect(isVeiled(stateOf(session))).toBe(false);
    expect(namesIn(tablet)).toContain('"practice":true');
  });
});

describe('Sealed on the tablet', () => {
  test('a case holds in neither home what it is about, and goes on after a kill without a PIN', async () => {
    const tablet = await lockedTablet();
    const { session } = await tablet.start();
    await beginCase(session);
    await countUp(session);
    expect(namesIn(tablet)).not.toMatch(/Testcase|TR-100|1970-01-31|swab/);
    const { current } = stateOf(session);

    const again = await tablet.start();
    expect(stateOf(again.session)).toMatchObject({ unit: { stage: 'locked' }, damaged: undefined });
    expect(stateOf(again.session).current).toEqual(current);
    expect(isVeiled(stateOf(again.session))).toBe(true);
    expect(await again.session.send({ type: 'note', text: 'Goes on.' })).toEqual({ ok: true });
  });

  test('a case without its PIN is begun all the same, and wrapped at the next one', async () => {
    const tablet = await lockedTablet();
    const { session } = await tablet.start();
    const begun = session.begin(invented(sheet));
    await askingOf(session);
    session.without('', 'PIN forgotten');
    expect(await begun).toEqual({ ok: true });
    expect(namesIn(tablet)).not.toContain('Testcase');
    expect([...tablet.unit.notes.keys()]).toEqual([`loose-${stateOf(session).current?.id}`]);
    await countUp(session);
    const agreed = session.send({ type: 'agree' });
    await give(session, 'Testa');
    await give(session, 'Prueba');
    await agreed;
    expect([...tablet.unit.notes.keys()]).toContain(`key-${stateOf(session).current?.id}`);
  });

  test('a case left for more than a day is opened by a PIN alone', async () => {
    const tablet = await lockedTablet();
    const first = await tablet.start();
    await beginCase(first.session);
    first.idleFor(25 * 60);
    const again = await tablet.start(); // at the case, where the screen was
    expect(stateOf(again.session).cases).toMatchObject([{ isLocked: true, patient: 'Locked' }]);
    const { caseId } = stateOf(again.session).cases[0] ?? { caseId: '' };
    await again.session.go({ screen: 'case', caseId, view: { name: 'frame' } });
    expect(stateOf(again.session)).toMatchObject({
      current: undefined,
      route: { screen: 'start' },
    });
    await again.vault.check({ person: 'person-1', pin: testa.pin });
    await vi.waitFor(() =>
      expect(stateOf(again.session).cases).toMatchObject([{ patient: 'Testcase, Ash' }]),
    );
  });
});

describe('The lock', () => {
  test('comes after idle time, and a touch puts it off', async () => {
    const { session, idleFor, touch } = await (await lockedTablet()).start();
    await beginCase(session);
    touch();
    idleFor(9);
    expect(stateOf(session).unit.stage).toBe('open');
    touch();
    idleFor(9);
    expect(stateOf(session).unit.stage).toBe('open');
    idleFor(1);
    expect(stateOf(session).unit.stage).toBe('locked');
  });

  test('in mid-case leaves the case where it is', async () => {
    const { session } = await (await lockedTablet()).start();
    await beginCase(session);
    const { current, route } = stateOf(session);
    session.lock();
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect(stateOf(session)).toMatchObject({ route, unit: { stage: 'locked' } });
    expect(stateOf(session).current).toBe(current);
    expect(isVeiled(stateOf(session))).toBe(true);
  });

  test('takes what was decrypted for the first screen with it', async () => {
    const tablet = await lockedTablet();
    const first = await tablet.start();
    await beginCase(first.session);
    await first.vault.cases.end(stateOf(first.session).current?.id ?? '');
    await first.session.go({ screen: 'start' });
    expect(stateOf(first.session).cases).toMatchObject([{ patient: 'Testcase, Ash' }]);
    first.session.lock();
    await vi.waitFor(() =>
      expect(stateOf(first.session).cases).toMatchObject([{ patient: 'Locked' }]),
    );
  });

  test('forgets what was read with the key of the unit', async () => {
    const { session, journal } = await (await lockedTablet()).start();
    await beginCase(session);
    await session.go({ screen: 'start' });
    const forget = vi.spyOn(journal, 'forget');
    session.lock();
    expect(forget).toHaveBeenCalledOnce();
  });

  test('closes a case on the screen that only a PIN opens', async () => {
    const tablet = await lockedTablet();
    const { session, vault } = await tablet.start();
    await beginCase(session);
    await vault.cases.end(stateOf(session).current?.id ?? '');
    session.lock();
    await vi.waitFor(() =>
      expect(stateOf(session)).toMatchObject({ current: undefined, route: { screen: 'start' } }),
    );
  });
});
