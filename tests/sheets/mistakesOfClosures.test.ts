import { expect, test } from 'vitest';
import { damaged, said } from './small.ts';

/** Closures, and local changes. */
const mistakes = [
  {
    title: 'a closure closes sites of the sheet',
    from: 'sites: [abdomen]\n    count: closing',
    to: 'sites: [chest]\n    count: closing',
    says: [
      'In small.yaml, line 74, column 13, closures.abdomen.sites.1 names the site "chest", but the sites are abdomen.',
    ],
  },
  {
    title: 'a closure closes something',
    from: 'sites: [abdomen]\n    count: closing',
    to: 'sites: []\n    count: closing',
    says: [
      'In small.yaml, line 74, column 5, closures.abdomen.sites is a list of 0, but should be a list of 1 to 10.',
    ],
  },
  {
    title: 'a closure needs a count that exists',
    from: 'count: closing',
    to: 'count: second',
    says: [
      'In small.yaml, line 75, column 12, closures.abdomen.count is "second", but should be cavity, closing or final.',
    ],
  },
  {
    title: 'a closure needs a count that is made before it closes',
    from: 'count: closing',
    to: 'count: first',
    says: [
      'In small.yaml, line 75, column 12, closures.abdomen.count is "first", but should be cavity, closing or final.',
    ],
  },
  {
    title: 'a closure needs a count of this sheet',
    from: 'count: closing',
    to: 'count: cavity',
    says: [
      'In small.yaml, line 75, column 12, closures.abdomen.count names the count "cavity", but the counts of the sheet are first, added, closing, final, relief and extra.',
    ],
  },
  {
    title: 'what is in use is a line of the sheet',
    from: 'in-use: [port]',
    to: 'in-use: [ports]',
    says: [
      'In small.yaml, line 76, column 14, closures.abdomen.in-use.1 names the line "ports", but the lines are swab, loop, ligature, tube, reel, stone and port; perhaps "port" is meant.',
    ],
  },
  {
    title: 'nothing is in use at the last closure',
    from: 'count: final',
    to: 'count: final\n    in-use: [port]',
    says: [
      'In small.yaml, line 97, column 5, closures.skin.in-use is said of the last closure with the variants keyhole, but should be left out, since nothing is closed after it.',
    ],
  },
  {
    title: 'nothing is in use at the last closure of any variant',
    from: '  skin:\n    name: Skin',
    to: '  skin:\n    when: { variant: open }\n    name: Skin',
    says: [
      'In small.yaml, line 76, column 5, closures.abdomen.in-use is said of the last closure with the variants keyhole, but should be left out, since nothing is closed after it.',
    ],
  },
  {
    title: 'every site is closed by something',
    from: '  abdomen: { name: Abdomen, kind: cavity }',
    to: '  abdomen: { name: Abdomen, kind: cavity }\n  neck: { name: Neck, kind: wound }',
    says: [
      'In small.yaml, line 7, column 3, sites.neck is closed by nothing with the variants keyhole, but should be under the sites of a closure.',
    ],
  },
  {
    title: 'two closures have two names',
    from: '  skin:\n    name: Skin',
    to: '  skin:\n    id: abdomen\n    name: Skin',
    says: [
      'In small.yaml, line 93, column 3, closures.skin is said a second time, after another closure abdomen, but should have an id of its own, unless their variants can never be chosen together.',
    ],
  },
  {
    title: 'a change names a line of the sheet',
    from: '- line: swab',
    to: '- line: swap',
    says: [
      'In small.yaml, line 106, column 5, changes.1 changes "swap", but the sheet has swab, loop, ligature, tube, reel, stone and port; perhaps "swab" is meant.',
    ],
  },
  {
    title: 'a change names something',
    from: '- line: swab\n',
    to: '- reason2: x\n',
    says: [
      'In small.yaml, line 106, column 5, changes.1.reason2 is not a word of the format here, which has line, checkpoint, closure, step, section, medicine, policy, who-items, set, to, drop, new-line, new-step, reason, approved-by and approved-on; perhaps "reason" is meant.',
      'In small.yaml, line 106, column 5, changes.1 is a change of nothing, but should be line, step (with checkpoint or closure), medicine, policy or who-items.',
    ],
  },
  {
    title: 'a change says what is new',
    from: '    set: { opening: 5 }\n',
    to: '',
    says: [
      'In small.yaml, line 106, column 5, changes.1.set is missing, but should be what is new.',
    ],
  },
  {
    title: 'a change sets what can be changed',
    from: 'set: { opening: 5 }',
    to: 'set: { openings: 5 }',
    says: [
      'In small.yaml, line 107, column 12, changes.1.set.openings is not a word of the format here, which has name, detail, opening, pack, together, dry-g, ask, short, dose-mg, window-minutes, redose-hours and at-hand; perhaps "opening" is meant.',
    ],
  },
  {
    title: 'a changed quantity is checked where it is written',
    from: 'set: { opening: 5 }',
    to: 'set: { opening: 3 }',
    says: [
      'In small.yaml, line 107, column 21, sections.swabs.lines.swab.opening is 3, but should be whole packs of 5.',
    ],
  },
  {
    title: 'a changed word is checked where it is written',
    from: 'set: { opening: 5 }',
    to: 'set: { name: "" }',
    says: [
      'In small.yaml, line 107, column 18, changes.1.set.name is "", but should be a text of 1 to 120 letters.',
      'In small.yaml, line 107, column 18, sections.swabs.lines.swab.name is "", but should be a text of 1 to 120 letters.',
    ],
  },
  {
    title: 'a line has no question to change',
    from: 'set: { opening: 5 }',
    to: 'set: { ask: Why? }',
    says: [
      'In small.yaml, line 107, column 12, sections.swabs.lines.swab.ask is not a word of the format here, which has name, detail, group, together, class, opening, pack, tracked, counted, stay, starts-in, film, size-mm, length-mm, cuttable, brings, dry-g, codes, turns and source.',
    ],
  },
  {
    title: 'a change has a reason',
    from: '    reason: We open one pack\n',
    to: '',
    says: [
      'In small.yaml, line 106, column 5, changes.1.reason is missing, but should be a text of 1 to 300 letters (why).',
    ],
  },
  {
    title: 'a change has an approver',
    from: '    approved-by: Testcase, Ash\n',
    to: '',
    says: [
      'In small.yaml, line 106, column 5, changes.1.approved-by is missing, but should be a text of 1 to 120 letters (who approved it).',
    ],
  },
  {
    title: 'a change has a day',
    from: 'approved-on: 2026-01-05',
    to: 'approved-on: yesterday',
    says: [
      'In small.yaml, line 110, column 18, changes.1.approved-on is "yesterday", but should be a day such as 2026-01-05.',
    ],
  },
  {
    title: 'a dropped step is one of the sheet',
    from: '- line: swab\n    set: { opening: 5 }',
    to: '- checkpoint: time-out\n    step: imagin\n    drop: yes',
    says: [
      'In small.yaml, line 106, column 5, changes.1 changes "imagin", but the sheet has introductions, patient-procedure, antibiotic, critical-steps, anaesthetist-worries, sterility, imaging and stones; perhaps "imaging" is meant.',
    ],
  },
  {
    title: 'a changed policy number is one of the policy',
    from: '- line: swab\n    set: { opening: 5 }',
    to: '- policy: child-age\n    to: 16',
    says: [
      'In small.yaml, line 106, column 5, changes.1 changes "child-age", but the sheet has child-under-years, blood-loss-ml, child-blood-loss-ml-per-kg, film-reliable-mm, film-poor-mm, interrupted-count, redose-blood-loss-ml and seconds-per-step.',
    ],
  },
  {
    title: 'a changed policy number says what it is now',
    from: '- line: swab\n    set: { opening: 5 }',
    to: '- policy: child-under-years',
    says: [
      'In small.yaml, line 106, column 5, changes.1.to is missing, but should be what is new.',
    ],
  },
  {
    title: 'a changed medicine is one of the sheet',
    from: '- line: swab\n    set: { opening: 5 }',
    to: '- medicine: cefurxime\n    set: { window-minutes: 30 }',
    says: [
      'In small.yaml, line 106, column 5, changes.1 changes "cefurxime", but the sheet has cefuroxime; perhaps "cefuroxime" is meant.',
    ],
  },
];

test.each(mistakes)('$title', ({ from, to, says }) => {
  expect(said(damaged(from, to))).toEqual(says);
});
