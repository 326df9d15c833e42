import type { LogFile } from './fileLog.ts';
import type { Directory } from './fileStore.ts';

// Only workers have this method, so the types for pages lack it.
declare global {
  interface FileSystemFileHandle {
    createSyncAccessHandle(): Promise<LogFile>;
  }
}

/** Name of the folder in the origin private file system. */
const folderName = 'journal';

/**
 * The folder in which the files of the journal lie. A browser that is short of room may delete it while
 * the program runs (seen with Chromium 156 on a full disk); it is then made again, empty.
 *
 * Throws: whatever the browser does, at the second try.
 */
export function opfsDirectory(storage: Pick<StorageManager, 'getDirectory'>): Directory {
  let opening: Promise<FileSystemDirectoryHandle> | undefined;

  async function open(): Promise<FileSystemDirectoryHandle> {
    const root = await storage.getDirectory();
    return root.getDirectoryHandle(folderName, { create: true });
  }

  async function inFolder<T>(work: (folder: FileSystemDirectoryHandle) => Promise<T>): Promise<T> {
    opening ??= open();
    try {
      return await work(await opening);
    } catch {
      opening = open();
      return work(await opening);
    }
  }

  const readFile = async (folder: FileSystemDirectoryHandle, name: string) => {
    if (!(await namesIn(folder)).includes(name)) return undefined;
    const file = await (await folder.getFileHandle(name)).getFile();
    return new Uint8Array(await file.arrayBuffer());
  };

  return {
    names: () => inFolder(namesIn),
    read: (name) => inFolder((folder) => readFile(folder, name)),
    open: (name) =>
      inFolder(async (folder) => {
        const handle = await folder.getFileHandle(name, { create: true });
        return handle.createSyncAccessHandle();
      }),
    remove: (name) => inFolder((folder) => folder.removeEntry(name)),
  };
}

async function namesIn(folder: FileSystemDirectoryHandle): Promise<readonly string[]> {
  const found: string[] = [];
  for await (const name of folder.keys()) found.push(name);
  return found;
}
