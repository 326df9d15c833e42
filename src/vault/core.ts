import type { Book, BookEvent } from './book.ts';
import type { Bytes } from './bytes.ts';
import type { CaseKeys } from './caseKeys.ts';
import type { Kept, VaultPorts } from './ports.ts';
import { type No, no } from './refusals.ts';
import type { Tries } from './tries.ts';

export type Answer = { readonly ok: true } | No;
export type CodeAnswer = { readonly ok: true; readonly code: string } | No;

/** What the parts of the vault share, and change as people come and go. */
export type VaultCore = {
  readonly ports: VaultPorts;
  book: Book;
  /** There only while somebody has given a PIN or the code. */
  unitKey: Bytes | undefined;
  openedBy: 'pin' | 'code' | undefined;
  deviceKey: CryptoKey | undefined;
  tries: Tries;
  readonly cases: CaseKeys;
  readonly write: (...events: readonly BookEvent[]) => Promise<Answer>;
  readonly tell: () => void;
};

/** What could not be kept, as an answer of the vault. */
export const asAnswer = (kept: Kept): Answer =>
  kept.ok ? kept : no('not-kept', { detail: kept.failure.sentence });

/** From here on the keys of all cases can be had, and those that lie open are wrapped. */
export async function openWith(
  core: VaultCore,
  unitKey: Bytes,
  openedBy: 'pin' | 'code',
): Promise<Answer> {
  core.unitKey = unitKey;
  core.openedBy = openedBy;
  const wrapped = asAnswer(await core.cases.wrapAll());
  core.tell();
  return wrapped;
}
