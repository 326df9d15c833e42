import { existsSync, readFileSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type CheckedSheet, checkSheet } from '#rehearsal/checkSheet.ts';
import { textFromBytes } from '#sheets/bytes.ts';
import type { Issue } from '#sheets/issues.ts';
import { loadShared } from '#sheets/loadSheets.ts';
import { readShared } from '#sheets/shared.ts';

const checklists = fileURLToPath(new URL('../../checklists', import.meta.url));

/** A sheet's file as it was read and checked, or why it could not be read at all. */
export type FileRead =
  | { readonly kind: 'sheet'; readonly checked: CheckedSheet }
  /** A file of shared parts, with what is wrong with it. */
  | { readonly kind: 'shared'; readonly issues: readonly Issue[] }
  | { readonly kind: 'unread'; readonly sentence: string };

/** Where a file is or will be: seen from where npm was called, which is not always where npm runs. */
export const pathOf = (file: string): string => resolve(process.env.INIT_CWD ?? '.', file);

/** Reads and checks a sheet, with the shared files beside it, or those that are shipped where there are none. */
export function readFile(name: string): FileRead {
  const path = pathOf(name);
  const bytes = bytesOf(path);
  if (bytes === undefined)
    return { kind: 'unread', sentence: `${name} cannot be read: it is not there, or is no file.` };
  const file = basename(path);
  const read = textFromBytes(bytes, file);
  if (!read.ok) return { kind: 'unread', sentence: read.issue.message };
  const { text } = read;
  if (/^shared:/m.test(text)) {
    const known = file.replace(/\.ya?ml$/, '');
    return { kind: 'shared', issues: readShared([{ name: known, file, text }]).issues };
  }
  const folder = existsSync(join(dirname(path), 'shared')) ? dirname(path) : checklists;
  return { kind: 'sheet', checked: checkSheet(text, { file, shared: loadShared(folder) }) };
}

function bytesOf(path: string): Uint8Array | undefined {
  try {
    return readFileSync(path);
  } catch {
    return undefined; // missing, a folder, or not ours to read: all the same to whoever named it
  }
}
