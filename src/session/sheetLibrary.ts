import type { Sheet } from '#engine/sheet.ts';
import type { KeptSheet, SheetShelf } from '#journal/sheetShelf.ts';
import type { DeskDifferences, DeskMistake, SheetDesk } from '#rehearsal/sheetDesk.ts';
import type { ChangeSaid } from '#sheets/writeChange.ts';
import { say } from '#words/say.ts';
import type { SheetEntry } from './sheetEntry.ts';

/** A sheet of the library: the one in use, and how it came here. */
export type LibraryEntry = SheetEntry & {
  /** The version taken into use here; undefined where it is as the program was shipped. */
  readonly kept: KeptSheet | undefined;
};

/** A sheet that was read and may be taken into use, or why not. */
export type Candidate =
  | {
      readonly ok: true;
      readonly sheet: Sheet;
      readonly text: string;
      readonly from: string;
      readonly notes: readonly string[];
      /** The title of the sheet in use that it replaces, and in what it differs. */
      readonly replaces: string | undefined;
      readonly differences: DeskDifferences;
    }
  | { readonly ok: false; readonly file: string; readonly mistakes: readonly DeskMistake[] };

export type Taken =
  | { readonly ok: true; readonly number: number }
  | { readonly ok: false; readonly sentence: string };

/** The sheets of this tablet: those that are shipped, and versions that people took into use here. */
export type SheetLibrary = {
  /** Those in use: first those that are shipped. */
  readonly entries: () => readonly LibraryEntry[];
  /** Hears of every change of `entries`. Answers how to stop it. */
  readonly subscribe: (listener: () => void) => () => void;
  /** Reads what is kept. Answers a sentence where something could not be read. */
  readonly start: () => Promise<string | undefined>;
  /** Every version of a sheet that was taken into use here, newest first. */
  readonly versions: (id: string) => readonly KeptSheet[];
  /** Reads a sheet from the bytes of a file. Nothing is kept. */
  readonly bringIn: (bytes: Uint8Array, file: string) => Promise<Candidate>;
  /** The sheet in use with one more local change. Nothing is kept. */
  readonly change: (id: string, change: ChangeSaid, words: string) => Promise<Candidate>;
  /** An earlier version again, as a candidate. Undefined for the one that is shipped. */
  readonly again: (id: string, number: number | undefined) => Promise<Candidate>;
  /**
   * Takes a candidate into use as a new version. Where people are set up, one of them confirms it with a PIN and is
   * the name; else `by` is.
   */
  readonly take: (candidate: Extract<Candidate, { ok: true }>, by: string) => Promise<Taken>;
  /** The sheet in use as text. */
  readonly textOf: (id: string) => Promise<string | undefined>;
};

type World = {
  readonly shipped: readonly SheetEntry[];
  readonly shelf: SheetShelf;
  /** Loads what reads YAML. Fails: by a rejected promise, where its file is not there. */
  readonly desk: () => Promise<SheetDesk>;
  readonly now: () => string;
  /** Who of the unit confirms it by PIN: nobody where none is set up, undefined where the question was left. */
  readonly confirm?: (words: string) => Promise<readonly string[] | undefined>;
};

