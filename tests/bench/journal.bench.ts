/**
 * What acknowledging an entry costs beside one raw strict put of the same bytes, and what trying out PINs costs:
 * `npm run bench:journal`. Both are measured in one page in Chromium, turn by turn, hashing, encryption and the second
 * journal included; then again with a pause before each, as between taps, after which files are closed.
 * It fails when the sealed entry costs more than twice the raw put in the middle of the runs without pauses; with
 * them the disk's own waking up is most of both, and varies by more than the difference.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from '@playwright/test';
import { createServer } from 'vite';
import { launchOptions } from '../browser/launch.ts';

const rounds = 400;
const pausedRounds = 60;
const ratioMax = 2;

type Kind = 'raw' | 'database' | 'file' | 'plain' | 'sealed' | 'pausedRaw' | 'pausedSealed';
type Measured = Readonly<Record<Kind, number[]>> & { readonly pin: number[] };

/** Runs in the page. Units: milliseconds. */
async function measure([turns, pausedTurns]: readonly number[] = []): Promise<Measured> {
  const load = (path: string) => import(/* @vite-ignore */ path);
  const { openTabletJournal } = await load('/journal/openTabletJournal.ts');
  const { caseCipher } = await load('/vault/caseCipher.ts');
  const { stretched, pinRounds } = await load('/vault/pinKey.ts');
  const { openDatabase } = await load('/journal/database.ts');
  const { databaseHome } = await load('/journal/databaseHome.ts');
  const { fileHome, startOpfsWorker } = await load('/journal/fileHome.ts');
  const { openJournal } = await load('/journal/openJournal.ts');
  const database = databaseHome(openDatabase('alone', indexedDB));
  const file = fileHome(startOpfsWorker);
  const key = crypto.getRandomValues(new Uint8Array(32));
  const cipher = await caseCipher(key, 'sealed');
  const opened = await openTabletJournal({
    cipherOf: async (caseId: string) => (caseId === 'sealed' ? cipher : 'plain'),
  });
  if (!opened.ok) throw new Error(opened.failure.sentence);
  const sealing = opened.journal;
  // Homes of its own: in life one case is written at a time.
  const plain = openJournal({
    homes: [databaseHome(openDatabase('plain', indexedDB)), fileHome(startOpfsWorker)],
  });
  const raw = await new Promise<IDBDatabase>((resolve, reject) => {
    const request = indexedDB.open('raw', 1);
    request.onupgradeneeded = () => void request.result.createObjectStore('rows');
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
  const put = (value: string, at: number) =>
    new Promise<void>((resolve, reject) => {
      const transaction = raw.transaction('rows', 'readwrite', { durability: 'strict' });
      transaction.objectStore('rows').add(value, at);
      transaction.oncomplete = () => resolve();
      transaction.onabort = () => reject(transaction.error);
    });
  const draft = (n: number) => ({
    id: `command-${n}`,
    at: '2026-01-05T13:20:00+00:00',
    by: 'Testcase, Ash',
    epoch: 1,
    app: 'bench',
    events: [
      { type: 'moved', line: 'swab', from: 'table', to: 'patient/abdomen', n: 1, entry: n },
      { postings: [{ line: 'swab', place: 'table', by: -1 }], id: `command-${n}` },
    ],
  });
  const timed = async (work: () => Promise<unknown>): Promise<number> => {
    const beganAt = performance.now();
    await work();
    return performance.now() - beganAt;
  };
  const add = async (caseId: 'plain' | 'sealed', n: number) => {
    const journal = caseId === 'plain' ? plain : sealing;
    const answer = await journal.append(caseId, draft(n));
    if (!answer.ok) throw new Error(answer.failure.sentence);
  };
  const bytes = JSON.stringify(draft(1000)).padEnd(620, '.'); // as long as the whole row
  const alone = async (home: typeof database, seq: number) => {
    const stored = await home.append({ caseId: 'alone', seq, text: bytes });
    if (!stored.ok) throw new Error(stored.failure.sentence);
  };
  const pause = () => new Promise((resolve) => setTimeout(resolve, 600));
  const found: Measured = {
    ...{ raw: [], database: [], file: [], plain: [], sealed: [], pin: [] },
    ...{ pausedRaw: [], pausedSealed: [] },
  };
  for (let n = 1; n <= (turns ?? 0); n += 1) {
    found.raw.push(await timed(() => put(bytes, n)));
    found.database.push(await timed(() => alone(database, n)));
    found.file.push(await timed(() => alone(file, n)));
    found.plain.push(await timed(() => add('plain', n)));
    found.sealed.push(await timed(() => add('sealed', n)));
  }
  for (let n = 1; n <= (pausedTurns ?? 0); n += 1) {
    await pause();
    found.pausedRaw.push(await timed(() => put(bytes, (turns ?? 0) + n)));
    await pause();
    found.pausedSealed.push(await timed(() => add('sealed', (turns ?? 0) + n)));
  }
  const salt = crypto.getRandomValues(new Uint8Array(16));
  for (let n = 0; n < 10; n += 1)
    found.pin.push(await timed(() => stretched(`47${10 + n}`, salt, pinRounds, 32)));
  return found;
}

const middle = (times: readonly number[], part = 0.5): number =>
  [...times].sort((one, other) => one - other)[Math.floor(times.length * part)] ?? 0;

/** A page that is apart from others has a clock of 5 microseconds; else it is 100. */
const apart = {
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-embedder-policy': 'require-corp',
};
const server = await createServer({
  configFile: 'vite.config.ts',
  logLevel: 'error',
  server: { port: 4274, strictPort: true, headers: apart },
  plugins: [
    {
      // A page of this origin on which the program itself does not run.
      name: 'empty-page',
      configureServer: ({ middlewares }) => {
        middlewares.use('/empty', (_, response) => {
          response.setHeader('content-type', 'text/html');
          for (const [name, value] of Object.entries(apart)) response.setHeader(name, value);
          response.end('<!doctype html><title>bench</title>');
        });
      },
    },
  ],
});
await server.listen();
// A profile on the disk: a window without one keeps all in memory, where nothing has to be waited for.
const profile = mkdtempSync(join(tmpdir(), 'lastlook-bench-'));
const browser = await chromium.launchPersistentContext(profile, launchOptions);
try {
  const page = await browser.newPage();
  await page.goto('http://127.0.0.1:4274/empty');
  const measured = await page.evaluate(measure, [rounds, pausedRounds]);
  const { raw, database, file, plain, sealed, pausedRaw, pausedSealed, pin } = measured;
  const say = (name: string, times: readonly number[], beside = raw) =>
    console.log(
      `${name.padEnd(34)} ${middle(times).toFixed(2)} ms, 95 % ${middle(times, 0.95).toFixed(2)} ms, ` +
        `${(middle(times) / middle(beside)).toFixed(2)} of the raw put`,
    );
  console.log(`${rounds} turns of each, one after the other:`);
  say('a raw strict put', raw);
  say('the database alone', database);
  say('the file alone', file);
  say('an entry, plain, in both homes', plain);
  say('an entry, sealed, in both homes', sealed);
  console.log(`${pausedRounds} turns of each, 0.6 s after the one before:`);
  say('a raw strict put', pausedRaw, pausedRaw);
  say('an entry, sealed, in both homes', pausedSealed, pausedRaw);
  const hours = (middle(pin) * 10_000) / 3_600_000;
  console.log(
    `one PIN ${middle(pin).toFixed(0)} ms; all 10,000 of four digits ${(hours * 60).toFixed(0)} minutes on one core`,
  );
  const ratio = middle(sealed) / middle(raw);
  if (ratio > ratioMax) {
    console.log(`A sealed entry costs ${ratio.toFixed(2)} raw puts, more than ${ratioMax}.`);
    process.exitCode = 1;
  }
} finally {
  await browser.close();
  await server.close();
  rmSync(profile, { recursive: true, force: true });
}
