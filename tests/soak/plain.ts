/** IndexedDB alone, as a page would use it without a second journal: for comparison with ours. */
import { chromium } from '@playwright/test';
import { launchOptions } from '../browser/launch.ts';

type Durability = 'strict' | 'relaxed';
export type PlainRead = { readonly rows: number; readonly dataLoss: string };

/** Any page of the origin will do: nothing of the program runs in it. */
const page = '/icon.svg';

async function withBrowser<T>(
  profile: string,
  origin: string,
  program: string,
  work: (evaluate: (words: string) => Promise<unknown>, kill: () => Promise<void>) => Promise<T>,
): Promise<T> {
  const context = await chromium.launchPersistentContext(profile, {
    ...launchOptions,
    executablePath: program,
  });
  const opened = context.pages()[0] ?? (await context.newPage());
  await opened.goto(origin + page);
  const session = await context.browser()?.newBrowserCDPSession();
  const processes = await session?.send('SystemInfo.getProcessInfo');
  const own = processes?.processInfo.find(({ type }) => type === 'browser')?.id ?? 0;
  const kill = async (): Promise<void> => {
    const gone = new Promise<void>((resolve) => context.once('close', () => resolve()));
    process.kill(own, 'SIGKILL');
    await gone;
  };
  return work((words) => opened.evaluate(words), kill);
}

const open = `const open = () => new Promise((resolve, reject) => {
  let dataLoss = 'none';
  const request = indexedDB.open('plain', 1);
  request.onupgradeneeded = (event) => { dataLoss = event.dataLoss; request.result.createObjectStore('rows'); };
  request.onsuccess = () => resolve({ database: request.result, dataLoss });
  request.onerror = () => reject(request.error);
});`;

/** Writes rows one after another, each acknowledged before the next, and is killed. Answers how many were. */
export function writePlain(
  profile: string,
  origin: string,
  how: { readonly rows: number; readonly durability: Durability; readonly program?: string },
): Promise<number> {
  const program = how.program ?? launchOptions.executablePath;
  return withBrowser(profile, origin, program, async (evaluate, kill) => {
    const written = await evaluate(`(async () => { ${open}
      const { database } = await open();
      let done = 0;
      for (let n = 1; n <= ${how.rows}; n += 1) {
        await new Promise((resolve, reject) => {
          const transaction = database.transaction('rows', 'readwrite', { durability: '${how.durability}' });
          transaction.objectStore('rows').add('x'.repeat(150), Date.now() * 1000 + n);
          transaction.oncomplete = () => resolve();
          transaction.onabort = () => reject(transaction.error);
        });
        done += 1;
      }
      return done;
    })()`);
    await kill();
    return Number(written);
  });
}

/** Opens again, counts, and writes one more row, as any page would. */
export function readPlain(profile: string, origin: string): Promise<PlainRead> {
  return withBrowser(profile, origin, launchOptions.executablePath, async (evaluate, kill) => {
    const read = await evaluate(`(async () => { ${open}
      const { database, dataLoss } = await open();
      const transaction = database.transaction('rows', 'readwrite', { durability: 'strict' });
      const rows = await new Promise((resolve) => {
        const request = transaction.objectStore('rows').count();
        request.onsuccess = () => resolve(request.result);
      });
      transaction.objectStore('rows').add('one more', Date.now() * 1000);
      await new Promise((resolve) => { transaction.oncomplete = resolve; });
      return JSON.stringify({ rows, dataLoss });
    })()`);
    await kill();
    const { rows, dataLoss } = JSON.parse(String(read));
    return { rows: Number(rows), dataLoss: String(dataLoss) };
  });
}
