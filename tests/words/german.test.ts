import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { drillsOf } from '#drill/drillFile.ts';
import { runDrill } from '#drill/runDrill.ts';
import { sheetInWords } from '#session/sheetInWords.ts';
import { differenceInWords, differencesOf } from '#sheets/differences.ts';
import { loadSheets } from '#sheets/loadSheets.ts';
import german from '#words/german.json' with { type: 'json' };
import germanSheets from '#words/germanSheets.json' with { type: 'json' };
import { firstSpoken, languageOf, languages, readPhraseBook } from '#words/languages.ts';
import { readPhrasesFrom, say, sayOf } from '#words/say.ts';
import { drillFolder, sheets } from '../support/drillSheets.ts';
import { allPhrases } from './phrases.ts';

afterEach(() => readPhrasesFrom(() => undefined));

const phrases = new Map<string, string>(Object.entries(german));
const placesIn = (text: string) => (text.match(/\{\w+\}/g) ?? []).sort();

describe('the German phrase book', () => {
  test('has every sentence that the program says', () => {
    expect([...allPhrases()].filter((key) => !phrases.has(key))).toEqual([]);
  });

  test('has nothing that the program does not say', () => {
    const said = allPhrases();
    expect([...phrases.keys()].filter((key) => !said.has(key))).toEqual([]);
  });

  test('keeps every value of a sentence, and the space at its ends', () => {
    for (const [english, words] of phrases) {
      expect(placesIn(words), english).toEqual(placesIn(english));
      expect([words.startsWith(' '), words.endsWith(' ')], english).toEqual([
        english.startsWith(' '),
        english.endsWith(' '),
      ]);
      expect(words.trim(), english).not.toBe('');
    }
  });

  test('never says that it is safe to close', () => {
    const safe = /sicher (zu )?verschl|gefahrlos|unbedenklich/i;
    expect([...phrases.values()].filter((words) => safe.test(words))).toEqual([]);
  });
});

const shipped = async () => {
  const loaded = await loadSheets('checklists');
  if (!loaded.ok) throw new Error('the shipped sheets are whole');
  return loaded.sheets;
};

describe('a sheet in German', () => {
  test('every word of every shipped sheet that people read is there, and nothing else is changed', async () => {
    const book = await readPhraseBook('de');
    const unknown = new Set<string>();
    readPhrasesFrom(() => ({
      language: 'de',
      keepsCapitals: true,
      phrases: {
        get: (english) => {
          const words = book?.phrases.get(english);
          if (words === undefined) unknown.add(english);
          return words;
        },
      },
    }));
    for (const sheet of await shipped()) {
      const spoken = sheetInWords(sheet);
      expect(
        spoken.lines.map(({ id, opening, stay, turns }) => [id, opening, stay, turns.length]),
      ).toEqual(
        sheet.lines.map(({ id, opening, stay, turns }) => [id, opening, stay, turns.length]),
      );
      expect(spoken.closures.map(({ id, sites, inUse }) => [id, sites, inUse])).toEqual(
        sheet.closures.map(({ id, sites, inUse }) => [id, sites, inUse]),
      );
      expect(spoken.sources).toEqual(sheet.sources);
    }
    expect([...unknown]).toEqual([]);
  });

  test('two things that a sheet keeps apart are not called the same', async () => {
    const book = await readPhraseBook('de');
    readPhrasesFrom(() => book);
    const alike = (names: readonly string[]) =>
      names.filter((name, at) => names.indexOf(name) < at);
    for (const sheet of await shipped()) {
      const spoken = sheetInWords(sheet);
      const lists = [
        [sheet.lines, spoken.lines],
        [sheet.specimens, spoken.specimens],
        [sheet.closures, spoken.closures],
        [sheet.variants, spoken.variants],
      ] as const;
      for (const [before, after] of lists)
        expect(alike(after.map(({ name }) => name)).length, sheet.id).toBe(
          alike(before.map(({ name }) => name)).length,
        );
    }
  });

  test('holds nothing that no shipped sheet and no practice case says', async () => {
    const guides = readdirSync('checklists/practice')
      .filter((file) => file.endsWith('.guide.yaml'))
      .map((file) => parse(readFileSync(join('checklists/practice', file), 'utf8')));
    const text = JSON.stringify([await shipped(), guides]);
    const unsaid = Object.keys(germanSheets).filter((key) => !text.includes(JSON.stringify(key)));
    expect(unsaid).toEqual([]);
  });
});

