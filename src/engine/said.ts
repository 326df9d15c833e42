import type { Case } from './state.ts';

/** One recorded fact in words: what it is about, and what happened. */
export type EntryWords = { readonly subject: string; readonly rest: string };

export const lineName = (current: Case, id: string): string => current.lines.get(id)?.name ?? id;
