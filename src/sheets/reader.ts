import { type Issue, type IssueCode, issueOf, type Position } from './issues.ts';
import { inWords, limits, type Tree } from './tree.ts';

/** JSON Schema, as far as editors need it to complete and check a sheet. */
export type JsonSchema = { readonly [key: string]: unknown };

/**
 * Reads one part of a sheet. A reader always answers with a value of its kind; what was wrong is in the issues,
 * and a sheet with an issue is refused whole. So everything after a mistake is checked as well.
 */
export type Reader<T> = {
  readonly read: (tree: Tree, field: string, issues: Issue[]) => T;
  /** Stands in where nothing could be read. */
  readonly blank: T;
  /** "a whole number from 1 to 999", as it ends a message. */
  readonly expected: string;
  readonly schema: JsonSchema;
};

/** A named part of a group. `help` is what an editor and the README say of it. */
export type Field<T> = {
  readonly reader: Reader<T>;
  readonly isNeeded: boolean;
  readonly help: string;
};
export type Fields = Readonly<Record<string, Field<unknown>>>;
/** What the readers of a group answer, by word. */
export type Values<F extends Fields> = {
  readonly [K in keyof F]: F[K] extends Field<infer T> ? T : never;
};

/** Adds a mistake, as long as there are not more than anybody reads. */
export function tell(
  issues: Issue[],
  code: IssueCode,
  at: Position,
  field: string,
  words: { readonly found: string; readonly expected: string; readonly meant?: string | undefined },
): void {
  if (issues.length < limits.issues) issues.push(issueOf({ code, at, field, ...words }));
}

/** The field inside another: "sites", then "sites.abdomen". */
export const below = (field: string, key: string | number): string =>
  field === '' ? String(key) : `${field}.${key}`;

/** Tells that something of another kind stands there. */
export const wrong = (tree: Tree, field: string, issues: Issue[], expected: string): void =>
  tell(issues, 'wrong-kind', tree.at, field, { found: inWords(tree), expected });
