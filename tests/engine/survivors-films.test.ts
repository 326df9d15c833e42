import { expect, test } from 'vitest';
import { isXrayOwed } from '#engine/discrepancies/isXrayOwed.ts';
import { isExplained } from '#engine/moves/isExplained.ts';
import type { Case, MissingPieces, Settled, XrayReading } from '#engine/state.ts';
import { given } from '../support/given.ts';
import { line } from '../support/storySheet.ts';

/** Whether a film is owed, and whether what stays is explained, decided from the state alone. */

const at = '2026-01-05T09:00:00+00:00';
const bare = given().current;
const after = (change: Partial<Case>): boolean => isXrayOwed({ ...bare, ...change });

const settled = (of: string, entry: number, how: Settled['how'] = 'declared'): Settled => ({
  line: of,
  entry,
  how,
  stage: 'discrepancy',
  moment: 'closing',
  gate: 'abdomen',
  difference: -1,
  expected: 2,
  found: 1,
  amended: 0,
  streak: 0,
  recounts: 1,
  steps: {},
  openedAt: at,
  settledAt: at,
});
const missing = (of: string, why: MissingPieces['why'] = 'declared'): MissingPieces => ({
  line: of,
  n: 1,
  why,
  reason: 'not found',
  by: [],
  at,
});
const film = (entry: number, of?: string): XrayReading => ({
  entry,
  wholeField: true,
  result: 'nothing-seen',
  readBy: 'Doctor R',
  at,
  ...(of === undefined ? {} : { line: of }),
});
const lost = { settled: [settled('needle', 5)], missing: [missing('needle')] };
const waivers = [{ entry: 5, moment: 'closing', reason: 'unstable', by: [], at }] as const;
const waived = { counts: { ...bare.counts, waivers } };
const deferral = { reason: 'unstable', by: [], at };

test('[D7] a film counts only when it was read after what it is owed for', () => {
  expect(after(lost)).toBe(true);
  expect(after({ ...lost, xrays: [film(4)] })).toBe(true);
  expect(after({ ...lost, xrays: [film(5)] })).toBe(true);
  expect(after({ ...lost, xrays: [film(6)] })).toBe(false);
  expect(after({ ...lost, xrays: [{ ...film(6), wholeField: false }] })).toBe(true);
});

test('[D7] a film for one line shows nothing of another', () => {
  expect(after({ ...lost, xrays: [film(6, 'needle')] })).toBe(false);
  expect(after({ ...lost, xrays: [film(6, 'seal')] })).toBe(true);
});

test('[D7] a waived count owes a film of the whole field, read for whatever line', () => {
  expect(after(waived)).toBe(true);
  expect(after({ ...waived, xrays: [film(6, 'seal')] })).toBe(false);
});

test('[D7] what was declared and then found owes no film, whatever else is missing', () => {
  const found = { settled: [settled('needle', 5)], missing: [] };
  expect(after(found)).toBe(false);
  expect(after({ ...found, missing: [missing('needle', 'searched-none')] })).toBe(false);
  const two = { settled: [settled('needle', 5), settled('seal', 6)], missing: [missing('seal')] };
  expect(after(two)).toBe(true);
  expect(after({ ...two, xrays: [film(7, 'seal')] })).toBe(false);
});

test('[D7] after a deferral the film stays owed, found or not, until it is read', () => {
  const found = { settled: [settled('needle', 5)], missing: [], deferral };
  expect(after(found)).toBe(true);
  expect(after({ ...found, xrays: [film(6)] })).toBe(false);
});

test('[D7] a line that was settled by recounts owes no film', () => {
  const later = [settled('needle', 5), settled('needle', 9, 'agreed')];
  expect(after({ ...lost, settled: later, xrays: [film(6)] })).toBe(false);
  expect(after({ settled: [settled('needle', 9, 'agreed')], deferral })).toBe(false);
});

const left = { n: 1, site: 'abdomen', at };
const by = ['Ensayo', 'Testa'];

test('[L9] what stays is explained by what its line asks, or by the decision of two', () => {
  const drain = line('drain', { stay: { may: 'reason', needs: ['reason', 'where'] } });
  expect(isExplained(drain, { ...left, reason: 'pus' })).toBe(false);
  expect(isExplained(drain, { ...left, reason: 'pus', where: 'pelvis' })).toBe(true);
  expect(isExplained(drain, { ...left, decidedBy: by })).toBe(true);
  expect(isExplained(line('knot', { stay: { may: 'yes' } }), left)).toBe(true);
});

test('[L9] what may not stay is explained only by two people and the reason', () => {
  const needle = line('needle');
  expect(isExplained(needle, left)).toBe(false);
  expect(isExplained(needle, { ...left, reason: 'in bone' })).toBe(false);
  expect(isExplained(needle, { ...left, decidedBy: by })).toBe(false);
  expect(isExplained(needle, { ...left, decidedBy: by, reason: 'in bone' })).toBe(true);
});
