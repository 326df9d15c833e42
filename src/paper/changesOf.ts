import type { LocalChange, Sheet } from '#engine/sheet.ts';
import { say } from '#words/say.ts';

/** Local changes that were approved together, for one reason. */
export type ChangesApproved = {
  /** Each change in words. */
  readonly changes: readonly string[];
  /** Why, who approved them and when. */
  readonly approval: string;
};

/** The local changes of a sheet, those of one reason, approver and day together. */
export function changesOf({ changes }: Sheet): readonly ChangesApproved[] {
  const groups = new Map<string, string[]>();
  for (const change of changes) {
    const key = approvalOf(change);
    groups.set(key, [...(groups.get(key) ?? []), inWords(change)]);
  }
  return [...groups].map(([approval, words]) => ({ approval, changes: words }));
}

const inWords = ({ what, from, to }: LocalChange): string => say`${what}: ${to} (it was ${from})`;

const approvalOf = ({ reason, approvedBy, approvedOn }: LocalChange): string =>
  say`${reason.replace(/\.$/, '')}. Approved by ${approvedBy} on ${approvedOn}.`;
