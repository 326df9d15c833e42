import { describe, expect, test } from 'vitest';
import { openVault } from '#vault/openVault.ts';
import { pinRounds } from '#vault/pinKey.ts';
import { refusals } from '#vault/refusals.ts';
import { waitAfterMs } from '#vault/waits.ts';
import { isWeakPin } from '#vault/weakPin.ts';
import { ensayo, makeVaultWorld, prueba, testa, threePeople } from '../support/vaultPorts.ts';

const codeOf = (answer: { readonly ok: boolean; readonly failure?: { readonly code: string } }) =>
  answer.ok ? 'ok' : answer.failure?.code;

describe('People of the unit', () => {
  test('are set up by name and role; the first brings the keys and the code for paper', async () => {
    const { vault, code } = await threePeople();
    expect(code).toMatch(/^([0-9A-Z]{5}-){5}[0-9A-Z]$/);
    expect(vault.state()).toMatchObject({
      stage: 'open',
      people: [
        { id: 'person-1', name: 'Testa', roles: ['scrub'], digits: 4 },
        { id: 'person-2', name: 'Prueba', roles: ['circulator'], digits: 4 },
        { id: 'person-3', name: 'Ensayo', roles: ['surgeon'], digits: 5 },
      ],
    });
  });

  test('are there after a restart, and the tablet is locked then', async () => {
    const { world } = await threePeople();
    const again = await world.restart();
    expect(again.state()).toMatchObject({ stage: 'locked', people: [{}, {}, {}] });
    expect(codeOf(await again.add({ ...testa, name: 'Nuovo' }, []))).toBe('locked');
    expect(codeOf(await again.check({ person: 'person-3', pin: ensayo.pin }))).toBe('ok');
    expect(again.state().stage).toBe('open');
    again.lock();
    expect(again.state().stage).toBe('locked');
  });

  test('have a badge that says who they are, each their own, also after a restart', async () => {
    const { world, vault } = await threePeople();
    const number = '123456789012345675';
    expect(codeOf(await vault.setBadge('person-1', number, ['Testa']))).toBe('ok');
    expect(codeOf(await vault.setBadge('person-2', number, ['Testa']))).toBe('badge-taken');
    expect(codeOf(await vault.setBadge('person-2', '12', ['Testa']))).toBe('badge-form');
    expect(codeOf(await vault.setBadge('person-9', number, ['Testa']))).toBe('person-unknown');
    expect(codeOf(await vault.setBadge('person-1', 'st-0042', ['Testa']))).toBe('ok');
    const again = await world.restart();
    expect(again.state().people.map(({ badge }) => badge)).toEqual([
      'st-0042',
      undefined,
      undefined,
    ]);
    expect(codeOf(await again.setBadge('person-1', number, []))).toBe('locked');
  });

  test('a badge opens nothing: the PIN is asked all the same', async () => {
    const { world, vault } = await threePeople();
    await vault.setBadge('person-1', 'st-0042', ['Testa']);
    const again = await world.restart();
    expect(codeOf(await again.check({ person: 'person-1', pin: 'st-0042' }))).toBe('pin-wrong');
    expect(again.state().stage).toBe('locked');
  });

  test('leave, and their PIN opens nothing more', async () => {
    const { vault } = await threePeople();
    expect(codeOf(await vault.leave('person-2', ['Testa']))).toBe('ok');
    expect(vault.state().people.map(({ name }) => name)).toEqual(['Testa', 'Ensayo']);
    expect(codeOf(await vault.check({ person: 'person-2', pin: prueba.pin }))).toBe(
      'person-unknown',
    );
  });

  test('without any, nothing is asked and nothing is encrypted', async () => {
    const vault = openVault(makeVaultWorld().ports);
    expect(codeOf(await vault.start())).toBe('ok');
    expect(vault.state()).toMatchObject({ stage: 'none', people: [] });
    expect(await vault.cases.cipherOf('case-1')).toBe('plain');
  });

  test.each([
    ['name-missing', { ...testa, name: ' ' }],
    ['role-missing', { ...testa, name: 'Nuovo', roles: [] }],
    ['name-taken', { ...testa, name: ' testa' }],
    ['pin-form', { ...testa, name: 'Nuovo', pin: '123' }],
    ['pin-form', { ...testa, name: 'Nuovo', pin: '12 4' }],
    ['pin-weak', { ...testa, name: 'Nuovo', pin: '1234' }],
  ])('are refused with %s', async (code, person) => {
    const { vault, world } = await threePeople();
    const before = world.events.length;
    expect(codeOf(await vault.add(person, ['Testa']))).toBe(code);
    expect(world.events).toHaveLength(before);
  });

  test('are set up once: a second first person is refused', async () => {
    const { vault } = await threePeople();
    expect(codeOf(await vault.setUp({ ...testa, name: 'Nuovo' }))).toBe('set-up-already');
  });

  test('are not there when they could not be written', async () => {
    const world = makeVaultWorld();
    const vault = await world.restart();
    world.broken = 'The disk is full.';
    const answer = await vault.setUp(testa);
    expect(answer).toMatchObject({ failure: { code: 'not-kept' } });
    expect(answer.ok ? '' : answer.failure.sentence).toContain('The disk is full.');
    expect(vault.state().stage).toBe('none');
  });
});

