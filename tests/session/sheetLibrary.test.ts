import { IDBFactory } from 'fake-indexeddb';
import { describe, expect, test } from 'vitest';
import type { Sheet } from '../../src/engine/sheet.ts';
import { openSheetShelf, type SheetShelf } from '../../src/journal/sheetShelf.ts';
import { makeSheetDesk } from '../../src/rehearsal/sheetDesk.ts';
import type { SheetEntry } from '../../src/session/sheetEntry.ts';
import {
  type Candidate,
  createSheetLibrary,
  type SheetLibrary,
} from '../../src/session/sheetLibrary.ts';
import { loadSheets } from '../../src/sheets/loadSheets.ts';
import { small } from '../sheets/small.ts';
import { sharedTexts } from '../support/sheetTexts.ts';

const loaded = loadSheets('checklists');
const shipped: readonly SheetEntry[] = (loaded.ok ? loaded.sheets : [])
  .filter(({ id }) => id === 'ports-and-swabs')
  .map((sheet) => ({ ...sheet, load: () => Promise.resolve(sheet) }));

const desk = makeSheetDesk([{ name: 'small', file: 'small.yaml', text: small }], sharedTexts);
const now = () => '2026-01-05T08:00:00+00:00';

type Confirm = (words: string) => Promise<readonly string[] | undefined>;

function libraryOver(
  shelf: SheetShelf,
  over: Partial<SheetEntry> = {},
  confirm?: Confirm,
): SheetLibrary {
  const entry = { id: 'small', title: 'Small', version: '2026-01', load: smallSheet, ...over };
  const all = [...shipped, entry];
  const asking = confirm ? { confirm } : {};
  return createSheetLibrary({ shipped: all, shelf, desk: async () => desk, now, ...asking });
}

async function smallSheet(): Promise<Sheet> {
  const read = desk.readText(small, 'small.yaml');
  if (!read.ok) throw new Error('the small sheet has a mistake');
  return read.sheet;
}

const emptyShelf = () => openSheetShelf('sheets', new IDBFactory());
const bytes = (text: string) => new TextEncoder().encode(text);

function good(candidate: Candidate): Extract<Candidate, { ok: true }> {
  expect(candidate.ok ? [] : candidate.mistakes).toEqual([]);
  if (!candidate.ok) throw new Error('refused');
  return candidate;
}

test('what is shipped is in use until somebody takes another into use', async () => {
  const library = libraryOver(emptyShelf());
  expect(await library.start()).toBeUndefined();
  expect(library.entries().map(({ id, kept }) => [id, kept])).toEqual([
    ['ports-and-swabs', undefined],
    ['small', undefined],
  ]);
  expect(await library.textOf('small')).toBe(small);
});

test('a sheet that is brought in is shown as differences from the one that it replaces', async () => {
  const library = libraryOver(emptyShelf());
  const text = small.replace('ask: Is it dry?', 'ask: Is all dry?');
  const candidate = good(await library.bringIn(bytes(text), 'small (1).yaml'));
  expect(candidate.replaces).toBe('Small');
  expect(candidate.differences).toEqual([
    {
      heading: 'Questions',
      sentences: ['Last look before Abdomen, Dry: ask is Is all dry?; it was Is it dry?.'],
    },
  ]);
  expect(library.entries().every(({ kept }) => kept === undefined)).toBe(true);
});

test('a sheet with mistakes is refused whole, with all of them', async () => {
  const library = libraryOver(emptyShelf());
  const wrong = small.replace('pack: 5', 'pack: 4').replace('count: final', 'count: finel');
  const candidate = await library.bringIn(bytes(wrong), 'small.yaml');
  expect(candidate.ok ? [] : candidate.mistakes.map(({ message }) => message)).toEqual([
    expect.stringContaining('whole packs of 4'),
    expect.stringContaining('perhaps "final" is meant'),
    expect.stringContaining('swab.opening is 5, but should be whole packs of 4.'),
  ]);
  const played = small.replace(
    '      stones:\n',
    '      pause: { who: surgeon, ask: Counted?, short: Counted, answer: counts }\n      stones:\n',
  );
  const stuck = await library.bringIn(bytes(played), 'small.yaml');
  expect(stuck.ok ? [] : stuck.mistakes[0]?.way[0]).toBe(
    'checkpoint: { id: sign-in, answers: usual }',
  );
  expect((await library.bringIn(Uint8Array.of(0xff, 0x00), 'small.yaml')).ok).toBe(false);
});

