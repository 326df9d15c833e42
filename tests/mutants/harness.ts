/** Stands in for vitest while mutants are tried: keeps the tests, so that any of them can be run at any time. */
export { expect } from 'vitest';

type Body = (...row: readonly unknown[]) => unknown;
export type Kept = { readonly name: string; readonly run: () => unknown };

export const kept: Kept[] = [];

const bodyOf = (parts: readonly unknown[]): Body => {
  const body = parts.find((part) => typeof part === 'function');
  if (typeof body !== 'function') throw new Error('A test has no body.');
  return (...row) => body(...row);
};

/** A test with its name and body; options between them are left out. */
export const test = (name: string, ...parts: readonly unknown[]): void => {
  kept.push({ name, run: bodyOf(parts) });
};

test.each =
  (rows: readonly unknown[]) =>
  (name: string, ...parts: readonly unknown[]): void => {
    const body = bodyOf(parts);
    for (const [n, row] of rows.entries()) {
      const cells: readonly unknown[] = Array.isArray(row) ? row : [row];
      kept.push({ name: `${name} (row ${n + 1})`, run: () => body(...cells) });
    }
  };