describe('A PIN', () => {
  test('is kept nowhere, nor anything that it could be compared with', async () => {
    const { world } = await threePeople();
    const kept = JSON.stringify([world.events, [...world.notes]]);
    // By itself, not as four of the digits of a salt, in which chance puts every number now and then.
    for (const { pin } of [testa, prueba, ensayo])
      expect(kept).not.toMatch(new RegExp(`(?<![0-9a-f])${pin}(?![0-9a-f])`));
    const locks = world.events.flatMap((event) =>
      event.type === 'personAdded' ? [event.lock] : [],
    );
    expect(locks.map((lock) => Object.keys(lock).sort())).toEqual(
      locks.map(() => ['digits', 'rounds', 'salt', 'sealed']),
    );
    expect(new Set(locks.map(({ salt }) => salt)).size).toBe(3);
  });

  test('costs the full number of rounds unless a test says otherwise', async () => {
    const world = makeVaultWorld();
    const { rounds: _, ...ports } = world.ports;
    const vault = openVault(ports);
    await vault.start();
    await vault.setUp(testa);
    expect(world.events).toContainEqual(
      expect.objectContaining({ lock: expect.objectContaining({ rounds: pinRounds }) }),
    );
  });

  test('that is wrong opens nothing, and slows down more and more', async () => {
    const { world, vault } = await threePeople();
    vault.lock();
    const wrong = () => vault.check({ person: 'person-1', pin: '0000' });
    expect(codeOf(await wrong())).toBe('pin-wrong');
    expect(codeOf(await wrong())).toBe('pin-wrong');
    expect(await wrong()).toMatchObject({ failure: { code: 'pin-wrong', waitMs: 10_000 } });
    expect(vault.state().stage).toBe('locked');
    expect(await vault.check({ person: 'person-1', pin: testa.pin })).toMatchObject({
      failure: { code: 'pin-wait', waitMs: 10_000 },
    });
    world.wait(9_999);
    expect(codeOf(await vault.check({ person: 'person-1', pin: testa.pin }))).toBe('pin-wait');
    world.wait(1);
    expect(codeOf(await wrong())).toBe('pin-wrong');
    world.wait(29_999);
    expect(codeOf(await wrong())).toBe('pin-wait');
    world.wait(1);
    expect(codeOf(await vault.check({ person: 'person-1', pin: testa.pin }))).toBe('ok');
    expect(codeOf(await wrong())).toBe('pin-wrong'); // the count begins anew
  });

  test('slows down across a restart: the wait then begins from its start', async () => {
    const { world, vault } = await threePeople();
    for (let n = 0; n < 3; n += 1) await vault.check({ person: 'person-1', pin: '0000' });
    world.wait(9_000);
    const again = await world.restart();
    expect(await again.check({ person: 'person-1', pin: testa.pin })).toMatchObject({
      failure: { code: 'pin-wait', waitMs: 10_000 },
    });
    expect(codeOf(await again.check({ person: 'person-2', pin: prueba.pin }))).toBe('ok');
  });

  test('is counted before it is looked at, so that a kill in between wins nothing', async () => {
    const { world, vault } = await threePeople();
    const trying = vault.check({ person: 'person-1', pin: '0000' });
    await Promise.resolve();
    expect(world.notes.get('tries')).toBe('{"person-1":1}');
    await trying;
  });

  test('never waits less after one more wrong one, and more than an hour never', () => {
    const waits = Array.from({ length: 40 }, (_, wrongOnes) => waitAfterMs(wrongOnes));
    expect(waits).toEqual([...waits].sort((one, other) => one - other));
    expect(waits.at(-1)).toBe(3_600_000);
    // All 10,000 PINs of four digits, one after another.
    const years = (10_000 * 3_600_000) / (365.25 * 24 * 3_600_000);
    expect(years).toBeGreaterThan(1);
  });

  test.each(['0000', '1234', '9876', '1212', '2580', '1987', '2026', '454545', '12341234'])(
    'such as %s is refused',
    (pin) => expect(isWeakPin(pin)).toBe(true),
  );

  test.each(['4711', '8305', '92614', '1357', '3141', '18734602'])('such as %s is taken', (pin) =>
    expect(isWeakPin(pin)).toBe(false),
  );

  test('is changed by its own person', async () => {
    const { vault } = await threePeople();
    const say = { person: 'person-1', pin: testa.pin };
    expect(codeOf(await vault.changePin({ ...say, pin: '0000' }, '6194'))).toBe('pin-wrong');
    expect(codeOf(await vault.changePin(say, '1111'))).toBe('pin-weak');
    expect(codeOf(await vault.changePin(say, '6194'))).toBe('ok');
    expect(codeOf(await vault.check(say))).toBe('pin-wrong');
    expect(codeOf(await vault.check({ ...say, pin: '6194' }))).toBe('ok');
  });

  test('that is lost is reset by two others, and by nobody less', async () => {
    const { world, vault } = await threePeople();
    const second = { person: 'person-2', pin: prueba.pin };
    const third = { person: 'person-3', pin: ensayo.pin };
    vault.lock();
    const reset = (others: readonly { person: string; pin: string }[]) =>
      vault.resetPin('person-1', '6194', others);
    expect(codeOf(await reset([second]))).toBe('not-two-others');
    expect(codeOf(await reset([second, second]))).toBe('not-two-others');
    expect(codeOf(await reset([second, { person: 'person-1', pin: testa.pin }]))).toBe(
      'not-two-others',
    );
    expect(codeOf(await reset([second, { ...third, pin: '0000' }]))).toBe('pin-wrong');
    expect(codeOf(await vault.check({ person: 'person-1', pin: testa.pin }))).toBe('ok');
    expect(codeOf(await reset([second, third]))).toBe('ok');
    expect(codeOf(await vault.check({ person: 'person-1', pin: '6194' }))).toBe('ok');
    expect(world.events.at(-1)).toMatchObject({ type: 'pinSet', by: ['Prueba', 'Ensayo'] });
  });
});

