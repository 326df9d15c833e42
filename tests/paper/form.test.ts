import { expect, test } from 'vitest';
import type { Case } from '../../src/engine/state.ts';
import { paperDocument } from '../../src/paper/document.ts';
import { paperForm } from '../../src/paper/form.ts';
import { type Element, htmlOf, type Leaf, wordsOf } from '../../src/paper/tree.ts';
import { toIncision } from '../../src/rehearsal/finish.ts';
import { inside } from '../../src/rehearsal/having.ts';
import { act, opened, type Play } from '../../src/rehearsal/play.ts';
import { counted } from '../../src/rehearsal/usual.ts';
import { loadSheets } from '../../src/sheets/loadSheets.ts';

const loaded = loadSheets('checklists');
const sheets = loaded.ok ? loaded.sheets : [];
const teaching = sheets.find(({ id }) => id === 'ports-and-swabs');
if (!teaching) throw new Error('the teaching sheet is not there');

/** A case of the teaching sheet just after its incision. */
function started(): Play {
  const play = teaching && opened(teaching, []);
  const ready = play && toIncision(play, {});
  if (!ready?.ok) throw new Error('the case did not come to its incision');
  return ready.play;
}

function withSwabInside(play: Play): Play {
  const line = play.current.lines.get('swab');
  const put = line && inside(play, line, 'abdomen');
  if (!put?.ok) throw new Error('the swab did not go in');
  return put.play;
}

const at = '2026-01-05T09:30:00+00:00';
const printed = (current: Case): Element => paperForm({ sheet: current.sheet, current, at });

/** The first part of a form with this class. */
function part(leaf: Leaf, name: string): Element | undefined {
  if (typeof leaf === 'string') return undefined;
  if (leaf.class === `paper-${name}`) return leaf;
  for (const child of leaf.children) {
    const found = part(child, name);
    if (found) return found;
  }
  return undefined;
}

const wordsIn = (leaf: Leaf, name: string): string => wordsOf(part(leaf, name) ?? '');

test.each(sheets)(
  '$id: every line, question, specimen and closure is on the blank form',
  (sheet) => {
    const words = wordsOf(paperForm({ sheet }));
    const wanted = [
      sheet.title,
      ...(sheet.briefing ?? []),
      ...sheet.lines.map(({ name }) => name),
      ...sheet.variants.map(({ name }) => name),
      ...sheet.checkpoints.flatMap(({ name, steps }) => [name, ...steps.map(({ ask }) => ask)]),
      ...sheet.closures.flatMap(({ name, look }) => [
        name.toLowerCase(),
        ...look.map(({ ask }) => ask),
      ]),
      ...sheet.specimens.map(({ name }) => name),
      ...sheet.changes.map(({ reason }) => reason),
    ];
    expect(wanted.filter((one) => !words.includes(one))).toEqual([]);
    expect(words).toContain('licensed practitioners decide');
  },
);

test('a line that no X-ray shows, and one that may stay, say so', () => {
  const words = wordsIn(paperForm({ sheet: teaching }), 'lines');
  expect(words).toContain('Pre-tied loop no X-ray shows it');
  expect(words).toContain('Large swab 45 × 45 packs of 5; may stay: say why, where');
  expect(words).toContain(
    'Loop placed: write 1 Ligature stays on purpose, 1 Pusher tube inside, 1 End piece on the table',
  );
});

test('a running case is filled in: patient, answers with their time, and what is inside', () => {
  const form = printed(withSwabInside(started()).current);
  expect(wordsIn(form, 'running')).toContain('Testcase, Ash');
  expect(wordsIn(form, 'checkpoint')).toContain('Prueba, 08:00');
  expect(wordsIn(form, 'inside')).toBe('1 × Swab 10 × 10, abdomen');
  expect(wordsIn(form, 'open')).toContain('Closing count not done (scrub and circulator)');
});

test('the count sheet of a running case says no more than a blank one', () => {
  const { current } = withSwabInside(started());
  const blank = part(paperForm({ sheet: current.sheet }), 'lines');
  expect(part(printed(current), 'lines')).toEqual(blank);
});

test('while a count runs, no number of the record is printed', () => {
  const running = act(withSwabInside(started()), { type: 'beginCount', moment: 'closing' });
  if (!running.ok) throw new Error('the count did not begin');
  const form = printed(running.play.current);
  expect(wordsIn(form, 'inside')).toBe('A count was running: no number is printed.');
  expect(wordsIn(form, 'places')).not.toMatch(/\d (\d|–)/);
});

test('a line that waits for its recount shows no number', () => {
  const counting = act(withSwabInside(started()), { type: 'beginCount', moment: 'closing' });
  let play = counting.ok ? counting.play : started();
  for (const line of play.current.counts.running?.lines ?? []) {
    const entered = act(play, { type: 'enter', line, field: line === 'swab' ? 3 : 1, off: 0 });
    if (entered.ok) play = entered.play;
  }
  const agreed = act(play, { type: 'agree' });
  if (!agreed.ok) throw new Error('the count was not agreed');
  expect(agreed.play.current.differing.swab?.stage).toBe('recount');
  const form = printed(agreed.play.current);
  expect(wordsIn(form, 'inside')).toBe('? × Swab 10 × 10, abdomen');
  expect(wordsIn(form, 'places')).toMatch(/Swab 10 × 10 \? \? \? \? \? \?/);
});

test('only what applies to the variants of a case is printed', () => {
  const sheet = sheets.find(({ id }) => id === 'laparoscopic-appendicectomy');
  const play = sheet && opened(sheet, []);
  if (!play) throw new Error('the case was not opened');
  const words = wordsOf(printed(play.current));
  expect(wordsOf(paperForm({ sheet: play.current.sheet }))).toContain('peritoneum and fascia');
  expect(words).not.toContain('peritoneum and fascia');
});

test('counts that were made are told', () => {
  const made = counted(withSwabInside(started()), 'closing');
  if (!made.ok) throw new Error('the count was not made');
  expect(wordsIn(printed(made.play.current), 'state')).toContain(
    'First count at 08:00: agreed. Closing count at 08:00: agreed.',
  );
});

test('a name that looks like a program is printed as it is', () => {
  const { current } = started();
  const name = '<script>alert("1 & 2")</script>';
  const html = paperDocument(
    { sheet: current.sheet, current: { ...current, patient: { ...current.patient, name } }, at },
    '',
  );
  expect(html).not.toContain('<script');
  expect(html).toContain('&lt;script&gt;alert(&quot;1 &amp; 2&quot;)&lt;/script&gt;');
  expect(htmlOf('a<b')).toBe('a&lt;b');
});

test('the team brief is on the form until the incision, and no longer', () => {
  const play = started();
  const sheet = { ...play.current.sheet, briefing: ['Is the blood grouped?'] };
  const before = { ...play.current, sheet, incisionAt: undefined };
  expect(wordsIn(printed(before), 'brief')).toContain('Is the blood grouped?');
  expect(wordsIn(printed({ ...play.current, sheet }), 'brief')).toBe('');
});
