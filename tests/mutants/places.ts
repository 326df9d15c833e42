import { join, resolve } from 'node:path';

/** Where the changed engine and the list of its mutants lie while they are tried. */
export const root = resolve(import.meta.dirname, '..', '..');
export const engine = join(root, 'src', 'engine');
export const changed = join(root, 'reports', 'mutants');
export const listed = join(changed, 'mutants.json');

/** One change, as Stryker describes it. Lines count from 0. */
export type Mutant = {
  readonly id: string;
  readonly file: string;
  readonly line: number;
  /** The code that it stands for. */
  readonly original: string;
  readonly replacement: string;
};

export type Status = 'killed' | 'survived' | 'not reached';

/** What became of one mutant; `isAtLoad` when it changes what is made while the engine is loaded. */
export type Tried = { readonly id: string; readonly status: Status; readonly isAtLoad: boolean };

/** What a process of its own answers: what it tried, and where the next goes on. */
export type Answer = { readonly tried: readonly Tried[]; readonly next: number };