test('taken into use by a named person, it is there after a restart, in versions', async () => {
  const factory = new IDBFactory();
  const library = libraryOver(openSheetShelf('sheets', factory));
  let heard = 0;
  library.subscribe(() => {
    heard += 1;
  });
  const first = good(
    await library.bringIn(bytes(small.replace('title: Small', 'title: Smaller')), 'small.yaml'),
  );
  expect(await library.take(first, ' ')).toEqual({
    ok: false,
    sentence: 'Say who takes it into use.',
  });
  expect(await library.take(first, 'Testcase, Ash')).toEqual({ ok: true, number: 1 });
  const change = { line: 'swab', set: { opening: 10 }, ...approved };
  const second = good(await library.change('small', change, 'Swab: opening 10'));
  expect(await library.take(second, 'Prueba')).toEqual({ ok: true, number: 2 });
  expect(heard).toBe(2);

  const again = libraryOver(openSheetShelf('sheets', factory));
  await again.start();
  const entry = again.entries().find(({ id }) => id === 'small');
  expect(entry).toMatchObject({ title: 'Smaller', kept: { number: 2, takenBy: 'Prueba' } });
  const sheet = await entry?.load();
  expect(sheet?.lines[0]?.opening).toBe(10);
  expect(sheet?.changes.at(-1)).toMatchObject({ approvedBy: 'Prueba', from: '5', to: '10' });
  expect(again.versions('small').map(({ number, from }) => [number, from])).toEqual([
    [2, 'Swab: opening 10'],
    [1, 'small.yaml'],
  ]);
});

const approved = { reason: 'Two packs', 'approved-by': 'Prueba', 'approved-on': '2026-01-06' };

test('a change goes to the end of the text, and its comments stay', async () => {
  const commented = small.replace('sites:\n', '# what is opened\nsites:\n');
  const text = desk.withChange(commented, { line: 'reel', drop: true, ...approved });
  expect(text).toContain('# what is opened\nsites:');
  const read = desk.readText(text, 'small.yaml');
  expect(read.ok && read.sheet.changes.map(({ what, to }) => [what, to])).toEqual([
    ['swabs swab: opening', '5'],
    ['things reel', 'left out'],
  ]);
  const bare = small.replace(/changes:[\s\S]*?sources:/, 'sources:');
  const added = desk.readText(
    desk.withChange(bare, { line: 'reel', drop: true, ...approved }),
    'small.yaml',
  );
  expect(added.ok && added.sheet.changes).toHaveLength(1);
});

test('a change that makes the sheet wrong is refused with its mistake', async () => {
  const library = libraryOver(emptyShelf());
  const change = { line: 'port', drop: true, ...approved };
  const candidate = await library.change('small', change, 'Port hidden');
  expect(candidate.ok ? [] : candidate.mistakes.map(({ message }) => message)).toEqual([
    expect.stringContaining('closures.abdomen.in-use.1 names the line "port"'),
  ]);
});

test('an earlier version, and the one that is shipped, can be taken into use again', async () => {
  const library = libraryOver(emptyShelf());
  const smaller = small.replace('title: Small', 'title: Smaller');
  await library.take(good(await library.bringIn(bytes(smaller), 'small.yaml')), 'Testa');
  const back = good(await library.again('small', undefined));
  expect(back.differences.flatMap(({ sentences }) => sentences)).toContain(
    'Smaller: title is Small; it was Smaller.',
  );
  expect(await library.take(back, 'Testa')).toEqual({ ok: true, number: 2 });
  expect(library.entries().find(({ id }) => id === 'small')?.title).toBe('Small');
});

