/** What stands in a folder of journals, and what a case comes to: for the recorder and for the test. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { CaseEvent } from '#engine/case/events.ts';
import { verdictOf } from '#engine/closures/verdictOf.ts';
import { replay } from '#engine/history/replay.ts';
import { at, type Ledger } from '#engine/ledger.ts';
import { chainCode } from '#journal/chainCode.ts';
import { sha256 } from '#journal/sha256.ts';

export const journalsFolder = fileURLToPath(new URL('.', import.meta.url));

/** What a case came to, in words that no later version may read otherwise. */
export type Outcome = {
  readonly rows: number;
  readonly code: string;
  readonly verdict: string;
  readonly startedAt: string;
  readonly finishedAt: string | null;
  /** Where pieces are, all lines and places that are not zero: `swab@off` → 5. */
  readonly balances: Readonly<Record<string, number>>;
};

/** What the version that wrote a folder said of it. */
export type Expected = {
  readonly version: string;
  readonly recordedAt: string;
  /** SHA-256 of each file. */
  readonly files: Readonly<Record<string, string>>;
  /** By the name of the case. */
  readonly cases: Readonly<Record<string, Outcome>>;
  /** The short form of the key that signed. */
  readonly signedBy: string;
};

/** The tablet itself: what its database holds, store by store, and its files in base 64. */
export type RawTablet = {
  readonly database: Readonly<Record<string, readonly (readonly [IDBValidKey, unknown])[]>>;
  readonly files: Readonly<Record<string, string>>;
};

const places = [
  'supply',
  'table',
  'off',
  'stays',
  'specimen',
  'away',
  'missing',
  'changed',
] as const;

function balancesOf(ledger: Ledger): Readonly<Record<string, number>> {
  const inside = ledger.layout.sites.map((site) => `patient/${site}` as const);
  const all = Object.keys(ledger.layout.index).flatMap((line) =>
    [...places, ...inside].map((place) => [`${line}@${place}`, at(ledger, line, place)] as const),
  );
  return Object.fromEntries(all.filter(([, pieces]) => pieces !== 0));
}

/** Folds rows, all of which must hold. */
export function outcomeOf(
  rows: readonly { readonly events: readonly CaseEvent[] }[],
  head: string,
): Outcome {
  const played = replay(rows);
  if (!played.ok) throw new Error(`Row ${played.row}: ${played.sentence}`);
  const { current } = played;
  return {
    rows: rows.length,
    code: chainCode(head),
    verdict: verdictOf(current),
    startedAt: current.startedAt,
    finishedAt: current.finishedAt ?? null,
    balances: balancesOf(current.ledger),
  };
}

/** The hash of every file of a folder but the one that says them. */
export function hashesIn(folder: string): Readonly<Record<string, string>> {
  const names = readdirSync(folder).filter((name) => name !== 'expected.txt');
  return Object.fromEntries(
    names.sort().map((name) => [name, sha256(readFileSync(join(folder, name), 'utf8'))]),
  );
}