/** Makes the library over the sheets that are shipped and the shelf of this tablet. */
export function createSheetLibrary(world: World): SheetLibrary {
  const { shipped, shelf, desk, now } = world;
  let kept: readonly KeptSheet[] = [];
  let entries = inUse(shipped, kept, desk);
  const listeners = new Set<() => void>();
  const hold = (next: readonly KeptSheet[]): void => {
    kept = next;
    entries = inUse(shipped, kept, desk);
    for (const listener of listeners) listener();
  };
  const entryOf = (id: string) => entries.find((entry) => entry.id === id);
  const versions = (id: string) => kept.filter((one) => one.id === id).reverse();

  const reader = makeReader({ desk, entryOf, versions });

  async function take(one: Extract<Candidate, { ok: true }>, by: string): Promise<Taken> {
    const { id, title, version } = one.sheet;
    const taker = await takerOf(world, title, by);
    if (!taker.ok) return taker;
    const number = (versions(id)[0]?.number ?? 0) + 1;
    const meant = JSON.stringify(one.sheet);
    const { text, from } = one;
    const row = { id, number, title, version, text, meant, ...taker.by, takenAt: now(), from };
    try {
      await shelf.keep(row);
    } catch {
      return {
        ok: false,
        sentence: say`It could not be kept on this tablet. The old one stays in use.`,
      };
    }
    hold([...kept, row]);
    return { ok: true, number };
  }

  return {
    entries: () => entries,
    subscribe: (listener) => {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
    start: async () => {
      try {
        const read = await shelf.all();
        hold(read.kept);
        return read.unread > 0
          ? say`${read.unread} kept versions of sheets cannot be read.`
          : undefined;
      } catch {
        return say`The sheets that were changed on this tablet cannot be read. Those that were shipped are shown.`;
      }
    },
    versions,
    ...reader,
    take,
  };
}

type Taker =
  | { readonly ok: true; readonly by: Pick<KeptSheet, 'takenBy' | 'confirmed'> }
  | Extract<Taken, { readonly ok: false }>;

/** Who stands for a version, or why nobody does. */
async function takerOf({ confirm }: World, title: string, by: string): Promise<Taker> {
  const names = confirm ? await confirm(say`Take this sheet into use: ${title}`) : [];
  if (!names) return { ok: false, sentence: say`It was not confirmed. The old one stays in use.` };
  if (names.length > 0) return { ok: true, by: { takenBy: names.join(', '), confirmed: 'pin' } };
  if (by.trim() === '') return { ok: false, sentence: say`Say who takes it into use.` };
  return { ok: true, by: { takenBy: by.trim() } };
}

type Reading = Pick<World, 'desk'> &
  Pick<SheetLibrary, 'versions'> & {
    readonly entryOf: (id: string) => LibraryEntry | undefined;
  };

/** Reads candidates. Nothing is kept. */
function makeReader({
  desk,
  entryOf,
  versions,
}: Reading): Pick<SheetLibrary, 'bringIn' | 'change' | 'again' | 'textOf'> {
  async function textOf(id: string): Promise<string | undefined> {
    return entryOf(id)?.kept?.text ?? (await desk()).shippedText(id);
  }

  /** What the desk read, beside the sheet in use that it would replace. */
  async function candidate(
    read: ReturnType<SheetDesk['readText']>,
    file: string,
  ): Promise<Candidate> {
    if (!read.ok) return { ok: false, file, mistakes: read.mistakes };
    const old = entryOf(read.sheet.id);
    const before = await old?.load().catch(() => undefined);
    const differences = before ? (await desk()).differences(before, read.sheet) : [];
    return { ...read, from: file, replaces: old?.title, differences };
  }

  return {
    bringIn: async (bytes, file) => candidate((await desk()).readBytes(bytes, file), file),
    change: async (id, change, words) => {
      const text = (await textOf(id)) ?? '';
      const { readText, withChange } = await desk();
      return candidate(readText(withChange(text, change), `${id}.yaml`), words);
    },
    again: async (id, number) => {
      const old = versions(id).find((one) => one.number === number);
      const { readText, shippedText } = await desk();
      const words = old ? say`version ${old.number} again` : say`the sheet as it is shipped`;
      return candidate(readText(old?.text ?? shippedText(id) ?? '', `${id}.yaml`), words);
    },
    textOf,
  };
}

/** Of each sheet the newest version that was taken into use here, else the one that is shipped. */
function inUse(
  shipped: readonly SheetEntry[],
  kept: readonly KeptSheet[],
  desk: World['desk'],
): readonly LibraryEntry[] {
  const newest = new Map(kept.map((one) => [one.id, one]));
  const known = shipped.map((entry): LibraryEntry => {
    const version = newest.get(entry.id);
    return version ? entryFrom(version, desk) : { ...entry, kept: undefined };
  });
  const own = [...newest.values()]
    .filter(({ id }) => !shipped.some((entry) => entry.id === id))
    .map((version) => entryFrom(version, desk));
  return [...known, ...own];
}

const entryFrom = (kept: KeptSheet, desk: World['desk']): LibraryEntry => ({
  id: kept.id,
  title: kept.title,
  version: kept.version,
  kept,
  load: async () => sheetOf(kept, await desk()),
});

/**
 * The sheet of a kept version, read from its text again, so that this program has checked it.
 *
 * Fails: where it has mistakes by the rules of this program, or no longer means what was taken into use because a
 * shared part changed: somebody must look at it and take it into use again.
 */
function sheetOf(kept: KeptSheet, desk: SheetDesk): Sheet {
  const read = desk.readText(kept.text, `${kept.id}.yaml`);
  if (!read.ok) throw new Error(`${kept.id}: ${read.mistakes[0]?.message ?? 'it has mistakes'}`);
  if (JSON.stringify(read.sheet) !== kept.meant)
    throw new Error(`${kept.id}: it no longer means what ${kept.takenBy} took into use`);
  return read.sheet;
}
