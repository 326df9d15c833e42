/**
 * Fails a test in which a computation was made that belongs to nobody, mostly by a tap that reads a condition in a
 * property: it would go on for ever, also in the next case. Solid says so itself.
 */
import { afterEach, expect } from 'vitest';

const left: string[] = [];
const { warn } = console;
console.warn = (...said: unknown[]) => {
  const words = String(said[0]);
  if (words.includes('will never be')) left.push(new Error(words).stack ?? words);
  else warn(...said);
};

afterEach(() => {
  expect(left.splice(0)).toEqual([]);
});