test('every drill goes the same way in German: no decision depends on what is spoken', async () => {
  const book = await readPhraseBook('de');
  const files = readdirSync(drillFolder, { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.yaml') && !file.startsWith('sheets'))
    .sort();
  let played = 0;
  for (const file of files) {
    const read = drillsOf(readFileSync(join(drillFolder, file), 'utf8'), sheets);
    if (!read.ok) continue;
    for (const { drill, sheet } of read.drills) {
      readPhrasesFrom(() => undefined);
      const { events } = runDrill(drill, sheet);
      readPhrasesFrom(() => book);
      const german = runDrill(drill, sheet);
      expect(german.failures, drill.title).toEqual([]);
      expect(german.events.length, drill.title).toBe(events.length);
      played += 1;
    }
  }
  expect(played).toBeGreaterThan(150);
});

test('every practice case is told in German', () => {
  const words = new Map<string, string>(Object.entries(germanSheets));
  const told = /^(name|about|do|why|happened|caught|missed|where|found)$/;
  const sentences: string[] = [];
  for (const file of readdirSync('checklists/practice'))
    if (file.endsWith('.guide.yaml'))
      JSON.parse(
        JSON.stringify(parse(readFileSync(join('checklists/practice', file), 'utf8'))),
        (field, value) => {
          if (told.test(field) && typeof value === 'string') sentences.push(value);
          return value;
        },
      );
  expect(sentences.length).toBeGreaterThan(70);
  expect(sentences.filter((sentence) => !words.has(sentence))).toEqual([]);
});

describe('languages', () => {
  test('British English needs no book, American English changes words and no values', async () => {
    expect(await readPhraseBook('en-GB')).toBeUndefined();
    const book = await readPhraseBook('en-US');
    readPhrasesFrom(() => book);
    expect(
      say`${'Swab theatre'}: read the label of ${'swab'} pot, labelled by the anaesthetist.`,
    ).toBe('Swab theatre: read the label of swab container, labeled by the anesthesiologist.');
    expect(sayOf('culture swab')).toBe('culture swab');
    expect(sayOf('Swabs weighed')).toBe('Sponges weighed');
  });

  test('what was kept is read back, and a browser that is German begins in German', () => {
    for (const { id } of languages) expect(languageOf(id)).toBe(id);
    expect(languageOf('tlh')).toBe('en-GB');
    expect(languageOf(undefined)).toBe('en-GB');
    expect(firstSpoken(['de-AT', 'en'])).toBe('de');
    expect(firstSpoken(['en-US', 'de'])).toBe('en-GB');
    expect(firstSpoken(['fr', 'de-CH', 'en'])).toBe('de');
    expect(firstSpoken(['fr'])).toBe('en-GB');
    expect(firstSpoken([])).toBe('en-GB');
  });
});

test('what changed in a sheet is said in German, whatever language it is written in', async () => {
  const [before] = await shipped();
  const line = before?.lines.find(({ tracked }) => tracked);
  if (!before || !line) throw new Error('a sheet has lines');
  const after = {
    ...before,
    lines: before.lines.map((one) => (one === line ? { ...one, film: 'varies' as const } : one)),
    specimens: [],
  };
  const book = await readPhraseBook('de');
  readPhrasesFrom(() => book);
  const all = differencesOf({ ...before, lines: [{ ...line, film: 'no' }] }, { ...after });
  const words = all.map(differenceInWords);
  expect(words).toContain(`${line.name}: im Röntgenbild ist je nachdem; es war nein.`);
  expect(all.map(({ heading }) => heading)).toContain('Zeilen');
  expect(words.filter((one) => / is | was |not there/.test(one))).toEqual([]);
});
