import { describe, expect, test } from 'vitest';
import { mustComeOut } from '#engine/moves/mustComeOut.ts';
import { htmlOf } from '#record/htmlOf.ts';
import { instantText } from '#record/instants.ts';
import { handoverTree } from '#record/page/handoverTree.ts';
import { recordTree } from '#record/page/recordTree.ts';
import { leftTogether } from '#record/page/summary.ts';
import { timelineOf } from '#record/page/timeline.ts';
import { timelinePicture } from '#record/page/timelinePicture.ts';
import type { Leaf } from '#record/tree.ts';
import { eventsOfDrills, everyDrill, exported, recordOfDrill } from '../support/records.ts';

/** The words of a tree, as they are read. */
const words = (leaf: Leaf): string =>
  typeof leaf === 'string' ? leaf : leaf.children.map(words).join(' ');

const tagged = (leaf: Leaf, tag: string): readonly Leaf[] =>
  typeof leaf === 'string'
    ? []
    : [...(leaf.tag === tag ? [leaf] : []), ...leaf.children.flatMap((one) => tagged(one, tag))];

describe('the case in time', () => {
  test('worked case F2: when it was cut, how many were inside, what was counted and added', async () => {
    const line = timelineOf(await recordOfDrill('f02-braided-ties.yaml'));
    const at = (kind: string) =>
      line.marks.filter((mark) => mark.kind === kind).map((mark) => [mark.words, mark.minute]);
    expect(at('incision')).toEqual([['Incision', 45]]);
    expect(at('agreed')).toEqual([
      ['First count', 36],
      ['Closing count', 138],
      ['Final count', 149],
    ]);
    expect(at('differed').map(([name]) => name)).toEqual(['Closing count', 'Recount', 'Recount']);
    expect(at('added').map(([n]) => n)).toEqual(['+1', '+1', '+7', '+5', '+2']);
    expect(line.inside.at(-1)).toMatchObject({ pieces: 0, stays: 5 });
    expect(line.inside.find(({ minute }) => minute === 36)?.pieces).toBe(3); // the faecoliths, before any cut
    expect(line.hasClockBack).toBe(false);
  });

  test('what was added in one minute is one mark, and a clock that went back is said', async () => {
    const [events = []] = eventsOfDrills('f02-braided-ties.yaml');
    const back = events.map((event, place) =>
      place === events.length - 1 ? { ...event, at: '2026-01-05T09:00:00+00:00' } : event,
    );
    const { record } = await exported(back);
    const picture = timelinePicture(record);
    expect(words(picture)).toContain('The clock of the tablet went back once');
    expect(timelineOf(record).minutes).toBe(152);
  });

  test('a note weeks after the end is in the log with its day, and does not squeeze the picture', async () => {
    const [events = []] = eventsOfDrills('f02-braided-ties.yaml');
    const last = events.at(-1);
    if (last?.type !== 'finished') throw new Error('the case ends with its end');
    const at = '2026-02-20T10:00:00+00:00';
    const { by } = last;
    const note = {
      type: 'noteWritten',
      text: 'late',
      entry: last.entry + 1,
      id: 'n',
      at,
      by,
    } as const;
    const { record } = await exported([...events, note]);
    expect(timelineOf(record).minutes).toBe(152);
    const rows = tagged(recordTree(record), 'tr').map(words);
    expect(rows.find((row) => row.includes('late'))).toContain('20 February 2026, 10:00:00');
    expect(rows.find((row) => row.includes('Incision'))).not.toContain('2026-');
  });

  test('a case that was left open for a month has a readable axis', async () => {
    const [events = []] = eventsOfDrills('f02-braided-ties.yaml');
    const open = events
      .slice(0, -1)
      .map((event, place, all) =>
        place === all.length - 1 ? { ...event, at: '2026-02-05T10:00:00+00:00' } : event,
      );
    const { record } = await exported(open);
    const picture = htmlOf(timelinePicture(record));
    expect(picture.match(/picture-guide/g)?.length).toBeLessThan(12);
  });

  test('of every drill it can be drawn: words begin in the picture, no number is missing', async () => {
    for (const file of everyDrill())
      for (const events of eventsOfDrills(file)) {
        const { record } = await exported(events);
        const picture = htmlOf(timelinePicture(record));
        expect([file, /NaN|undefined|Infinity/.test(picture)]).toEqual([file, false]);
        for (const [, x = '', , anchor] of picture.matchAll(
          /class="picture-words" x="([-\d.]+)" y="([-\d.]+)" text-anchor="(\w+)"/g,
        ))
          expect([file, Number(x) > 0 && Number(x) < 720, anchor]).toEqual([file, true, anchor]);
      }
  }, 240_000);
});

