import { type Failed, fail } from './failures.ts';
import type { FileRequest } from './fileRequest.ts';
import type { KeepingHome } from './keeper.ts';

/** What is needed of a worker. */
export type FileWorker = {
  postMessage: (request: FileRequest, transfer: Transferable[]) => void;
  addEventListener: (type: 'error' | 'messageerror', listener: () => void) => void;
  terminate: () => void;
};

/** The worker of this program. Files can be written safely, and at once, only there. */
export const startOpfsWorker = (): FileWorker =>
  new Worker(new URL('./opfsWorker.ts', import.meta.url), { type: 'module' });

/** Longer than the worker takes for the largest import on a slow tablet. */
const stuckAfterMs = 120_000;

/**
 * Keeps rows in files of the origin private file system, through a worker. A worker that broke, or
 * has not answered an earlier call for a long time, is replaced at the next call.
 */
export function fileHome(start: () => FileWorker, stuckMs = stuckAfterMs): KeepingHome {
  const name = 'file';
  let worker: FileWorker | undefined;
  /** How to answer those who wait, and since when they do. */
  const waiting = new Map<(answer: Failed) => void, number>();

  function giveUp(): void {
    worker?.terminate();
    worker = undefined;
    for (const answer of waiting.keys())
      answer(fail('home-failed', { home: name, detail: 'worker' }));
    waiting.clear();
  }

  function running(): FileWorker {
    const longAgo = performance.now() - stuckMs;
    if ([...waiting.values()].some((since) => since < longAgo)) giveUp();
    if (worker) return worker;
    worker = start();
    worker.addEventListener('error', giveUp);
    worker.addEventListener('messageerror', giveUp);
    return worker;
  }

  async function call<T extends { readonly ok: true }>(request: FileRequest): Promise<T | Failed> {
    const { port1, port2 } = new MessageChannel();
    let forget = (): void => undefined;
    try {
      const asked = running();
      const answer = new Promise<T | Failed>((resolve) => {
        port1.onmessage = ({ data }: MessageEvent<T | Failed>) => resolve(data);
        waiting.set(resolve, performance.now());
        forget = () => void waiting.delete(resolve);
      });
      asked.postMessage(request, [port2]);
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
    readAside: (caseId) => call({ verb: 'readAside', caseId }),
    list: () => call({ verb: 'list' }),
    reseed: (caseId, texts, found) => call({ verb: 'reseed', caseId, texts, found }),
    close,
    readNotes: () => call({ verb: 'readNotes' }),
    putNote: (name, text) => call({ verb: 'putNote', name, text }),
    dropNote: (name) => call({ verb: 'dropNote', name }),
    remove: (caseId) => call({ verb: 'remove', caseId }),
  };
}
