import { loadShared } from '../../src/sheets/loadSheets.ts';
import { type ParsedSheet, parseSheet } from '../../src/sheets/parseSheet.ts';

/** The shared files as they are shipped. */
export const shared = loadShared('checklists');

/** A small sheet without a mistake. Tests damage it in one place and say what is then said of it. */
export const small = `sheet: small
title: Small
version: 2026-01
include: [core-steps, policy]
sites:
  abdomen: { name: Abdomen, kind: cavity }
variants:
  approach:
    keyhole: { name: Keyhole }
    open: { name: Open, opens: { swab: 5 } }
sections:
  swabs:
    name: Swabs
    class: swab
    source: common practice, no source
    lines:
      swab: { name: Swab, opening: 10, pack: 5 }
  things:
    name: Things
    class: small
    source: common practice, no source
    lines:
      loop:
        name: Loop
        turns:
          placed:
            name: Loop placed
            at: patient
            gives:
              - { line: ligature, place: stays }
              - { line: tube, place: patient }
      ligature: { name: Ligature, stay: yes }
      tube: { name: Tube }
      reel:
        name: Reel
        brings: { tube: 1 }
        turns:
          cut:
            name: Reel cut
            asks: lengths
            gives: [{ line: tube, n: asked, place: here }]
      stone: { name: Stone, starts-in: imaging, counted: no }
      port: { name: Port, opening: 3, size-mm: 12 }
checkpoints:
  sign-in: shared
  time-out:
    source: common practice, no source
    steps:
      introductions: shared
      patient-procedure: shared
      antibiotic: shared
      critical-steps: shared
      anaesthetist-worries: shared
      sterility: shared
      imaging: shared
      stones:
        who: surgeon
        ask: How many stones does the imaging show?
        short: Stones
        answer: number
        usual: 0
        opens: { line: stone, site: abdomen, from: imaging }
  sign-out: shared
specimens:
  gland:
    letter: A
    name: Gland
    site: abdomen
    test: histology
    media: [formalin]
closures:
  abdomen:
    name: Abdomen
    sites: [abdomen]
    count: closing
    in-use: [port]
    source: common practice, no source
    look:
      dry:
        who: surgeon
        ask: Is it dry?
        short: Dry
        answer: [dry, treated, bleeding]
        usual: dry
        stop-on: [bleeding]
      why:
        who: surgeon
        ask: What bled?
        short: What bled
        answer: text
        usual: nothing
        when: { step: dry, is: [treated] }
  skin:
    name: Skin
    sites: [abdomen]
    count: final
medicines:
  cefuroxime:
    name: Cefuroxime
    dose-mg: 1500
    window-minutes: 60
    redose-hours: 4
    source: ASHP 2013, table 1
policy: shared
changes:
  - line: swab
    set: { opening: 5 }
    reason: We open one pack
    approved-by: Testcase, Ash
    approved-on: 2026-01-05
sources:
  - Made up for tests
`;

/** The small sheet with one text in place of another, read. Fails the test if the text is not there. */
export function damaged(from: string, to: string): ParsedSheet {
  if (!small.includes(from)) throw new Error(`The small sheet has no "${from}"`);
  return parseSheet(small.replace(from, to), { file: 'small.yaml', shared });
}

/** What is said of a sheet, or nothing if it is good. */
export const said = (parsed: ParsedSheet): readonly string[] =>
  parsed.ok ? [] : parsed.issues.map((issue) => issue.message);
