import { describe, expect, test } from 'vitest';
import { readBook } from '#vault/book.ts';
import { openVault, type Vault } from '#vault/openVault.ts';
import { makeVaultWorld, prueba, testa, threePeople } from '../support/vaultPorts.ts';

const row = '{"patient":"Testcase, Ash"}';

async function cipherOf(vault: Vault, caseId = 'case-1') {
  const cipher = await vault.cases.cipherOf(caseId);
  if (typeof cipher === 'string') throw new Error(cipher);
  return cipher;
}

describe('The key of a case', () => {
  test('seals a row always to the same text, and opens it for this case alone', async () => {
    const { vault } = await threePeople();
    await vault.cases.begin('case-1');
    await vault.cases.begin('case-2');
    const one = await cipherOf(vault);
    const sealed = await one.seal(row);
    expect(await one.seal(row)).toBe(sealed);
    expect(await one.seal(`${row} `)).not.toBe(sealed);
    expect(atob(sealed)).not.toContain('Testcase');
    expect(await one.open(sealed)).toBe(row);
    expect(await (await cipherOf(vault, 'case-2')).open(sealed)).toBeUndefined();
    expect(await one.open(sealed.slice(0, -4))).toBeUndefined();
    expect(await one.open('')).toBeUndefined();
    expect(await one.open('*')).toBeUndefined();
  });

  test('never gives two rows the same start, which would lay them open', async () => {
    const { vault } = await threePeople();
    await vault.cases.begin('case-1');
    const cipher = await cipherOf(vault);
    const texts = Array.from({ length: 500 }, (_, n) => `${n}`);
    const starts = await Promise.all(
      texts.map(async (text) => (await cipher.seal(text)).slice(0, 16)),
    );
    expect(new Set(starts).size).toBe(texts.length);
  });

  test('lies open while the case goes on, so that a restart without a PIN goes on with it', async () => {
    const { world, vault } = await threePeople();
    await vault.cases.begin('case-1');
    const sealed = await (await cipherOf(vault)).seal(row);
    const again = await world.restart();
    expect(again.state().stage).toBe('locked');
    expect(again.cases.canOpen('case-1')).toBe(true);
    expect(await (await cipherOf(again)).open(sealed)).toBe(row);
  });

  test('is taken away when the case ends: then only a PIN opens it', async () => {
    const { world, vault } = await threePeople();
    await vault.cases.begin('case-1');
    const sealed = await (await cipherOf(vault)).seal(row);
    await vault.cases.end('case-1');
    expect(vault.cases.open()).toEqual([]);
    expect(await (await cipherOf(vault)).open(sealed)).toBe(row);
    vault.lock();
    expect(await vault.cases.cipherOf('case-1')).toBe('locked');

    const again = await world.restart();
    expect(again.cases.canOpen('case-1')).toBe(false);
    expect(await again.cases.cipherOf('case-1')).toBe('locked');
    await again.check({ person: 'person-2', pin: prueba.pin });
    expect(await (await cipherOf(again)).open(sealed)).toBe(row);
  });

  test('of a case that began without a PIN stays until somebody gives one', async () => {
    const { world, vault } = await threePeople();
    vault.lock();
    await vault.cases.begin('case-1');
    await vault.cases.end('case-1');
    expect(vault.cases.open()).toEqual(['case-1']); // nothing else opens it yet
    await vault.check({ person: 'person-1', pin: testa.pin });
    await vault.cases.end('case-1');
    expect(vault.cases.open()).toEqual([]);
    expect([...world.notes.keys()]).toContain('key-case-1');
  });

  test('is not on the tablet in a form that the storage alone opens, once the case has ended', async () => {
    const { world, vault } = await threePeople();
    await vault.cases.begin('case-1');
    const loose = world.notes.get('loose-case-1') ?? '';
    expect(loose).toMatch(/^[0-9a-f]{64}$/);
    await vault.cases.end('case-1');
    expect(JSON.stringify([world.events, [...world.notes]])).not.toContain(loose);
  });

  test('is gone with a case that was removed, and the book says so', async () => {
    const { world, vault } = await threePeople();
    await vault.cases.begin('case-1');
    await vault.cases.end('case-1');
    const mark = { caseId: 'case-1', rows: 12, head: 'ab'.repeat(32) };
    await vault.tookOut(mark, ['Testa']);
    await vault.removed(mark, ['Testa']);
    expect([...world.notes.keys()].filter((name) => name.includes('case-1'))).toEqual([]);
    expect(vault.state()).toMatchObject({
      takenOut: { 'case-1': { rows: 12, at: '2026-01-05T13:20:00+00:00' } },
      removed: ['case-1'],
    });
    expect(world.events.slice(-2)).toMatchObject([
      { type: 'caseTakenOut', by: ['Testa'] },
      { type: 'caseRemoved', by: ['Testa'] },
    ]);
  });
});

describe('A second window', () => {
  test('finds the key of a case that the first one began after it was opened', async () => {
    const { world, vault } = await threePeople();
    const seen = new Map(world.notes);
    const second = openVault({
      ...world.ports,
      notes: {
        ...world.ports.notes,
        get: (name) => seen.get(name),
        refresh: async () => {
          for (const [name, text] of world.notes) seen.set(name, text);
        },
      },
    });
    await second.start();
    await vault.cases.begin('case-1');
    const sealed = await (await cipherOf(vault)).seal(row);
    expect(await (await cipherOf(second)).open(sealed)).toBe(row);
    expect(await second.cases.cipherOf('case-2')).toBe('plain');
  });

  test('that was opened before anybody was set up seals what is begun in it later', async () => {
    const world = makeVaultWorld();
    const second = await world.restart();
    const first = await world.restart();
    await first.setUp(testa);
    expect(second.state().stage).toBe('none');
    expect(await second.receive('case-1')).toEqual({ ok: true });
    expect(second.state().stage).toBe('locked');
    expect(await second.cases.cipherOf('case-1')).not.toBe('plain');
  });
});

describe('The book of the tablet', () => {
  test('passes over what it does not know, and what is not whole', () => {
    const whole = { type: 'personLeft', person: 'nobody', by: [] };
    const odd = [null, 3, {}, { type: 'later' }, { type: 'personAdded' }, { type: 'policySet' }];
    expect(readBook([...odd, whole])).toEqual(readBook([]));
  });

  test('holds the policy, within what a theatre could mean', async () => {
    const { vault } = await threePeople();
    expect(vault.state().policy).toEqual({ idleMinutes: 10, keepDays: 30 });
    await vault.setPolicy({ idleMinutes: 5, keepDays: 7 }, ['Testa']);
    expect(vault.state().policy).toEqual({ idleMinutes: 5, keepDays: 7 });
    expect((await vault.setPolicy({ idleMinutes: 0, keepDays: 7 }, ['Testa'])).ok).toBe(false);
    expect(vault.state().policy.idleMinutes).toBe(5);
  });
});
