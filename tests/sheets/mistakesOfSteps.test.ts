import { expect, test } from 'vitest';
import { damaged, said } from './small.ts';

/** Checkpoints, last looks and their steps. */
const mistakes = [
  {
    title: 'a WHO item is not left out in silence',
    from: '      imaging: shared\n      stones',
    to: '      stones',
    says: [
      'In small.yaml, line 46, column 3, checkpoints.time-out leaves out WHO item 14 (imaging displayed), but should have a step for each, or a change that leaves it out by number, with reason and approver.',
    ],
  },
  {
    title: 'a WHO item stays in its checkpoint',
    from: 'sign-out: shared',
    to: 'sign-out: shared\n  pause:\n    name: Pause\n    before: skin\n    leader: surgeon\n    present: [surgeon]\n    steps:\n      imaging: shared',
    says: [
      'In small.yaml, line 69, column 5, checkpoints.pause.steps asks WHO item 14 (imaging displayed), but should leave it to time-out.',
    ],
  },
  {
    title: 'a checkpoint of our own says its name, act, leader and people',
    from: 'sign-out: shared',
    to: 'sign-out: shared\n  pause:\n    steps:\n      introductions2: { who: surgeon, ask: Ready?, short: Ready, source: none }',
    says: [
      'In small.yaml, line 64, column 3, checkpoints.pause.name is missing, but should be said, since pause is not one of the three checkpoints of the WHO list.',
      'In small.yaml, line 64, column 3, checkpoints.pause.before is missing, but should be said, since pause is not one of the three checkpoints of the WHO list.',
      'In small.yaml, line 64, column 3, checkpoints.pause.leader is missing, but should be said, since pause is not one of the three checkpoints of the WHO list.',
      'In small.yaml, line 64, column 3, checkpoints.pause.present is missing, but should be said, since pause is not one of the three checkpoints of the WHO list.',
    ],
  },
  {
    title: 'a checkpoint comes before something',
    from: '    steps:\n      introductions',
    to: '    before: incission\n    steps:\n      introductions',
    says: [
      'In small.yaml, line 48, column 13, checkpoints.time-out.before names "incission", but what can come after it is anaesthesia, incision, leaving, abdomen and skin; perhaps "incision" is meant.',
    ],
  },
  {
    title: 'who leads is there',
    from: '    steps:\n      introductions',
    to: '    leader: scrub\n    present: [surgeon]\n    steps:\n      introductions',
    says: [
      'In small.yaml, line 48, column 13, checkpoints.time-out.leader is "scrub", but should be one of those who must be present.',
    ],
  },
  {
    title: 'a checkpoint has steps',
    from: 'sign-in: shared',
    to: 'sign-in: shared\n  pause: { name: Pause, before: skin, leader: surgeon, present: [surgeon], steps: {} }',
    says: [
      'In small.yaml, line 46, column 76, checkpoints.pause.steps is missing, but should be at least one step.',
    ],
  },
  {
    title: 'somebody who exists answers',
    from: 'who: surgeon\n        ask: How',
    to: 'who: boss\n        ask: How',
    says: [
      'In small.yaml, line 57, column 14, checkpoints.time-out.steps.stones.who is "boss", but should be scrub, circulator, surgeon, anaesthetist, everyone, patient or midwife.',
    ],
  },
  {
    title: 'a question is asked',
    from: '        ask: How many stones does the imaging show?\n',
    to: '',
    says: [
      'In small.yaml, line 56, column 7, checkpoints.time-out.steps.stones.ask is missing, but should be a text of 1 to 300 letters (the question, as it is read aloud).',
    ],
  },
  {
    title: 'a question has a few words for lists',
    from: '        short: Stones\n',
    to: '',
    says: [
      'In small.yaml, line 56, column 7, checkpoints.time-out.steps.stones.short is missing, but should be a text of 1 to 48 letters (the same in a few words, for lists).',
    ],
  },
  {
    title: 'a step has a source, or its checkpoint has',
    from: '    source: common practice, no source\n    steps:',
    to: '    steps:',
    says: [
      'In small.yaml, line 55, column 7, checkpoints.time-out.steps.stones.source is missing, but should be where it comes from, here or above the steps ("common practice, no source" where so).',
    ],
  },
  {
    title: 'a step is answered in one of the known ways',
    from: 'answer: number',
    to: 'answer: numbers',
    says: [
      'In small.yaml, line 60, column 17, checkpoints.time-out.steps.stones.answer is "numbers", but should be confirm, number, time, text, first-count, counts, specimens, prophylaxis or left, or a list of answers; perhaps "number" is meant.',
    ],
  },
  {
    title: 'the usual number is a number',
    from: 'usual: 0',
    to: 'usual: many',
    says: [
      'In small.yaml, line 61, column 16, checkpoints.time-out.steps.stones.usual is "many", but should be a number from 0 to 99999.',
    ],
  },
  {
    title: 'a number says its usual answer',
    from: '        usual: 0\n',
    to: '',
    says: [
      'In small.yaml, line 56, column 7, checkpoints.time-out.steps.stones.usual is missing, but should be the answer of a case without trouble.',
    ],
  },
  {
    title: 'a number opens a line of the sheet',
    from: 'line: stone, site: abdomen',
    to: 'line: stones, site: abdomen',
    says: [
      'In small.yaml, line 62, column 24, checkpoints.time-out.steps.stones.opens.line names the line "stones", but the lines are swab, loop, ligature, tube, reel, stone and port; perhaps "stone" is meant.',
    ],
  },
  {
    title: 'a number opens a line that can start in the patient',
    from: 'line: stone, site: abdomen',
    to: 'line: port, site: abdomen',
    says: [
      'In small.yaml, line 62, column 24, checkpoints.time-out.steps.stones.opens.line is "port", but should be a line with starts-in, since it begins in the patient.',
    ],
  },
  {
    title: 'a number opens a line in a site of the sheet',
    from: 'line: stone, site: abdomen',
    to: 'line: stone, site: abdomn',
    says: [
      'In small.yaml, line 62, column 37, checkpoints.time-out.steps.stones.opens.site names the site "abdomn", but the sites are abdomen; perhaps "abdomen" is meant.',
    ],
  },
  {
    title: 'only a number opens a line',
    from: 'answer: number\n        usual: 0',
    to: 'answer: confirm',
    says: [
      'In small.yaml, line 61, column 9, checkpoints.time-out.steps.stones.opens is said, but should be left out, since only answer: number has opens.',
    ],
  },
  {
    title: 'the usual answer is one of the answers',
    from: 'usual: dry',
    to: 'usual: wet',
    says: [
      'In small.yaml, line 84, column 16, closures.abdomen.look.dry.usual is the answer "wet", but the answers are dry, treated and bleeding.',
    ],
  },
  {
    title: 'a choice says its usual answer',
    from: '        usual: dry\n',
    to: '',
    says: [
      'In small.yaml, line 79, column 7, closures.abdomen.look.dry.usual is missing, but should be the answer of a case without trouble.',
    ],
  },
  {
    title: 'what stops is one of the answers',
    from: 'stop-on: [bleeding]',
    to: 'stop-on: [bleding]',
    says: [
      'In small.yaml, line 85, column 19, closures.abdomen.look.dry.stop-on.1 is the answer "bleding", but the answers are dry, treated and bleeding; perhaps "bleeding" is meant.',
    ],
  },
  {
    title: 'what stops is not the usual answer',
    from: 'stop-on: [bleeding]',
    to: 'stop-on: [dry]',
    says: [
      'In small.yaml, line 85, column 19, closures.abdomen.look.dry.stop-on.1 is "dry", but should be an answer that is not the usual.',
    ],
  },
  {
    title: 'a choice has two answers',
    from: 'answer: [dry, treated, bleeding]\n        usual: dry\n        stop-on: [bleeding]',
    to: 'answer: [dry]\n        usual: dry',
    says: [
      'In small.yaml, line 83, column 9, closures.abdomen.look.dry.answer is one answer, but should be two answers or more.',
      'In small.yaml, line 91, column 33, closures.abdomen.look.why.when.is.1 is the answer "treated", but the answers are dry.',
    ],
  },
  {
    title: 'a condition names a step before it',
    from: 'when: { step: dry, is: [treated] }',
    to: 'when: { step: wet, is: [treated] }',
    says: [
      'In small.yaml, line 92, column 23, closures.abdomen.look.why.when.step names the step "wet", but the steps before it are dry.',
    ],
  },
  {
    title: 'a condition names an answer of that step',
    from: 'when: { step: dry, is: [treated] }',
    to: 'when: { step: dry, is: [treatd] }',
    says: [
      'In small.yaml, line 92, column 33, closures.abdomen.look.why.when.is.1 is the answer "treatd", but the answers are dry, treated and bleeding; perhaps "treated" is meant.',
    ],
  },
  {
    title: 'a condition on an answer names its step',
    from: 'when: { step: dry, is: [treated] }',
    to: 'when: { is: [treated] }',
    says: [
      'In small.yaml, line 92, column 9, closures.abdomen.look.why.when.step is missing, but should be the step that is meant.',
    ],
  },
  {
    title: 'a condition on a limit needs one',
    from: 'when: { step: dry, is: [treated] }',
    to: 'when: { step: dry, flagged: yes }',
    says: [
      'In small.yaml, line 92, column 37, closures.abdomen.look.why.when.flagged is said, but should be left out, since dry has no flag.',
    ],
  },
  {
    title: 'a condition names a variant of the sheet',
    from: 'when: { step: dry, is: [treated] }',
    to: 'when: { variant: laparotomy }',
    says: [
      'In small.yaml, line 92, column 26, closures.abdomen.look.why.when.variant.1 names the variant "laparotomy", but the variants are keyhole and open.',
    ],
  },
];

test.each(mistakes)('$title', ({ from, to, says }) => {
  expect(said(damaged(from, to))).toEqual(says);
});
