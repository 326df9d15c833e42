import { unreachable } from '#engine/assert.ts';
import { fail } from './failures.ts';
import type { Row } from './home.ts';
import type { KeepingHome } from './keeper.ts';

/** What the worker is asked. */
export type FileRequest =
  | { readonly verb: 'append'; readonly row: Row }
  | { readonly verb: 'readAll' | 'readAside' | 'remove'; readonly caseId: string }
  | { readonly verb: 'list' | 'readNotes' }
  | { readonly verb: 'putNote'; readonly name: string; readonly text: string }
  | { readonly verb: 'dropNote'; readonly name: string }
  | {
      readonly verb: 'reseed';
      readonly caseId: string;
      readonly texts: readonly string[];
      readonly found: number;
    }
  | { readonly verb: 'close' };

/** A request on its way to the worker. Its answer comes back with the same number. */
export type FileQuestion = { readonly number: number; readonly request: FileRequest };
export type FileAnswer = {
  readonly number: number;
  readonly answer: Awaited<ReturnType<typeof answerRequest>>;
};

/** Does what a request asks. What the browser throws becomes home-failed here. */
export async function answerRequest(
  store: Promise<KeepingHome>,
  request: FileRequest,
): Promise<Awaited<ReturnType<typeof doRequest>>> {
  try {
    return await doRequest(await store, request);
  } catch (error) {
    return fail('home-failed', { home: 'file', detail: String(error) });
  }
}

async function doRequest(store: KeepingHome, request: FileRequest) {
  switch (request.verb) {
    case 'append':
      return store.append(request.row);
    case 'readAll':
      return store.readAll(request.caseId);
    case 'readAside':
      return store.readAside(request.caseId);
    case 'list':
      return store.list();
    case 'remove':
      return store.remove(request.caseId);
    case 'readNotes':
      return store.readNotes();
    case 'putNote':
      return store.putNote(request.name, request.text);
    case 'dropNote':
      return store.dropNote(request.name);
    case 'reseed':
      return store.reseed(request.caseId, request.texts, request.found);
    case 'close':
      await store.close();
      return { ok: true } as const;
    default:
      return unreachable(request);
  }
}
