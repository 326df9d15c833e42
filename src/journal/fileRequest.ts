import { unreachable } from '#engine/assert.ts';
import { fail } from './failures.ts';
import type { Home, Row } from './home.ts';

/** What the worker is asked. The answer comes through the port that is sent along. */
export type FileRequest =
  | { readonly verb: 'append'; readonly row: Row }
  | { readonly verb: 'readAll' | 'readAside'; readonly caseId: string }
  | { readonly verb: 'list' }
  | {
      readonly verb: 'reseed';
      readonly caseId: string;
      readonly texts: readonly string[];
      readonly found: number;
    }
  | { readonly verb: 'close' };

/** Does what a request asks. What the browser throws becomes home-failed here. */
export async function answerRequest(
  store: Promise<Home>,
  request: FileRequest,
): Promise<Awaited<ReturnType<typeof doRequest>>> {
  try {
    return await doRequest(await store, request);
  } catch (error) {
    return fail('home-failed', { home: 'file', detail: String(error) });
  }
}

async function doRequest(store: Home, request: FileRequest) {
  switch (request.verb) {
    case 'append':
      return store.append(request.row);
    case 'readAll':
      return store.readAll(request.caseId);
    case 'readAside':
      return store.readAside(request.caseId);
    case 'list':
      return store.list();
    case 'reseed':
      return store.reseed(request.caseId, request.texts, request.found);
    case 'close':
      await store.close();
      return { ok: true } as const;
    default:
      return unreachable(request);
  }
}