describe('the record', () => {
  test('what was taken back stays, struck through, with the entry that took it back', async () => {
    const { record } = await exported(eventsOfDrills('commands.yaml')[0] ?? []);
    const correction = record.rows
      .flatMap((row) => row.events)
      .find((one) => one.type === 'corrected');
    if (correction?.type !== 'corrected') throw new Error('something was taken back');
    const tree = recordTree(record);
    const rows = tagged(tree, 'tr').filter((row) => tagged(row, 's').length > 0);
    expect(rows.map(words).join()).toContain(`Taken back by entry ${correction.entry}.`);
    expect(words(rows[0] ?? '')).toContain(String(correction.corrects));
  });

  test('every fact is in it, in order, and its end is said', async () => {
    const record = await recordOfDrill('f09-packs-left-by-intent.yaml');
    const facts = record.rows.flatMap((row) => row.events);
    const text = words(recordTree(record));
    expect(tagged(recordTree(record), 'tr').length).toBeGreaterThan(facts.length);
    expect(text).toContain(
      `End of the record: ${facts.length} facts in ${record.rows.length} entries.`,
    );
    expect(text).toContain(record.head);
    expect(text).toContain(record.code);
    expect(text).toContain('it never says that it is safe to close');
  });

  test('pieces of which the same is said are one row, others are not', async () => {
    const { current } = await recordOfDrill('f02-braided-ties.yaml');
    expect(leftTogether(current).map(({ line, set }) => [line, set.n])).toEqual([
      ['tie-knot', 2],
      ['polymer-clip', 2],
      ['drain', 1],
    ]);
    const packs = await recordOfDrill('f09-packs-left-by-intent.yaml');
    expect(leftTogether(packs.current).map(({ set }) => [set.n, set.where])).toEqual([
      [4, 'liver'],
      [2, 'pelvis'],
    ]);
  });
});

test('the first page says how a count that did not agree ended', async () => {
  const text = words(recordTree(await recordOfDrill('f02-braided-ties.yaml')));
  expect(text).toMatch(/did not agree: Cut tail of a tie \(settled by recounts at 11:\d\d\)/);
});

describe('the hand-over note', () => {
  test('worked case F9: what must come out, how many, where, and when', async () => {
    const text = words(handoverTree(await recordOfDrill('f09-packs-left-by-intent.yaml')));
    expect(text).toContain('6 packs, liver 4 and pelvis 2, out in 24 to 48 h');
    expect(text).toContain('Cefuroxime: the table has the next one at 13:45, if it goes on.');
    expect(text).toContain('It is no prescription.');
  });

  test('knots and clips stay, a drain comes out, and who has the specimens is said', async () => {
    const note = handoverTree(await recordOfDrill('f02-braided-ties.yaml'));
    const [, out, stays] = tagged(note, 'section').map(words);
    expect(out).toContain('drainage after perforation');
    expect(out).not.toContain('Knot of a tie');
    expect(stays).toContain('2 × Knot of a tie, abdomen');
    expect(words(note)).toContain('with laboratory porter at 11:47');
  });

  test('what people wrote matters for recovery; what the tablet noted of itself does not', async () => {
    const [events = []] = eventsOfDrills('f02-braided-ties.yaml');
    const last = events.at(-1);
    if (!last) throw new Error('there are events');
    const { entry, at } = last;
    const note = (text: string, by: string, more: number) =>
      ({ type: 'noteWritten', text, entry: entry + more, id: `n${more}`, at, by }) as const;
    const { record } = await exported([
      ...events,
      note('Watch the left arm.', 'N2', 1),
      note('The clock of this tablet went ahead.', 'theatre tablet', 2),
    ]);
    const text = words(handoverTree(record));
    expect(text).toContain('Watch the left arm.');
    expect(text).not.toContain('The clock of this tablet');
  });

  test('what is inside without a word is not passed over, and no plan is said to be none', async () => {
    const [events = []] = eventsOfDrills('f09-packs-left-by-intent.yaml');
    const left = events.findIndex((event) => 'left' in event);
    const { record } = await exported(events.slice(0, left));
    expect(words(handoverTree(record))).toMatch(
      /\d+ Large swab 45 × 45 inside by the record, not explained\./,
    );
    const unsaid = events.findIndex((event) => event.type === 'handedOver');
    const { record: early } = await exported(events.slice(0, unsaid));
    expect(words(handoverTree(early))).toContain('No plan was recorded. Ask the surgeon.');
  });
});

test('an implant with a lot number stays, packing and a drain come out', async () => {
  const { current } = await recordOfDrill('f02-braided-ties.yaml');
  const drain = current.lines.get('drain');
  const swab = current.lines.get('swab');
  if (!drain || !swab) throw new Error('the sheet has both');
  expect(mustComeOut(drain)).toBe(true);
  expect(mustComeOut(swab)).toBe(true);
  expect(mustComeOut({ ...drain, stay: { may: 'reason', needs: ['where', 'lot'] } })).toBe(false);
  expect(mustComeOut(current.lines.get('polymer-clip'))).toBe(false);
  expect(mustComeOut(undefined)).toBe(false);
});

test.each([
  ['2026-07-05T11:45:00.000Z', '+01:00', '2026-07-05T12:45:00+01:00'],
  ['2026-01-05T23:45:00.000Z', '-05:30', '2026-01-05T18:15:00-05:30'],
  ['2026-01-05T23:45:00.000Z', '00.000Z', '2026-01-05T23:45:00.000Z'],
])('%s in a room at %s is %s', (instant, offset, expected) => {
  expect(instantText(instant, offset)).toBe(expected);
});
