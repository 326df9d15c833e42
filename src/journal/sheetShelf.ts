import { promisifyRequest } from 'idb-keyval';

/** One version of a sheet that somebody took into use on this tablet. Kept for good; a later one stands over it. */
export type KeptSheet = {
  /** The short name of the sheet. */
  readonly id: string;
  /** 1 for the first that was taken into use here, and so on. */
  readonly number: number;
  readonly title: string;
  /** When the sheet says that it was last revised. */
  readonly version: string;
  /** The text as it was brought in or changed. */
  readonly text: string;
  /** What the text meant when it was taken into use, as JSON: shared parts may change with the program. */
  readonly meant: string;
  readonly takenBy: string;
  readonly takenAt: string;
  /** Whether that person gave a PIN. Missing where nobody was set up, and in versions of before. */
  readonly confirmed?: 'pin';
  /** The file that it came from, or what was changed here. */
  readonly from: string;
};

/** Where versions of sheets are kept. */
export type SheetShelf = {
  /** Every version, oldest first. Rows that cannot be read are left out and counted. Fails: by a rejected promise. */
  readonly all: () => Promise<{ readonly kept: readonly KeptSheet[]; readonly unread: number }>;
  /** Adds a version; never over another. Fails: by a rejected promise. */
  readonly keep: (version: KeptSheet) => Promise<void>;
};

const storeName = 'versions';

/** A database of its own beside the journal's: sheets hold nothing about a patient. */
export function openSheetShelf(name: string, factory: IDBFactory): SheetShelf {
  let opening: Promise<IDBDatabase> | undefined;
  const open = (): Promise<IDBDatabase> => {
    opening ??= connected(factory, name);
    opening.catch(() => {
      opening = undefined;
    });
    return opening;
  };
  return {
    all: async () => {
      const store = (await open()).transaction(storeName).objectStore(storeName);
      const rows: readonly unknown[] = await promisifyRequest(store.getAll());
      const kept = rows.map(keptFrom).filter((row) => row !== undefined);
      return { kept: kept.sort(byAge), unread: rows.length - kept.length };
    },
    keep: async (version) => {
      const transaction = (await open()).transaction(storeName, 'readwrite', {
        durability: 'strict',
      });
      const done = promisifyRequest(transaction);
      // `add` fails where two windows take the same number: neither version is lost in silence.
      transaction.objectStore(storeName).add(version, [version.id, version.number]);
      await done;
    },
  };
}

/** A browser may never answer; the program then starts with the sheets that are shipped, and says so. */
const openLimitMs = 4000;

async function connected(factory: IDBFactory, name: string): Promise<IDBDatabase> {
  const request = factory.open(name, 1);
  request.onupgradeneeded = () => void request.result.createObjectStore(storeName);
  let late: ReturnType<typeof setTimeout> | undefined;
  const given = new Promise<never>((_, reject) => {
    late = setTimeout(() => reject(new Error('The shelf does not open')), openLimitMs);
  });
  const opened = promisifyRequest(request);
  const database = await Promise.race([opened, given]).finally(() => clearTimeout(late));
  database.onversionchange = () => database.close();
  return database;
}

const byAge = (one: KeptSheet, other: KeptSheet): number =>
  one.id.localeCompare(other.id) || one.number - other.number;

const texts = ['id', 'title', 'version', 'text', 'meant', 'takenBy', 'takenAt', 'from'] as const;

/** A row as it came back; undefined where it is not what was written. */
function keptFrom(row: unknown): KeptSheet | undefined {
  if (typeof row !== 'object' || row === null) return undefined;
  const fields = new Map(Object.entries(row));
  const number: unknown = fields.get('number');
  const isWhole = texts.every((key) => typeof fields.get(key) === 'string');
  if (!isWhole || typeof number !== 'number' || !Number.isInteger(number)) return undefined;
  return row as KeptSheet; // a parser: every field was looked at
}
