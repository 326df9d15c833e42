import { expect, test } from 'vitest';
import { debriefOf } from '#practice/debrief.ts';
import { atFirst, follow } from '#practice/follow.ts';
import { liesThere, told } from '#practice/told.ts';
import { practised, scriptOf, scripts, until } from '../support/practised.ts';

const sentences = (tone: 'caught' | 'missed', now: ReturnType<typeof practised>) =>
  debriefOf(now)
    .findings.filter((finding) => finding.tone === tone)
    .map(({ sentence }) => sentence);

const swabs = (now: ReturnType<typeof practised>) => ({
  field: liesThere(now, { line: 'swab', part: 'field' }),
  off: liesThere(now, { line: 'swab', part: 'off' }),
});

test('there are three practice cases of rising difficulty, each about nobody', () => {
  expect(scripts.map(({ level }) => level)).toEqual([1, 2, 3]);
  expect(scripts.map(({ patient }) => patient.number)).toEqual([
    'PRACTICE-1',
    'PRACTICE-2',
    'PRACTICE-3',
  ]);
  for (const { patient } of scripts) expect(patient.name).toMatch(/TESTCASE|ENSAYO|PRUEBA/);
});

test.each([1, 2, 3])(
  'case %i: the worked solution is told scene by scene, and catches it all',
  (level) => {
    const script = scriptOf(level);
    const now = practised(level);
    const ids: string[] = [];
    let so = atFirst(script);
    for (const event of now.live) {
      so = follow(so, event);
      const { id } = told(so);
      if (!ids.includes(id)) ids.push(id);
    }
    const scenes = script.scenes.map(({ id }) => id);
    const seen = ids.filter((id) => scenes.includes(id));
    expect(seen).toEqual(scenes.slice(scenes.indexOf(seen[0] ?? '')));
    expect(told(now).isOver).toBe(true);
    expect(sentences('missed', now)).toEqual([]);
    expect(sentences('caught', now).length).toBeGreaterThan(1);
  },
);

test('case 1: what slid in is not in sight, and nobody is told', () => {
  const before = practised(1, until(1, '  - move: { line: swab, from: patient, to: off, n: 2 }'));
  expect(swabs(before)).toEqual({ field: 2, off: 0 }); // two inside by the record, one unknown
  const after = practised(1, until(1, '  - look: { closure: abdomen'));
  expect(swabs(after)).toEqual({ field: 2, off: 2 });
  const told1 = told(after);
  expect(`${told1.do} ${told1.why}`).not.toMatch(/missing|slid|third/);
});

const byHeart = '  - count: { moment: closing, found: usual }\n';
const closingDone =
  '  - close: { closure: abdomen }\n  - move: { line: port-12-cannula, from: patient';

test('case 1, counted by heart: the swab stays inside, and the wrong numbers are told', () => {
  const now = practised(
    1,
    until(
      1,
      '  # Five swabs were opened',
      `${byHeart}${closingDone}, to: table, n: 1 }
  - count: { moment: final, found: usual }
  - close: { closure: skin }
  - specimen: { id: appendix, step: handedOver, to: porter }
  - checkpoint: { id: sign-out, answers: usual }
  - finish: {}
`,
    ),
  );
  expect(sentences('missed', now)).toEqual([
    'A swab was left in the patient.',
    'It lay behind the bowel.',
    'Abdomen was closed while it lay behind the bowel.',
    'At the closing count you said 5 of Swab 10 × 10; 4 lay there.',
    'At the final count you said 5 of Swab 10 × 10; 4 lay there.',
  ]);
  expect(debriefOf(now).verdict).toMatch(/^Reconciled/); // the record cannot know it
});

