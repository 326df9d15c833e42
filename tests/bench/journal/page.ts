/** Runs in the page of `npm run bench:journal`: one entry of the journal beside one raw put of the same bytes. */
import type { Draft } from '#journal/chain.ts';
import { openTabletJournal } from '#journal/openTabletJournal.ts';
import { caseCipher } from '#vault/caseCipher.ts';

const caseId = 'bench-1';

/** An entry as a tap makes it. The people are invented. */
const draft = (n: number): Draft => {
  const at = '2026-01-05T08:00:00.000+00:00';
  const head = { entry: n, at, by: 'theatre tablet', id: `bench-${n}` };
  const move = { line: 'swab', from: 'table', to: 'patient/abdomen', n: 1 };
  const postings = [
    { line: 'swab', place: 'table', by: -1 },
    { line: 'swab', place: 'patient/abdomen', by: 1 },
  ];
  const events = [{ type: 'moved', ...head, ...move, postings }];
  return { id: head.id, at, by: head.by, epoch: 1, app: 'bench', events };
};

function openRaw(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open('raw', 1);
    request.onupgradeneeded = () => request.result.createObjectStore('rows');
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

const putRaw = (raw: IDBDatabase, key: number, text: string): Promise<void> =>
  new Promise((resolve, reject) => {
    const transaction = raw.transaction('rows', 'readwrite', { durability: 'strict' });
    transaction.objectStore('rows').put(text, key);
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error);
  });

async function timed(work: () => Promise<unknown>): Promise<number> {
  const begun = performance.now();
  await work();
  return performance.now() - begun;
}

/** Units: milliseconds, one number an entry, in order. `bytes` is what a row has, sealed. */
async function measure(entries: number, isSealed: boolean) {
  const cipher = await caseCipher(crypto.getRandomValues(new Uint8Array(32)), caseId);
  const opened = await openTabletJournal(isSealed ? { cipherOf: async () => cipher } : {});
  if (!opened.ok) throw new Error(opened.failure.code);
  const { journal } = opened;
  const raw = await openRaw();
  const ours: number[] = [];
  const theirs: number[] = [];
  let bytes = 0;
  for (let n = 1; n <= entries; n += 1) {
    const text = `sealed-1 ${await cipher.seal(JSON.stringify({ ...draft(n), prev: 'x'.repeat(64), hash: 'x'.repeat(64) }))}`;
    bytes = text.length;
    const put = async () => void theirs.push(await timed(() => putRaw(raw, n, text)));
    const append = async () => {
      ours.push(
        await timed(async () => {
          const answer = await journal.append(caseId, draft(n));
          if (!answer.ok) throw new Error(answer.failure.code);
        }),
      );
    };
    // By turns first, so that neither always comes after the other's work.
    for (const one of n % 2 === 0 ? [put, append] : [append, put]) await one();
  }
  const { homes } = await journal.health();
  return { ours, theirs, bytes, homes };
}

Object.assign(window, { measure });
