import { describe, expect, test } from 'vitest';
import { openJournal } from '#journal/openJournal.ts';
import { type CipherOf, sealedHomes } from '#journal/sealedHome.ts';
import { type CaseCipher, caseCipher } from '#vault/caseCipher.ts';
import { expectNothingLost, quick, recordEntries } from '../support/acknowledged.ts';
import { draft } from '../support/drafts.ts';
import { type MemoryHome, type Mishap, memoryHome } from '../support/memoryHome.ts';

/** One key for all cases of a test, and whether it can be had now. */
function keys() {
  let state: 'open' | 'locked' | 'plain' = 'open';
  const ciphers = new Map<string, Promise<CaseCipher>>();
  const cipherOf: CipherOf = async (caseId) => {
    if (state !== 'open') return state;
    const known = ciphers.get(caseId) ?? caseCipher(new Uint8Array(32).fill(7), caseId);
    ciphers.set(caseId, known);
    return known;
  };
  const set = (next: typeof state): void => {
    state = next;
  };
  return { cipherOf, set };
}

type Storage = readonly [Map<string, string[]>, Map<string, string[]>];
const emptyStorage = (): Storage => [new Map(), new Map()];

function opened(storage = emptyStorage(), mishapAt?: (call: number) => Mishap | undefined) {
  const key = keys();
  const bare: readonly [MemoryHome, MemoryHome] = [
    memoryHome('database', storage[0], mishapAt),
    memoryHome('file', storage[1], mishapAt),
  ];
  const homes = sealedHomes(bare, key.cipherOf);
  return { key, bare, storage, homes, journal: openJournal({ homes, patience: quick }) };
}

const secret = draft(1, { events: [{ type: 'opened', patient: 'Testcase, Ash' }] });

describe('A sealed case', () => {
  test('holds in neither home what its rows say, and the same bytes in both', async () => {
    const { journal, storage } = opened();
    await journal.append('case-1', secret);
    await journal.append('case-1', draft(2));
    const [one, other] = storage.map((cases) => cases.get('case-1'));
    expect(one).toHaveLength(2);
    expect(one).toEqual(other);
    for (const text of one ?? []) {
      expect(text).toMatch(/^sealed-1 [A-Za-z0-9+/]+=*$/);
      expect(atob(text.slice('sealed-1 '.length))).not.toMatch(/Testcase|opened|swab/);
    }
  });

  test('is read back as it was written, and chained as a plain one is', async () => {
    const sealed = opened();
    const plain = openJournal({ homes: [memoryHome('database')], patience: quick });
    const acknowledged = await recordEntries(sealed.journal, 5);
    expect(acknowledged).toEqual(await recordEntries(plain, 5)); // the same code on paper
    await expectNothingLost(sealed.homes, acknowledged);
  });

  test('loses nothing to a home that fails in any way at any call', async () => {
    for (const mishap of ['refuses', 'throws', 'forgets-to-say'] as const)
      for (let turn = 1; turn <= 12; turn += 1) {
        const { journal, storage } = opened(undefined, (call) =>
          call === turn ? mishap : undefined,
        );
        const acknowledged = await recordEntries(journal, 4);
        await expectNothingLost(opened(storage).homes, acknowledged);
      }
  });

  test('is mended from its other home, as the same bytes', async () => {
    const { journal, storage } = opened();
    const acknowledged = await recordEntries(journal, 4);
    const whole = [...(storage[0].get('case-1') ?? [])];
    storage[0].set('case-1', whole.slice(0, 2));
    const again = opened(storage);
    await expectNothingLost(again.homes, acknowledged);
    expect(storage[0].get('case-1')).toEqual(whole);
  });

  test('shows a row that was changed, cut, or brought from another case', async () => {
    const { journal, storage } = opened();
    await recordEntries(journal, 3);
    await recordEntries(journal, 3, 'case-2');
    const whole = storage[0].get('case-1') ?? [];
    const foreign = storage[0].get('case-2')?.[1] ?? '';
    const [, second = ''] = whole;
    const bent = second.slice(0, 30) + (second[30] === 'A' ? 'B' : 'A') + second.slice(31);
    for (const wrong of [bent, second.slice(0, -4), foreign, '', 'sealed-1 ']) {
      for (const cases of storage) cases.set('case-1', [whole[0] ?? '', wrong, whole[2] ?? '']);
      const read = await opened(storage).journal.readCase('case-1');
      expect(read).toMatchObject({ rows: [{ seq: 1 }] });
      expect(read.ok && read.reports.map(({ code }) => code)).toContain('rows-lost');
    }
  });

  test('that is locked is not read, not written and never mended', async () => {
    const { journal, storage, key } = opened();
    await recordEntries(journal, 2);
    const before = JSON.stringify(storage.map((cases) => [...cases]));
    for (const state of ['locked', 'plain'] as const) {
      const again = opened(storage);
      again.key.set(state);
      expect(await again.journal.readCase('case-1')).toMatchObject({
        failure: { code: 'cannot-read' },
      });
      expect(await again.journal.append('case-1', draft(3))).toMatchObject({ ok: false });
      expect(JSON.stringify(storage.map((cases) => [...cases]))).toBe(before);
    }
    key.set('locked');
    expect(await journal.append('case-1', draft(3))).toMatchObject({ ok: false });
    expect(JSON.stringify(storage.map((cases) => [...cases]))).toBe(before);
  });

  test('answers case-locked at its door, for reading, writing and mending', async () => {
    const { bare, homes, key, journal } = opened();
    await recordEntries(journal, 1);
    key.set('locked');
    const [home] = homes;
    const locked = { ok: false, failure: { code: 'case-locked' } };
    expect(await home?.readAll('case-1')).toMatchObject(locked);
    expect(await home?.append({ caseId: 'case-1', seq: 2, text: '{}' })).toMatchObject(locked);
    expect(await home?.reseed('case-1', ['{}'], 1)).toMatchObject(locked);
    expect(bare[0].cases.get('case-1')).toHaveLength(1);
  });
});