test('case 1, found at the final count: caught, and late', () => {
  const now = practised(
    1,
    until(
      1,
      '  # Five swabs were opened',
      `${byHeart}${closingDone}, to: table, n: 1 }
  - count: { moment: final, except: { swab: { field: 2, off: 2 } } }
  - recount: { lines: { swab: { field: 2, off: 2 } }, by: [circulator, scrub] }
  - discrepancy: { line: swab, step: field-searched, by: surgeon }
  - discrepancy: { line: swab, step: found, from: table, place: off }
  - recount: { lines: { swab: { field: 2, off: 3 } } }
  - recount: { lines: { swab: { field: 2, off: 3 } } }
`,
    ),
  );
  expect(sentences('caught', now)[0]).toMatch(/^The swab that nobody saw go in was found/);
  expect(sentences('missed', now)).toEqual([
    'Abdomen was closed while it lay behind the bowel.',
    'At the closing count you said 5 of Swab 10 × 10; 4 lay there.',
    'Swab 10 × 10: telling the surgeon and reading the record back was left out.',
  ]);
});

test('case 1, said to be found before anybody looked: it is not found by that', () => {
  const now = practised(
    1,
    until(
      1,
      '  - discrepancy: { line: swab, step: field-searched',
      `  - discrepancy: { line: swab, step: found, from: table, place: off }
`,
    ),
  );
  expect(swabs(now)).toEqual({ field: 2, off: 2 });
  expect(sentences('missed', now)).toContain(
    'You said that Swab 10 × 10 was found. Nobody had found it.',
  );
});

test('case 1, declared: it is not found, and the record hides nothing', () => {
  const now = practised(
    1,
    until(
      1,
      '  - discrepancy: { line: swab, step: field-searched',
      `  - discrepancy: { line: swab, step: field-searched, skip: in a hurry }
  - discrepancy: { line: swab, step: room-searched }
  - discrepancy: { line: swab, step: xray, readBy: Probe, wholeField: true, result: nothing-seen }
  - declare: { line: swab, n: 1, from: table, reason: nowhere, by: [surgeon, circulator] }
`,
    ),
  );
  expect(sentences('missed', now)).toContain('A swab was left in the patient.');
  expect(sentences('caught', now)).toContain(
    'It was declared unaccounted for: the record hides nothing.',
  );
});

test('another lawful order is as good: what is done already is not asked again', () => {
  const now = practised(
    1,
    until(
      1,
      '  - move: { line: port-12-cannula',
      '  - move: { line: swab, from: table, to: patient, n: 2 }\n',
    ),
  );
  expect(told(now).id).toBe('port');
  const both = practised(
    1,
    [
      '  - move: { line: port-12-cannula, from: table, to: patient, n: 1 }\n  - move: { line: swab, from: table, to: patient, n: 2 }',
      '  - move: { line: swab, from: table, to: patient, n: 2 }\n  - move: { line: port-12-cannula, from: table, to: patient, n: 1 }',
    ],
    until(1, '  - specimen: { id: appendix, step: taken'),
  );
  expect(told(both).id).toBe('appendix');
});

test('an entry that was taken back did not happen, and is asked again', () => {
  const now = practised(
    1,
    until(1, '  - specimen: { id: appendix, step: taken', '  - correct: { last: 1 }\n'),
  );
  expect(told(now).id).toBe('swabs-in');
  expect(swabs(now)).toEqual({ field: 5, off: 0 });
});

test('a count that has gone stale is asked again', () => {
  const now = practised(
    1,
    until(
      1,
      '  - close: { closure: abdomen }\n  - move',
      '  - add: { line: large-swab, packs: [5] }\n',
    ),
  );
  expect(told(now).id).toBe('closing-count');
});

test('case 2: the tube is not in the field; who searches the room has it in the hand', () => {
  const off = (now: ReturnType<typeof practised>) =>
    liesThere(now, { line: 'loop-pusher', part: 'off' });
  const field = practised(
    2,
    until(2, '  - discrepancy: { line: loop-pusher, step: room-searched }'),
  );
  expect(off(field)).toBe(0);
  expect(told(field).do).toMatch(/^It is not in the field. Search linen, bins/);
  const room = practised(2, until(2, '  - discrepancy: { line: loop-pusher, step: found'));
  expect(off(room)).toBe(1);
  expect(told(room).do).toMatch(/^You open the waste bag/);
});