describe('The code on paper', () => {
  test('opens the tablet and gives a new PIN to anybody; a PIN alone does not', async () => {
    const { vault, code } = await threePeople();
    expect(codeOf(await vault.setPinByCode('person-1', '6194'))).toBe('locked');
    vault.lock();
    expect(codeOf(await vault.openByCode('00000-00000-00000-00000-00000-0'))).toBe('code-wrong');
    expect(codeOf(await vault.openByCode('no code'))).toBe('code-wrong');
    expect(codeOf(await vault.openByCode(` ${code.toLowerCase()} `))).toBe('ok');
    expect(codeOf(await vault.setPinByCode('person-1', '6194'))).toBe('ok');
    vault.lock();
    expect(codeOf(await vault.check({ person: 'person-1', pin: '6194' }))).toBe('ok');
    expect(codeOf(await vault.setPinByCode('person-2', '6194'))).toBe('locked');
  });

  test('brings the tablet back when the browser has thrown its own key away', async () => {
    const { world, vault, code } = await threePeople();
    await vault.cases.begin('case-1');
    await vault.cases.end('case-1');
    const sealed = await sealedBy(vault, 'row');
    world.deviceKey = undefined;
    const again = await world.restart();
    expect(again.state().stage).toBe('lost');
    expect(codeOf(await again.check({ person: 'person-1', pin: testa.pin }))).toBe('key-lost');
    expect(codeOf(await again.openByCode(code))).toBe('ok');
    expect(again.state().people.map(({ digits }) => digits)).toEqual([0, 0, 0]);
    expect(await openedBy(again, sealed)).toBe('row');
    expect(codeOf(await again.setPinByCode('person-1', '6194'))).toBe('ok');
    expect(codeOf(await again.check({ person: 'person-1', pin: '6194' }))).toBe('ok');
  });

  test('of before is worth nothing once there is a new one', async () => {
    const { vault, code } = await threePeople();
    const made = await vault.newCode(['Testa']);
    vault.lock();
    expect(codeOf(await vault.openByCode(code))).toBe('code-wrong');
    expect(codeOf(await vault.openByCode(made.ok ? made.code : ''))).toBe('ok');
  });
});

type Opened = Awaited<ReturnType<typeof threePeople>>['vault'];

async function cipher(vault: Opened) {
  const found = await vault.cases.cipherOf('case-1');
  if (typeof found === 'string') throw new Error(found);
  return found;
}
const sealedBy = async (vault: Opened, text: string) => (await cipher(vault)).seal(text);
const openedBy = async (vault: Opened, sealed: string) => (await cipher(vault)).open(sealed);

test('every refusal of the vault is met in these tests', async () => {
  const { readFileSync } = await import('node:fs');
  const text = readFileSync(new URL(import.meta.url), 'utf8');
  expect(Object.keys(refusals).filter((code) => !text.includes(code))).toEqual([]);
});
