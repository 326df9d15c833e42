import { fail } from './failures.ts';
import type { Held, Home, Row } from './home.ts';

/** Seals and opens the rows of one case. The same text always gives the same sealed text. */
export type RowCipher = {
  readonly seal: (text: string) => Promise<string>;
  /** Undefined where it was changed. */
  readonly open: (sealed: string) => Promise<string | undefined>;
};

/** `plain`: no key of the case is known. `locked`: it has one that cannot be had now. */
export type CipherOf = (caseId: string) => Promise<RowCipher | 'plain' | 'locked'>;

/** What a sealed row begins with. A plain one begins with `{`. */
const mark = 'sealed-1 ';

/**
 * Homes whose rows are sealed on the way in and opened on the way out, so that nothing else of the journal knows.
 *
 * Rules: a case whose rows cannot be opened is case-locked, never damaged, since what is damaged gets mended. A row
 * that was changed becomes an empty text, which no check of rows lets through.
 * Fails: case-locked, and as the home does.
 */
export function sealedHomes(homes: readonly Home[], cipherOf: CipherOf): readonly Home[] {
  // The homes are given the same row at once; it is sealed for all of them together.
  const sealedRows = new WeakMap<Row, Promise<string | undefined>>();

  function sealedRow(row: Row): Promise<string | undefined> {
    const sealed = sealedRows.get(row) ?? sealAll(row.caseId, [row.text]).then((all) => all?.[0]);
    sealedRows.set(row, sealed);
    return sealed;
  }

  /** Undefined where the key cannot be had now. */
  async function sealAll(caseId: string, texts: readonly string[]) {
    const cipher = await cipherOf(caseId);
    if (cipher === 'locked') return undefined;
    if (cipher === 'plain') return texts;
    return Promise.all(texts.map(async (text) => mark + (await cipher.seal(text))));
  }

  /** `readAll` of a home, opened; `readAside` gives what can be read. */
  async function opened(caseId: string, held: Held, isAside: boolean): Promise<Held> {
    if (!held.ok || !held.texts.some(isSealed)) return held;
    const cipher = await cipherOf(caseId);
    if (typeof cipher === 'string') return isAside ? held : fail('case-locked');
    const texts = held.texts.map(async (text) =>
      isSealed(text) ? ((await cipher.open(text.slice(mark.length))) ?? '') : text,
    );
    return { ...held, texts: await Promise.all(texts) };
  }

  return homes.map((home) => ({
    ...home,
    append: async (row) => {
      const text = await sealedRow(row);
      return text === undefined ? fail('case-locked') : home.append({ ...row, text });
    },
    readAll: async (caseId) => opened(caseId, await home.readAll(caseId), false),
    readAside: async (caseId) => opened(caseId, await home.readAside(caseId), true),
    reseed: async (caseId, texts, found) => {
      const sealed = await sealAll(caseId, texts);
      return sealed ? home.reseed(caseId, sealed, found) : fail('case-locked');
    },
  }));
}

const isSealed = (text: string): boolean => text.startsWith(mark);