test('case 2: a whole tray lies there in its number', () => {
  const now = practised(2, until(2, '  - add: { line: loop'));
  expect(liesThere(now, { line: 'lap-tray', part: 'field' })).toBe(44);
  expect(liesThere(now, { line: 'swab', part: 'field', pack: 1 })).toBe(5);
  expect(liesThere(now, { line: 'swab', part: 'field', pack: 2 })).toBe(0); // ten lie there, in two packs
});

const asFive = [
  '  - add: { line: large-swab, packs: [6] }\n    warned: pack-set-aside\n',
  '',
] as const;

test('case 3: the pack in the hand holds six, and says so only by what lies there', () => {
  const now = practised(3, until(3, '  # The label of the pack'));
  expect(told(now).hand).toMatchObject({ kind: 'pack', size: 5, pieces: 6 });
  const again = practised(3, until(3, '  - add: { line: large-swab, packs: [5] }'));
  expect(told(again).hand).toMatchObject({ kind: 'pack', size: 5, pieces: 5 });
});

test('case 3, six taken as five: the count agrees while one is inside, then there is one too many', () => {
  const counted = practised(
    3,
    asFive,
    until(
      3,
      '  - look: { closure: abdomen',
      `  - count: { moment: closing, except: { large-swab: { field: 7, off: 3 } } }
  - expect: { holds: { abdomen: [piece-inside, look-open] }, difference: { large-swab: 0 } }
`,
    ),
  );
  expect(counted.miscounts).toEqual([]);

  const found = practised(
    3,
    asFive,
    until(
      3,
      '  - count: { moment: closing, found: usual }',
      `  - count: { moment: closing, except: { large-swab: { field: 7, off: 4 } } }
  - recount: { lines: { large-swab: { field: 7, off: 4 } }, by: [circulator, scrub] }
  - discrepancy: { line: large-swab, step: surgeon-told, by: surgeon }
  - discrepancy: { line: large-swab, step: record-read }
`,
    ),
  );
  expect(told(found).do).toMatch(/^There is more of Large swab 45 × 45 than the record knows/);
  expect(sentences('missed', found)).toEqual([
    'The pack of five held six. One swab too many hides one that is left behind.',
  ]);
});

test('case 3, the last swab tapped out although nobody saw it: it is still inside', () => {
  const now = practised(
    3,
    until(
      3,
      '  - look: { closure: abdomen',
      '  - move: { line: large-swab, from: patient, to: off, n: 1 }\n',
    ),
  );
  expect(sentences('missed', now)).toContain(
    'You recorded Large swab 45 × 45 as moved. Nobody had seen it.',
  );
  expect(liesThere(now, { line: 'large-swab', part: 'off' })).toBe(3);
});

const noNewLabel = [
  '  - note: { text: "Practice: the label was destroyed before two people and printed anew." }\n',
  '',
] as const;

test('case 3: the wrong label is in the hand until it is destroyed', () => {
  const says = (now: ReturnType<typeof practised>) => JSON.stringify(told(now).hand);
  const wrong = practised(3, until(3, '  - specimen:\n      id: appendix'));
  expect(says(wrong)).toContain('PRACTICE-33');
  const right = practised(
    3,
    until(3, '  - specimen: { id: appendix, step: labelled, label: usual }'),
  );
  expect(says(right)).not.toContain('PRACTICE-33');
  expect(says(right)).toContain('PRACTICE-3 ');
});

test('case 3, the label called right: missed, unless the second person sees it', () => {
  const passed = practised(
    3,
    noNewLabel,
    until(3, '  - move: { line: large-swab, from: patient, to: off'),
  );
  expect(sentences('missed', passed)).toContain(
    'The pot went away with the label of another patient.',
  );

  const seen = practised(
    3,
    noNewLabel,
    until(
      3,
      '  - specimen: { id: appendix, step: readBack, by: scrub }',
      `  - specimen: { id: appendix, step: readBack, by: scrub, agrees: false, reason: another name }
`,
    ),
  );
  expect(sentences('caught', seen)).toContain(
    'The second person saw it when the label was read back.',
  );
});
