import type { LogFile } from './fileLog.ts';
import { answerRequest, type FileRequest } from './fileRequest.ts';
import { type Directory, fileStore } from './fileStore.ts';
import type { KeepingHome } from './keeper.ts';

// Only workers have this method, so the types for pages lack it.
declare global {
  interface FileSystemFileHandle {
    createSyncAccessHandle(): Promise<LogFile>;
  }
}

/** Name of the folder in the origin private file system. */
const folderName = 'journal';

async function openFolder(): Promise<Directory> {
  const root = await navigator.storage.getDirectory();
  const folder = await root.getDirectoryHandle(folderName, { create: true });

  async function names(): Promise<readonly string[]> {
    const found: string[] = [];
    for await (const name of folder.keys()) found.push(name);
    return found;
  }

  async function read(name: string): Promise<Uint8Array<ArrayBuffer> | undefined> {
    if (!(await names()).includes(name)) return undefined;
    const file = await (await folder.getFileHandle(name)).getFile();
    return new Uint8Array(await file.arrayBuffer());
  }

  async function open(name: string): Promise<LogFile> {
    const handle = await folder.getFileHandle(name, { create: true });
    return handle.createSyncAccessHandle();
  }

  const remove = (name: string): Promise<void> => folder.removeEntry(name);
  return { names, read, open, remove };
}

let store: Promise<KeepingHome> | undefined;

/** A folder that could not be opened is tried again with the next request. */
function opened(): Promise<KeepingHome> {
  store ??= openFolder().then(fileStore);
  store.catch(() => {
    store = undefined;
  });
  return store;
}

addEventListener('message', ({ data, ports }: MessageEvent<FileRequest>) => {
  void answerRequest(opened(), data).then((answer) => ports[0]?.postMessage(answer));
});
