import 'fake-indexeddb/auto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { IDBFactory } from 'fake-indexeddb';
import { describe, expect, test } from 'vitest';
import type { Envelope } from '#engine/history/envelope.ts';
import { openDatabase } from '#journal/database.ts';
import { parseExport } from '#journal/exportFile.ts';
import { fileStore } from '#journal/fileStore.ts';
import { openJournal } from '#journal/openJournal.ts';
import { joinHomes } from '#journal/openTabletJournal.ts';
import { parseEvents } from '#session/parseEvents.ts';
import { verifyFile } from '#session/verifyFile.ts';
import { makeCaseKeys } from '#vault/caseKeys.ts';
import { memoryDirectory } from '../support/memoryDirectory.ts';
import { memoryHome } from '../support/memoryHome.ts';
import { type Expected, hashesIn, journalsFolder, outcomeOf, type RawTablet } from './kept.ts';

const versions = readdirSync(journalsFolder).filter((name) => /^\d/.test(name));
const read = (version: string, name: string) =>
  readFileSync(join(journalsFolder, version, name), 'utf8');
const expectedOf = (version: string): Expected => JSON.parse(read(version, 'expected.txt'));

const eventsOf = (rows: readonly Envelope[]) =>
  rows.map(({ seq, events }) => {
    const known = parseEvents(events);
    if (!known) throw new Error(`Row ${seq} has an event that is not known any more`);
    return { events: known };
  });

test('every version from the first on has its journals, the present one too', () => {
  const { version } = JSON.parse(readFileSync('package.json', 'utf8'));
  expect(versions).toContain('0.1.0');
  expect(versions).toContain(version);
});

describe.each(versions)('The journals of version %s', (version) => {
  const expected = expectedOf(version);
  const names = Object.keys(expected.cases);

  test('were not edited since', () => {
    expect(expected.version).toBe(version);
    expect(hashesIn(join(journalsFolder, version))).toEqual(expected.files);
    expect(names.length).toBeGreaterThanOrEqual(10);
  });

  test.each(names)('as a file: %s is whole, and comes to what it came to then', async (name) => {
    const text = read(version, `${name}.txt`);
    const file = await parseExport(text);
    if (!file.ok) throw new Error(file.failure.sentence);
    const { rows } = file;
    expect(outcomeOf(eventsOf(rows), rows.at(-1)?.hash ?? '')).toEqual(expected.cases[name]);
    const { code, verdict } = expected.cases[name] ?? {};
    expect(await verifyFile(new TextEncoder().encode(text))).toMatchObject({
      state: 'whole',
      told: { code, verdict },
      signedBy: file.signed && expected.signedBy,
    });
  });

  test('as a file: some are signed, some are not, and all are brought in', async () => {
    const journal = openJournal({ homes: [memoryHome('database'), memoryHome('file')] });
    const signed: boolean[] = [];
    for (const name of names) {
      const text = read(version, `${name}.txt`);
      expect(await journal.importCase(text)).toMatchObject({ outcome: 'imported', caseId: name });
      signed.push(text.includes('"signed":'));
    }
    expect(new Set(signed)).toEqual(new Set([true, false]));
  });

  const tablet: RawTablet = JSON.parse(read(version, 'tablet.txt'));

  /** The tablet as it was left, perhaps without one of its homes. */
  async function opened({ database = tablet.database, files = tablet.files }: Partial<RawTablet>) {
    const factory = new IDBFactory();
    if (Object.keys(database).length > 0) await fill(factory, database);
    const there = Object.entries(files).map(([name, text]) => {
      const bytes = new Uint8Array(Buffer.from(text, 'base64'));
      return [name, { now: bytes, onDisk: bytes, isOpen: false }] as const;
    });
    const directory = memoryDirectory(undefined, new Map(there));
    const keys: { of?: ReturnType<typeof makeCaseKeys> } = {};
    const joined = await joinHomes(
      openDatabase('lastlook', factory),
      Object.keys(files).length > 0 ? [fileStore(directory)] : [],
      {
        persisted: async () => true,
        cipherOf: async (caseId) => (await keys.of?.cipherOf(caseId)) ?? 'plain',
      },
    );
    if (!joined.ok) throw new Error(joined.failure.sentence);
    keys.of = makeCaseKeys(joined.notes, () => undefined);
    return joined.journal;
  }

  test.each<[string, Partial<RawTablet>, readonly string[]]>([
    ['with both homes', {}, []],
    ['with the database alone', { files: {} }, []],
    ['with its files alone', { database: {} }, ['home-restored']],
  ])('as a tablet, %s: a plain and a sealed case are opened and go on', async (_, homes, said) => {
    const journal = await opened(homes);
    const listed = await journal.listCases();
    const caseIds = listed.ok ? listed.cases.map(({ caseId }) => caseId) : [];
    expect(caseIds).toHaveLength(2);
    for (const caseId of caseIds) {
      const found = await journal.readCase(caseId);
      if (!found.ok) throw new Error(found.failure.sentence);
      const { rows, reports } = found;
      expect(reports.map(({ code }) => code)).toEqual(said);
      expect(outcomeOf(eventsOf(rows), rows.at(-1)?.hash ?? '')).toEqual(expected.cases[caseId]);
      const draft = { id: 'later', at: '2026-12-01T08:00:00Z', by: 'Testa', app: 'later' };
      expect(await journal.append(caseId, { ...draft, epoch: 2, events: [] })).toMatchObject({
        ok: true,
        envelope: { seq: rows.length + 1, prev: rows.at(-1)?.hash },
      });
    }
  });

  test('as a tablet: what is sealed shows nothing of the patient', () => {
    const texts = (tablet.database.rows ?? []).map(([, text]) => String(text));
    const sealed = texts.filter((text) => text.startsWith('sealed-'));
    expect(sealed.length).toBeGreaterThan(20);
    expect(texts.length).toBeGreaterThan(sealed.length);
    expect(sealed.some((text) => text.includes('Testcase'))).toBe(false);
  });
});

/** A database as a version left it: its stores, and what is in them. */
function fill(factory: IDBFactory, stores: RawTablet['database']): Promise<void> {
  return new Promise((resolve) => {
    const request = factory.open('lastlook', 1);
    request.onupgradeneeded = () => {
      for (const [name, all] of Object.entries(stores)) {
        const store = request.result.createObjectStore(name);
        for (const [key, value] of all) store.put(value, key);
      }
    };
    request.onsuccess = () => {
      request.result.close();
      resolve();
    };
  });
}
