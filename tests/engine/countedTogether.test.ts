import { expect, test } from 'vitest';
import { entryWords } from '#engine/case/entryWords.ts';
import type { Command } from '#engine/case/events.ts';
import { foundIn } from '#engine/counts/foundIn.ts';
import type { RefusalCode } from '#engine/refusals.ts';
import type { Sheet } from '#engine/sheet.ts';
import { count, type Done, givenOn, incised } from '../support/given.ts';
import { line, storySheet } from '../support/storySheet.ts';

/** Parts of one port that are counted in one number: so many of each. */

const part = (id: string) => line(id, { group: 'Port', together: true, opening: 2 });
const sheet: Sheet = {
  ...storySheet,
  lines: [
    ...storySheet.lines,
    ...['cannula', 'obturator', 'flap'].map(part),
    line('screw', { group: 'Port', opening: 2 }),
    line('rod', { group: 'Bag', together: true, opening: 2 }),
  ],
};
const each = (field: number, more: Partial<Extract<Command, { type: 'enter' }>> = {}): Command => ({
  ...{ type: 'enter', line: 'cannula', together: ['obturator', 'flap'], field },
  ...more,
});
const running: readonly Done[] = [...incised, { type: 'beginCount', moment: 'closing' }];

test('[C14] one number is an entry for each part, made all at once', () => {
  const found = { field: 2, off: 0 };
  const { current } = givenOn(sheet, ...running)
    .when(each(2))
    .records(
      { type: 'entered', line: 'cannula', found, together: true },
      { type: 'entered', line: 'obturator', found, together: true },
      { type: 'entered', line: 'flap', found, together: true },
    );
  expect(current.counts.running && foundIn(current.counts.running)).toEqual({
    cannula: found,
    obturator: found,
    flap: found,
  });
});

test('[C14] each part is compared by itself', () => {
  const short = givenOn(sheet, ...incised, count('closing', { flap: { field: 1 } }));
  expect(Object.keys(short.current.differing)).toEqual(['flap']);
  const all = givenOn(
    sheet,
    ...running,
    ...sheet.lines
      .filter(({ opening, group }) => opening > 0 && group !== 'Port')
      .map(({ id, opening }): Command => ({ type: 'enter', line: id, field: opening })),
    { type: 'enter', line: 'screw', field: 2 },
    each(1),
    { type: 'agree' },
  );
  expect(Object.keys(all.current.differing)).toEqual(['cannula', 'obturator', 'flap']);
});

type Row = readonly [string, RefusalCode, string | undefined, readonly Done[], Command];
const rows: readonly Row[] = [
  ['with a line of no sheet', 'unknown-line', 'mop', running, each(2, { together: ['mop'] })],
  ['with less than nothing', 'not-a-count', 'cannula', running, each(-1)],
  ['while no count runs', 'no-count', undefined, incised, each(2)],
  [
    'with a tray that is not counted in',
    'not-in-count',
    'open-tray',
    [...incised, { type: 'variant', to: 'open' }, { type: 'beginCount', moment: 'cavity' }],
    each(2, { together: ['open-tray'] }),
  ],
  [
    'with a part that is counted alone',
    'counted-apart',
    'screw',
    running,
    each(2, { together: ['screw'] }),
  ],
  ['with a part of another thing', 'counted-apart', 'rod', running, each(2, { together: ['rod'] })],
  [
    'what is of no group',
    'counted-apart',
    'seal',
    running,
    { type: 'enter', line: 'seal', together: [], field: 2 },
  ],
  ['by packs', 'counted-apart', undefined, running, each(2, { packs: [2] })],
];

test.each(rows)('[C14] counting together %s is refused: %s', (_, code, detail, done, command) => {
  givenOn(sheet, ...done)
    .when(command)
    .refused(code, detail);
});

test('[C14] the log says that it was said of each part', () => {
  const [first] = givenOn(sheet, ...running)
    .when(each(2))
    .events();
  const { current } = givenOn(sheet, ...running, each(2));
  expect(first && entryWords(current, first)).toMatchObject({
    subject: 'cannula',
    rest: 'counted 2 of each part',
  });
});