describe('A case of before', () => {
  test('that was kept plain is read and written on as it was', async () => {
    const storage = emptyStorage();
    const before = opened(storage);
    before.key.set('plain');
    await recordEntries(before.journal, 2);
    expect(storage[0].get('case-1')?.[0]).toMatch(/^\{/);
    const now = opened(storage);
    now.key.set('plain');
    const acknowledged = await recordEntries(now.journal, 3);
    expect(acknowledged).toHaveLength(3);
    expect(storage[1].get('case-1')).toHaveLength(3);
    expect(storage[1].get('case-1')?.[2]).toMatch(/^\{/);
  });
});

describe('Taken out and brought in', () => {
  test('a file is plain, is the same wherever it was kept, and is sealed where it comes in', async () => {
    const { journal } = opened();
    await journal.append('case-1', secret);
    const file = await journal.exportCase('case-1');
    if (!file.ok) throw new Error(file.failure.code);
    expect(file.text).toContain('Testcase, Ash');
    const there = opened();
    expect(await there.journal.importCase(file.text)).toMatchObject({ outcome: 'imported' });
    expect(there.storage[0].get('case-1')?.[0]).toMatch(/^sealed-1 /);
    expect(await there.journal.exportCase('case-1')).toEqual(file);
  });

  test('a key is made ready before the first row of a new case, and only for a new one', async () => {
    const { journal } = opened();
    await journal.append('case-1', secret);
    const file = await journal.exportCase('case-1');
    const text = file.ok ? file.text : '';
    const asked: string[] = [];
    const cases = new Map<string, string[]>();
    const there = openJournal({
      homes: [memoryHome('database', cases)],
      patience: quick,
      beforeNew: async (caseId) => {
        asked.push(`${caseId} with ${cases.get(caseId)?.length ?? 0} rows`);
        return { ok: true };
      },
    });
    await there.importCase(text);
    await there.importCase(text);
    expect(asked).toEqual(['case-1 with 0 rows']);
  });
});
