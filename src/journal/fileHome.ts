import { type Failed, fail } from './failures.ts';
import type { FileRequest } from './fileRequest.ts';
import type { Home } from './home.ts';

/** What is needed of a worker. */
export type FileWorker = {
  postMessage: (request: FileRequest, transfer: Transferable[]) => void;
  addEventListener: (type: 'error' | 'messageerror', listener: () => void) => void;
  terminate: () => void;
};

/** The worker of this program. Files can be written safely, and at once, only there. */
export const startOpfsWorker = (): FileWorker =>
  new Worker(new URL('./opfsWorker.ts', import.meta.url), { type: 'module' });

/**
 * Keeps rows in files of the origin private file system, through a worker. A worker that broke is
 * replaced at the next call.
 */
export function fileHome(start: () => FileWorker): Home {
  const name = 'file';
  let worker: FileWorker | undefined;
  const waiting = new Set<(answer: Failed) => void>();

  function giveUp(): void {
    worker?.terminate();
    worker = undefined;
    for (const answer of waiting) answer(fail('home-failed', { home: name, detail: 'worker' }));
    waiting.clear();
  }

  function running(): FileWorker {
    if (worker) return worker;
    worker = start();
    worker.addEventListener('error', giveUp);
    worker.addEventListener('messageerror', giveUp);
    return worker;
  }

  async function call<T extends { readonly ok: true }>(request: FileRequest): Promise<T | Failed> {
    const { port1, port2 } = new MessageChannel();
    let forget = (): void => undefined;
    const answer = new Promise<T | Failed>((resolve) => {
      port1.onmessage = ({ data }: MessageEvent<T | Failed>) => resolve(data);
      waiting.add(resolve);
      forget = () => void waiting.delete(resolve);
    });
    try {
      running().postMessage(request, [port2]);
      return await answer;
    } finally {
      forget();
      port1.close();
    }
  }

  async function close(): Promise<void> {
    if (!worker) return;
    await call({ verb: 'close' });
    giveUp();
  }

  return {
    name,
    append: (row) => call({ verb: 'append', row }),
    readAll: (caseId) => call({ verb: 'readAll', caseId }),
    list: () => call({ verb: 'list' }),
    reseed: (caseId, texts, found) => call({ verb: 'reseed', caseId, texts, found }),
    close,
  };
}
