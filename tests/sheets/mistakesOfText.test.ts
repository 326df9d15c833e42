import { expect, test } from 'vitest';
import { damaged, said } from './small.ts';

/** The text and its top: what cannot be read, and what the sheet as a whole lacks. */
const mistakes = [
  {
    title: 'a missing word is told with what belongs there',
    from: 'title: Small\n',
    to: '',
    says: [
      'In small.yaml, line 1, column 1, title is missing, but should be a text of 1 to 120 letters (the procedure, as the trade names it).',
    ],
  },
  {
    title: 'a letter that nobody sees is told by its number',
    from: 'name: Loop\n',
    to: 'name: "Lo\\u202Eop"\n',
    says: [
      'In small.yaml, line 24, column 15, sections.things.lines.loop.name is a text with a letter that nobody sees (U+202E), but should be a text of letters that can be seen.',
    ],
  },
  {
    title: 'a misspelt word is told with the likely one',
    from: 'title: Small',
    to: 'titel: Small',
    says: [
      'In small.yaml, line 1, column 1, title is missing, but should be a text of 1 to 120 letters (the procedure, as the trade names it).',
      'In small.yaml, line 2, column 1, titel is not a word of the format here, which has sheet, title, version, aims, briefing, include, sites, variants, sections, opens, moments, checkpoints, specimens, closures, medicines, policy, changes and sources; perhaps "title" is meant.',
    ],
  },
  {
    title: 'a number where a text belongs needs quotes',
    from: 'title: Small',
    to: 'title: 12',
    says: [
      'In small.yaml, line 2, column 8, title is 12, but should be a text of 1 to 120 letters, in quotes.',
    ],
  },
  {
    title: 'an empty value is told',
    from: 'title: Small',
    to: 'title:',
    says: [
      'In small.yaml, line 2, column 7, title is empty, but should be a text of 1 to 120 letters.',
    ],
  },
  {
    title: 'a text that is too long is told',
    from: 'title: Small',
    to: `title: ${'x'.repeat(121)}`,
    says: [
      'In small.yaml, line 2, column 8, title is 121 letters long, but should be a text of 1 to 120 letters.',
    ],
  },
  {
    title: 'a version is a year and a month',
    from: 'version: 2026-01',
    to: 'version: January',
    says: [
      'In small.yaml, line 3, column 10, version is "January", but should be a year and month such as 2026-01.',
    ],
  },
  {
    title: 'the name of a sheet has no capitals and spaces',
    from: 'sheet: small',
    to: 'sheet: Small Sheet',
    says: [
      'In small.yaml, line 1, column 8, sheet is "Small Sheet", but should be a short name of small letters, digits and hyphens that begins with a letter.',
    ],
  },
  {
    title: 'the name of a sheet is that of its file',
    from: 'sheet: small',
    to: 'sheet: other',
    says: [
      'In small.yaml, line 1, column 8, sheet is "other", but should be the name of the file, small.',
    ],
  },
  {
    title: 'a shared file that is not there is told once',
    from: 'core-steps,',
    to: 'core-step,',
    says: [
      'In small.yaml, line 4, column 11, include names the shared file "core-step", but the shared files are core-steps, keyhole, look-steps, medicines, packs, policy and trays; perhaps "core-steps" is meant.',
    ],
  },
  {
    title: 'a shared part that is not there is told with the likely one',
    from: 'introductions: shared',
    to: 'introduction: shared',
    says: [
      'In small.yaml, line 49, column 21, checkpoints.time-out.steps.introduction takes "introduction" from the included files, but they have identity, site-marked, anaesthesia-checked, oximeter, allergy, airway, blood-loss, blood-loss-ready, introductions, patient-procedure, antibiotic, critical-steps, anaesthetist-worries, sterility, imaging, first-count, procedure-done, counts, specimens, equipment and 4 more; perhaps "introductions" is meant.',
    ],
  },
  {
    title: 'a misspelt "shared" is told',
    from: 'sign-in: shared',
    to: 'sign-in: shard',
    says: [
      'In small.yaml, line 45, column 12, checkpoints.sign-in is "shard", but should be a checkpoint, with its steps, or shared; perhaps "shared" is meant.',
    ],
  },
  {
    title: 'a policy that nothing includes is told',
    from: 'policy]',
    to: 'trays]',
    says: [
      'In small.yaml, line 104, column 9, policy takes "policy" from the included files, but they have nothing of the kind.',
    ],
  },
  {
    title: 'a bracket that is not closed is told',
    from: 'title: Small',
    to: 'title: [Small',
    says: [
      'In small.yaml, line 3, column 1, the text cannot be read (Flow sequence in block collection must be sufficiently indented and end with a ]), but should be YAML.',
    ],
  },
  {
    title: 'a quote that is not closed is told',
    from: 'title: Small',
    to: 'title: "Small',
    says: [
      'In small.yaml, line 113, column 1, the text cannot be read (Missing closing "quote), but should be YAML.',
    ],
  },
  {
    title: 'a tab in front of a line is told',
    from: 'sections:',
    to: '\tsections:',
    says: [
      'In small.yaml, line 11, column 1, the text cannot be read (Tabs are not allowed as indentation), but should be YAML.',
    ],
  },
  {
    title: 'a word said twice is told with its first line',
    from: 'title: Small',
    to: 'title: Small\ntitle: Big',
    says: [
      'In small.yaml, line 3, column 1, title is said a second time, after line 2, but should be said once.',
    ],
  },
  {
    title: 'a name that programs use themselves is not a word',
    from: 'title: Small',
    to: '__proto__: { x: 1 }\ntitle: Small',
    says: [
      'In small.yaml, line 2, column 1, __proto__ is not a word of the format here, which has sheet, title, version, aims, briefing, include, sites, variants, sections, opens, moments, checkpoints, specimens, closures, medicines, policy, changes and sources.',
    ],
  },
  {
    title: 'a single word where sites belong is told',
    from: 'sites:\n  abdomen: { name: Abdomen, kind: cavity }',
    to: 'sites: abdomen',
    says: [
      'In small.yaml, line 5, column 8, sites is "abdomen", but should be sites, each under its short name.',
    ],
  },
  {
    title: 'a list where sections belong is told',
    from: 'sections:\n  swabs:',
    to: 'sections:\n  - swabs\nx:\n  swabs:',
    says: [
      'In small.yaml, line 11, column 1, sections is a list of 1, but should be sections, each under its short name.',
      'In small.yaml, line 13, column 1, x is not a word of the format here, which has sheet, title, version, aims, briefing, include, sites, variants, sections, opens, moments, checkpoints, specimens, closures, medicines, policy, changes and sources.',
      'In small.yaml, line 108, column 5, changes.1 changes "swab", but the sheet has nothing of the kind.',
    ],
  },
  {
    title: 'a kind of site that does not exist is told',
    from: 'kind: cavity',
    to: 'kind: hole',
    says: [
      'In small.yaml, line 6, column 35, sites.abdomen.kind is "hole", but should be cavity, wound or orifice.',
    ],
  },
  {
    title: 'a misspelt kind of site is told with the likely one',
    from: 'kind: cavity',
    to: 'kind: cavty',
    says: [
      'In small.yaml, line 6, column 35, sites.abdomen.kind is "cavty", but should be cavity, wound or orifice; perhaps "cavity" is meant.',
    ],
  },
  {
    title: 'a medium that no pot holds is told',
    from: 'media: [formalin]',
    to: 'media: [formaldehyde]',
    says: [
      'In small.yaml, line 70, column 13, specimens.gland.media.1 is "formaldehyde", but should be formalin, sterile-pot, culture-swab, culture-bottle, fresh, saline, transport-medium or cytology-fixative.',
    ],
  },
  {
    title: 'a specimen without a medium is told',
    from: 'media: [formalin]',
    to: 'media: []',
    says: [
      'In small.yaml, line 70, column 5, specimens.gland.media is a list of 0, but should be a list of 1 to 8.',
    ],
  },
  {
    title: 'a specimen has one capital letter',
    from: 'letter: A',
    to: 'letter: Aa',
    says: [
      'In small.yaml, line 66, column 13, specimens.gland.letter is "Aa", but should be one capital letter.',
    ],
  },
  {
    title: 'two specimens have two letters',
    from: 'media: [formalin]',
    to: 'media: [formalin]\n  node: { letter: A, name: Node, site: abdomen, test: histology, media: formalin }',
    says: [
      'In small.yaml, line 71, column 19, specimens.node.letter is said a second time, after the specimen gland, but should be a letter of its own, unless their variants can never be chosen together.',
    ],
  },
  {
    title: 'a specimen comes out of a site of the sheet',
    from: 'letter: A\n    name: Gland\n    site: abdomen',
    to: 'letter: A\n    name: Gland\n    site: neck',
    says: [
      'In small.yaml, line 68, column 11, specimens.gland.site names the site "neck", but the sites are abdomen.',
    ],
  },
  {
    title: 'a medicine has a window in minutes',
    from: 'window-minutes: 60',
    to: 'window: 60',
    says: [
      'In small.yaml, line 98, column 3, medicines.cefuroxime.window-minutes is missing, but should be a whole number from 1 to 600 (how long before incision it may be started).',
      'In small.yaml, line 101, column 5, medicines.cefuroxime.window is not a word of the format here, which has name, dose-mg, heavy, mg-per-kg, by-dosing-weight, part, child, window-minutes, redose-hours, at-hand and source.',
    ],
  },
  {
    title: 'the next dose is a number of hours or none',
    from: 'redose-hours: 4',
    to: 'redose-hours: never',
    says: [
      'In small.yaml, line 102, column 19, medicines.cefuroxime.redose-hours is "never", but should be a number from 0.5 to 48 or none.',
    ],
  },
  {
    title: 'the dose cannot be in its window where there are no medicines',
    from: 'medicines:\n  cefuroxime:\n    name: Cefuroxime\n    dose-mg: 1500\n    window-minutes: 60\n    redose-hours: 4\n    source: ASHP 2013, table 1\n',
    to: '',
    says: [
      'In shared/core-steps.yaml, line 90, column 13, taken into small.yaml, checkpoints.time-out.steps.antibiotic.answer is prophylaxis, but should be something else, or the sheet should have medicines.',
    ],
  },
];

test.each(mistakes)('$title', ({ from, to, says }) => {
  expect(said(damaged(from, to))).toEqual(says);
});