test('a sheet that no longer means what was taken into use is not opened', async () => {
  const shelf = emptyShelf();
  const library = libraryOver(shelf);
  await library.take(good(await library.bringIn(bytes(small), 'small.yaml')), 'Testa');
  const rules = sharedTexts.map((one) => ({
    ...one,
    text: one.text.replace('child-under-years: 18', 'child-under-years: 16'),
  }));
  const later = createSheetLibrary({
    shipped: [],
    shelf,
    desk: () => Promise.resolve(makeSheetDesk([], rules)),
    now,
  });
  await later.start();
  await expect(later.entries()[0]?.load()).rejects.toThrow(
    'small: it no longer means what Testa took into use',
  );
});

test('a shelf that fails keeps the old sheet in use and says so', async () => {
  const broken: SheetShelf = {
    all: () => Promise.reject(new Error('no')),
    keep: () => Promise.reject(new Error('no')),
  };
  const library = libraryOver(broken);
  expect(await library.start()).toContain('cannot be read');
  const candidate = good(await library.bringIn(bytes(small), 'small.yaml'));
  const taken = await library.take(candidate, 'Testa');
  expect(taken).toMatchObject({ ok: false, sentence: expect.stringContaining('stays in use') });
  expect(library.entries().find(({ id }) => id === 'small')?.kept).toBeUndefined();
});

test('a version is never written over another, and a damaged row is counted', async () => {
  const factory = new IDBFactory();
  const shelf = openSheetShelf('sheets', factory);
  const row = {
    id: 'small',
    number: 1,
    title: 'Small',
    version: '2026-01',
    text: small,
    meant: '{}',
    takenBy: 'Testa',
    takenAt: now(),
    from: 'small.yaml',
  };
  await shelf.keep(row);
  await expect(shelf.keep({ ...row, text: 'another' })).rejects.toBeDefined();
  expect(await shelf.all()).toEqual({ kept: [row], unread: 0 });
  await shelf.keep({ ...row, number: 1.5 });
  expect(await shelf.all()).toEqual({ kept: [row], unread: 1 });
});

describe('Where people are set up, taking a sheet into use', () => {
  const candidateOf = async (library: SheetLibrary) =>
    good(
      await library.bringIn(
        bytes(small.replace('ask: Is it dry?', 'ask: Is all dry?')),
        'small.yaml',
      ),
    );

  test('is confirmed by PIN, and the name is of the one who gave it, whatever was typed', async () => {
    const asked: string[] = [];
    const shelf = emptyShelf();
    const library = libraryOver(shelf, {}, async (words) => {
      asked.push(words);
      return ['Prueba'];
    });
    expect(await library.take(await candidateOf(library), 'Somebody')).toMatchObject({ ok: true });
    expect(asked).toEqual(['Take this sheet into use: Small']);
    expect(library.versions('small')).toMatchObject([{ takenBy: 'Prueba', confirmed: 'pin' }]);
    expect(await shelf.all()).toMatchObject({ kept: [{ takenBy: 'Prueba', confirmed: 'pin' }] });
  });

  test('is nothing when the question is left: the old one stays in use', async () => {
    const shelf = emptyShelf();
    const library = libraryOver(shelf, {}, async () => undefined);
    expect(await library.take(await candidateOf(library), 'Testa')).toEqual({
      ok: false,
      sentence: 'It was not confirmed. The old one stays in use.',
    });
    expect(library.versions('small')).toEqual([]);
    expect(await shelf.all()).toMatchObject({ kept: [] });
  });

  test('where nobody is set up, needs a name and no PIN', async () => {
    const library = libraryOver(emptyShelf(), {}, async () => []);
    const candidate = await candidateOf(library);
    expect(await library.take(candidate, ' ')).toMatchObject({ ok: false });
    expect(await library.take(candidate, 'Testa')).toMatchObject({ ok: true });
    expect(library.versions('small')[0]).toMatchObject({ takenBy: 'Testa' });
    expect(library.versions('small')[0]?.confirmed).toBeUndefined();
  });
});
