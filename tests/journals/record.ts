/**
 * `npm run journals`: records the journals of this version, once, before it is released. They are never edited:
 * every later version has to read them as this one did.
 *
 * Exit 1 where this version has its journals already.
 */
import 'fake-indexeddb/auto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { IDBFactory } from 'fake-indexeddb';
import type { CaseEvent } from '#engine/case/events.ts';
import { openDatabase, storeNames } from '#journal/database.ts';
import { fileStore } from '#journal/fileStore.ts';
import { openJournal } from '#journal/openJournal.ts';
import { joinHomes } from '#journal/openTabletJournal.ts';
import { keyCode, newSigningKey, signHead } from '#journal/signature.ts';
import { eventTypes } from '#session/parseEvents.ts';
import { makeCaseKeys } from '#vault/caseKeys.ts';
import { memoryDirectory } from '../support/memoryDirectory.ts';
import { memoryHome } from '../support/memoryHome.ts';
import { eventsOfDrills, rowsOf } from '../support/records.ts';
import { type Expected, hashesIn, journalsFolder, type Outcome, outcomeOf } from './kept.ts';

const { version } = JSON.parse(readFileSync('package.json', 'utf8'));

/** Drills that have every type of event among them; without one nothing is recorded. */
const drills = [
  ['braided-ties', 'f02-braided-ties.yaml', 0],
  ['broken-and-declared', 'commands.yaml', 0],
  ['waived', 'commands.yaml', 1],
  ['reopened', 'commands.yaml', 2],
  ['checkpoint-reopened', 'commands.yaml', 3],
  ['three-loops', 'f01-three-loops.yaml', 0],
  ['converted', 'f07-converted-in-a-hurry.yaml', 0],
  ['amended', 'f10-pack-of-six.yaml', 0],
  ['count-abandoned', 'failures/e107-gap-and-clock.yaml', 0],
  ['none-found', 'failures/e75-faecolith-dropped.yaml', 0],
  ['part-left', 'operations/laparoscopic-cholecystectomy.yaml', 3],
] as const;
const unsigned = ['amended'];
/** Kept as a tablet keeps them: the one in plain text, the other sealed. */
const [plain, sealed] = ['amended', 'converted'];

const typesOf = ({ events }: Recorded['rows'][number]) => events.map(({ type }) => type);

type Recorded = { readonly rows: ReturnType<typeof rowsOf>; readonly caseId: string };

function caseNamed(name: string, file: string, at: number): Recorded {
  const events = eventsOfDrills(file)[at] ?? [];
  const named = events.map(
    (event): CaseEvent => (event.type === 'opened' ? { ...event, caseId: name } : event),
  );
  return { caseId: name, rows: rowsOf(named) };
}

/** Writes a case as the session does, one row an entry. Answers the hash of the last. */
async function write(
  journal: ReturnType<typeof openJournal>,
  { caseId, rows }: Recorded,
): Promise<string> {
  let head = '';
  for (const { at, events } of rows) {
    const { id = '', by = '' } = events[0] ?? {};
    const draft = { id, at, by, epoch: 1, app: version, events };
    const kept = await journal.append(caseId, draft);
    if (!kept.ok) throw new Error(`${caseId}: ${kept.failure.sentence}`);
    head = kept.envelope.hash;
  }
  return head;
}

/** A tablet with two cases, as it lies on the disk. */
async function tablet(cases: readonly Recorded[]): Promise<string> {
  const factory = new IDBFactory();
  const directory = memoryDirectory();
  const database = openDatabase('lastlook', factory);
  const keys: { of?: ReturnType<typeof makeCaseKeys> } = {};
  const joined = await joinHomes(database, [fileStore(directory)], {
    persisted: async () => true,
    cipherOf: async (caseId) => (await keys.of?.cipherOf(caseId)) ?? 'plain',
  });
  if (!joined.ok) throw new Error(joined.failure.sentence);
  keys.of = makeCaseKeys(joined.notes, () => undefined);
  await keys.of.begin(sealed ?? '');
  for (const one of cases) await write(joined.journal, one);
  const stores: Record<string, unknown> = {};
  for (const store of Object.values(storeNames)) {
    stores[store] = await database.useStore(store)('readonly', async (all) => {
      const read = <T>(request: IDBRequest<T>) =>
        new Promise<T>((resolve) => {
          request.onsuccess = () => resolve(request.result);
        });
      const [found, values] = await Promise.all([read(all.getAllKeys()), read(all.getAll())]);
      return found.map((key, index) => [key, values[index]]);
    });
  }
  const files = [...directory.files].map(
    ([name, { onDisk }]) => [name, Buffer.from(onDisk).toString('base64')] as const,
  );
  return `${JSON.stringify({ database: stores, files: Object.fromEntries(files) }, null, 1)}\n`;
}

async function record(folder: string): Promise<void> {
  const key = await newSigningKey();
  const cases: Record<string, Outcome> = {};
  const recorded = drills.map(([name, file, at]) => caseNamed(name, file, at));
  const types = new Set<string>(recorded.flatMap(({ rows }) => rows.flatMap(typesOf)));
  const missing = eventTypes.filter((type) => !types.has(type));
  if (missing.length > 0) throw new Error(`No drill above has ${missing.join(', ')}: add one.`);
  mkdirSync(folder);
  for (const one of recorded) {
    const isSigned = !unsigned.includes(one.caseId);
    const sign = isSigned
      ? { sign: (head: Parameters<typeof signHead>[1]) => signHead(key, head) }
      : {};
    const journal = openJournal({ homes: [memoryHome('database'), memoryHome('file')], ...sign });
    cases[one.caseId] = outcomeOf(one.rows, await write(journal, one));
    const taken = await journal.exportCase(one.caseId);
    if (!taken.ok) throw new Error(taken.failure.sentence);
    writeFileSync(join(folder, `${one.caseId}.txt`), taken.text);
  }
  const kept = recorded.filter(({ caseId }) => caseId === plain || caseId === sealed);
  writeFileSync(join(folder, 'tablet.txt'), await tablet(kept));
  const { by } = await signHead(key, { caseId: 'none', rows: 0, head: '' });
  const expected: Expected = {
    ...{ version, recordedAt: new Date().toISOString().slice(0, 10) },
    ...{ files: hashesIn(folder), cases, signedBy: await keyCode(by) },
  };
  writeFileSync(join(folder, 'expected.txt'), `${JSON.stringify(expected, null, 1)}\n`);
}

const folder = join(journalsFolder, version);
if (existsSync(folder)) {
  console.error(`Version ${version} has its journals already. They are never written anew.`);
  process.exitCode = 1;
} else {
  await record(folder);
  console.log(`The journals of version ${version} are recorded.`);
}
