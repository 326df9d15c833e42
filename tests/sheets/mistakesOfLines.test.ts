import { expect, test } from 'vitest';
import { damaged, said } from './small.ts';

/** Sections, lines, turns and variants. */
const mistakes = [
  {
    title: 'two lines have names that can be told apart aloud',
    from: 'tube: { name: Tube }',
    to: 'tube: { name: loop }',
    says: [
      'In small.yaml, line 33, column 21, sections.things.lines.tube.name is said a second time, after the line loop, but should be a name of its own.',
    ],
  },
  {
    title: 'a quantity is a number',
    from: 'opening: 10,',
    to: 'opening: ten,',
    says: [
      'In small.yaml, line 17, column 36, sections.swabs.lines.swab.opening is "ten", but should be a whole number from 0 to 999.',
    ],
  },
  {
    title: 'a quantity is at most 999',
    from: 'opening: 10,',
    to: 'opening: 1000,',
    says: [
      'In small.yaml, line 17, column 36, sections.swabs.lines.swab.opening is 1000, but should be a whole number from 0 to 999.',
    ],
  },
  {
    title: 'a quantity is whole',
    from: 'opening: 10,',
    to: 'opening: 2.5,',
    says: [
      'In small.yaml, line 17, column 36, sections.swabs.lines.swab.opening is 2.5, but should be a whole number from 0 to 999.',
    ],
  },
  {
    title: 'an opening is whole packs',
    from: 'opening: 5 }',
    to: 'opening: 3 }',
    says: [
      'In small.yaml, line 107, column 21, sections.swabs.lines.swab.opening is 3, but should be whole packs of 5.',
    ],
  },
  {
    title: 'a pack holds at least one',
    from: 'pack: 5',
    to: 'pack: 0',
    says: [
      'In small.yaml, line 17, column 46, sections.swabs.lines.swab.pack is 0, but should be a whole number from 1 to 100.',
    ],
  },
  {
    title: 'a misspelt word of a line is told with the likely one',
    from: 'opening: 10,',
    to: 'openning: 10,',
    says: [
      'In small.yaml, line 17, column 27, sections.swabs.lines.swab.openning is not a word of the format here, which has name, detail, group, together, class, opening, pack, tracked, counted, stay, starts-in, film, size-mm, length-mm, cuttable, brings, dry-g, codes, turns and source; perhaps "opening" is meant.',
    ],
  },
  {
    title: 'a swab is tracked',
    from: 'opening: 10,',
    to: 'opening: 10, tracked: no,',
    says: [
      'In small.yaml, line 17, column 49, sections.swabs.lines.swab.tracked is no, but should be yes, since it is a swab and can be wholly inside.',
    ],
  },
  {
    title: 'a swab is never cut',
    from: 'opening: 10,',
    to: 'opening: 10, cuttable: yes,',
    says: [
      'In small.yaml, line 17, column 50, sections.swabs.lines.swab.cuttable is yes, but should be no, since a counted swab is never cut.',
    ],
  },
  {
    title: 'a swab never turns into something else',
    from: 'pack: 5 }',
    to: 'pack: 5, turns: { cut: { name: Cut, gives: [{ line: tube, place: here }] } } }',
    says: [
      'In small.yaml, line 17, column 58, sections.swabs.lines.swab.turns.cut is a turn of a swab, but should be left out, since a counted swab stays whole.',
    ],
  },
  {
    title: 'a class is one of four',
    from: 'class: swab',
    to: 'class: sponge',
    says: [
      'In small.yaml, line 14, column 12, sections.swabs.class is "sponge", but should be swab, sharp, small or instrument.',
    ],
  },
  {
    title: 'a line has a class, or its section has',
    from: '    class: swab\n',
    to: '',
    says: [
      'In small.yaml, line 16, column 7, sections.swabs.lines.swab.class is missing, but should be swab, sharp, small or instrument, here or at the section.',
    ],
  },
  {
    title: 'a line has a source, or its section has',
    from: '    source: common practice, no source\n    lines:\n      swab',
    to: '    lines:\n      swab',
    says: [
      'In small.yaml, line 16, column 7, sections.swabs.lines.swab.source is missing, but should be where it comes from, here or at the section ("common practice, no source" where so).',
    ],
  },
  {
    title: 'what starts in the patient is known from one of three',
    from: 'starts-in: imaging',
    to: 'starts-in: scan',
    says: [
      'In small.yaml, line 42, column 40, sections.things.lines.stone.starts-in is "scan", but should be imaging, earlier-operation or seen.',
    ],
  },
  {
    title: 'counted is yes or no',
    from: 'starts-in: imaging, counted: no',
    to: 'starts-in: imaging, counted: maybe',
    says: [
      'In small.yaml, line 42, column 58, sections.things.lines.stone.counted is "maybe", but should be yes or no.',
    ],
  },
  {
    title: 'what is counted together has others in its group',
    from: 'tube: { name: Tube }',
    to: 'tube: { name: Tube, together: yes }',
    says: [
      'In small.yaml, line 33, column 37, sections.things.lines.tube.together is yes, but should be no, since no other line of its group has it.',
    ],
  },
  {
    title: 'a swab is counted by itself',
    from: 'opening: 10,',
    to: 'opening: 10, group: Pack, together: yes,',
    says: [
      'In small.yaml, line 17, column 63, sections.swabs.lines.swab.together is yes, but should be no, since swabs, sharps and packs are each counted by themselves.',
    ],
  },
  {
    title: 'what starts in the patient is tracked',
    from: 'starts-in: imaging, counted: no',
    to: 'starts-in: imaging, tracked: no',
    says: [
      'In small.yaml, line 42, column 58, sections.things.lines.stone.tracked is no, but should be yes, since it is something that starts in the patient and can be wholly inside.',
    ],
  },
  {
    title: 'what may stay is tracked',
    from: 'ligature: { name: Ligature, stay: yes }',
    to: 'ligature: { name: Ligature, stay: yes, tracked: no }',
    says: [
      'In small.yaml, line 32, column 55, sections.things.lines.ligature.tracked is no, but should be yes, since it is something that may stay inside and can be wholly inside.',
    ],
  },
  {
    title: 'what a turn leaves inside is tracked',
    from: 'tube: { name: Tube }',
    to: 'tube: { name: Tube, tracked: no }',
    says: [
      'In small.yaml, line 33, column 36, sections.things.lines.tube.tracked is no, but should be yes, since it is something that a turn leaves in the patient and can be wholly inside.',
    ],
  },
  {
    title: 'what turns inside is tracked',
    from: 'name: Loop\n',
    to: 'name: Loop\n        tracked: no\n',
    says: [
      'In small.yaml, line 25, column 18, sections.things.lines.loop.tracked is no, but should be yes, since it is something that turns in the patient and can be wholly inside.',
    ],
  },
  {
    title: 'what is in use inside is tracked',
    from: 'port: { name: Port,',
    to: 'port: { name: Port, tracked: no,',
    says: [
      'In small.yaml, line 43, column 36, sections.things.lines.port.tracked is no, but should be yes, since it is something in use inside at a closure and can be wholly inside.',
    ],
  },
  {
    title: 'a turn lets nothing stay that may not',
    from: 'ligature: { name: Ligature, stay: yes }',
    to: 'ligature: { name: Ligature }',
    says: [
      'In small.yaml, line 30, column 42, sections.things.lines.loop.turns.placed.gives.1.place is "stays", but should be another place, or the line ligature should have stay.',
    ],
  },
  {
    title: 'staying is no, yes or what must be said',
    from: 'ligature: { name: Ligature, stay: yes }',
    to: 'ligature: { name: Ligature, stay: sometimes }',
    says: [
      'In small.yaml, line 32, column 41, sections.things.lines.ligature.stay is "sometimes", but should be yes or no, or a list of reason, where and lot.',
    ],
  },
  {
    title: 'what must be said is reason, where or lot',
    from: 'ligature: { name: Ligature, stay: yes }',
    to: 'ligature: { name: Ligature, stay: [reason, when] }',
    says: [
      'In small.yaml, line 32, column 50, sections.things.lines.ligature.stay.2 is "when", but should be reason, where or lot.',
    ],
  },
  {
    title: 'an empty list of what must be said is no rule',
    from: 'ligature: { name: Ligature, stay: yes }',
    to: 'ligature: { name: Ligature, stay: [] }',
    says: [
      'In small.yaml, line 32, column 35, sections.things.lines.ligature.stay is a list of 0, but should be a list of 1 to 3.',
    ],
  },
  {
    title: 'a film shows it, or not, or it varies',
    from: 'size-mm: 12',
    to: 'film: sometimes',
    says: [
      'In small.yaml, line 43, column 45, sections.things.lines.port.film is "sometimes", but should be yes, no or varies.',
    ],
  },
  {
    title: 'a size is a number',
    from: 'size-mm: 12',
    to: 'size-mm: 12mm',
    says: [
      'In small.yaml, line 43, column 48, sections.things.lines.port.size-mm is "12mm", but should be a number from 0.1 to 10000.',
    ],
  },
  {
    title: 'a turn gives lines of the sheet',
    from: '{ line: tube, place: patient }',
    to: '{ line: tubes, place: patient }',
    says: [
      'In small.yaml, line 31, column 25, sections.things.lines.loop.turns.placed.gives.2.line names the line "tubes", but the lines are swab, loop, ligature, tube, reel, stone and port; perhaps "tube" is meant.',
    ],
  },
  {
    title: 'a turn gives to a place',
    from: '{ line: tube, place: patient }',
    to: '{ line: tube, place: pocket }',
    says: [
      'In small.yaml, line 31, column 38, sections.things.lines.loop.turns.placed.gives.2.place is "pocket", but should be here, patient, table, off or stays.',
    ],
  },
  {
    title: 'a turn gives at least one piece',
    from: '{ line: tube, place: patient }',
    to: '{ line: tube, n: 0, place: patient }',
    says: [
      'In small.yaml, line 31, column 34, sections.things.lines.loop.turns.placed.gives.2.n is 0, but should be a whole number from 1 to 999 or asked.',
    ],
  },
  {
    title: 'a turn says where each piece is',
    from: '{ line: tube, place: patient }',
    to: '{ line: tube }',
    says: [
      'In small.yaml, line 31, column 17, sections.things.lines.loop.turns.placed.gives.2.place is missing, but should be here, patient, table, off or stays (where it is then).',
    ],
  },
  {
    title: 'a turn gives something',
    from: '            gives:\n              - { line: ligature, place: stays }\n              - { line: tube, place: patient }',
    to: '            gives: []',
    says: [
      'In small.yaml, line 29, column 13, sections.things.lines.loop.turns.placed.gives is a list of 0, but should be a list of 1 to 20.',
    ],
  },
  {
    title: 'a number that is asked for has a name',
    from: '            asks: lengths\n',
    to: '',
    says: [
      'In small.yaml, line 38, column 11, sections.things.lines.reel.turns.cut.asks is missing, but should be what is asked for, since a line has n: asked.',
    ],
  },
  {
    title: 'what is asked for is used',
    from: 'n: asked, ',
    to: 'n: 3, ',
    says: [
      'In small.yaml, line 40, column 19, sections.things.lines.reel.turns.cut.asks is "lengths", but should be left out, or a line that begins should have n: asked.',
    ],
  },
  {
    title: 'a turn happens in the patient, on the table or anywhere',
    from: '            at: patient\n',
    to: '            at: inside\n',
    says: [
      'In small.yaml, line 28, column 17, sections.things.lines.loop.turns.placed.at is "inside", but should be patient, table or any.',
    ],
  },
  {
    title: 'what comes along is a line of the sheet',
    from: 'brings: { tube: 1 }',
    to: 'brings: { tueb: 1 }',
    says: [
      'In small.yaml, line 36, column 25, sections.things.lines.reel.brings.tueb names the line "tueb", but the lines are swab, loop, ligature, tube, reel, stone and port; perhaps "tube" is meant.',
    ],
  },
  {
    title: 'a line does not bring itself',
    from: 'brings: { tube: 1 }',
    to: 'brings: { reel: 1 }',
    says: [
      'In small.yaml, line 36, column 25, sections.things.lines.reel.brings.reel is the line itself, but should be another line.',
    ],
  },
  {
    title: 'a line stands in one section',
    from: 'tube: { name: Tube }',
    to: 'tube: { name: Tube }\n      swab: { name: Tube }',
    says: [
      'In small.yaml, line 34, column 7, sections.things.lines.swab is said a second time, after the section swabs, but should be said once.',
    ],
  },
  {
    title: 'a line is written once',
    from: 'tube: { name: Tube }',
    to: 'tube: { name: Tube }\n      tube: { name: Tube }',
    says: [
      'In small.yaml, line 34, column 7, sections.things.lines.tube is said a second time, after line 33, but should be said once.',
    ],
  },
  {
    title: 'the name of fragments is kept for them',
    from: 'tube: { name: Tube }',
    to: 'tube: { name: Tube }\n      loop-fragment: { name: Part }',
    says: [
      'In small.yaml, line 34, column 7, sections.things.lines.loop-fragment is "loop-fragment", but should be another name, since the fragments of a broken loop get this one.',
    ],
  },
  {
    title: 'a name that programs use themselves is no line',
    from: 'tube: { name: Tube }',
    to: 'tube: { name: Tube }\n      constructor: { name: Part }',
    says: [
      'In small.yaml, line 34, column 7, sections.things.lines.constructor is "constructor", but should be a short name of small letters, digits and hyphens that begins with a letter.',
    ],
  },
  {
    title: 'a line has a short name without capitals',
    from: 'tube: { name: Tube }',
    to: 'tube: { name: Tube }\n      Big-Tube: { name: Part }',
    says: [
      'In small.yaml, line 34, column 7, sections.things.lines.Big-Tube is "Big-Tube", but should be a short name of small letters, digits and hyphens that begins with a letter.',
    ],
  },
  {
    title: 'a variant opens lines of the sheet',
    from: 'opens: { swab: 5 }',
    to: 'opens: { swap: 5 }',
    says: [
      'In small.yaml, line 10, column 40, variants.approach.open.opens.swap names the line "swap", but the lines are swab, loop, ligature, tube, reel, stone and port; perhaps "swab" is meant.',
    ],
  },
  {
    title: 'a variant opens whole packs',
    from: 'opens: { swab: 5 }',
    to: 'opens: { swab: 4 }',
    says: [
      'In small.yaml, line 10, column 40, variants.approach.open.opens.swab is 4, but should be whole packs of 5.',
    ],
  },
  {
    title: 'a variant leaves out no more than there is',
    from: 'opens: { swab: 5 }',
    to: 'without: { port: 4 }',
    says: [
      'In small.yaml, line 10, column 42, variants.approach.open.without.port is 4, but should be at most the opening of the line, 3.',
    ],
  },
  {
    title: 'a case does not begin with a conversion',
    from: 'keyhole: { name: Keyhole }',
    to: 'keyhole: { name: Keyhole, choose: mid-case }',
    says: [
      'In small.yaml, line 9, column 39, variants.approach.keyhole.choose is mid-case, but should be said of no first variant of a group.',
    ],
  },
  {
    title: 'only the first of a group stands for nothing chosen',
    from: 'opens: { swab: 5 }',
    to: 'choose: never',
    says: [
      'In small.yaml, line 10, column 33, variants.approach.open.choose is never, but should be said only of the first of its group.',
    ],
  },
  {
    title: 'where nothing is chosen, something can be',
    from: 'keyhole: { name: Keyhole }\n    open: { name: Open, opens: { swab: 5 } }',
    to: 'keyhole: { name: Keyhole, choose: never }',
    says: [
      'In small.yaml, line 9, column 39, variants.approach.keyhole.choose is never, but should be said where another can be chosen.',
    ],
  },
  {
    title: 'a variant stands in one group',
    from: 'open: { name: Open, ',
    to: 'open: { name: Open }\n  second:\n    keyhole: { name: Keyhole, ',
    says: [
      'In small.yaml, line 12, column 5, variants.second.keyhole is said a second time, after the group approach, but should be said once.',
    ],
  },
];

test.each(mistakes)('$title', ({ from, to, says }) => {
  expect(said(damaged(from, to))).toEqual(says);
});
