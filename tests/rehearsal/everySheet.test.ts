import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { checkSheet } from '../../src/rehearsal/checkSheet.ts';
import { rehearse } from '../../src/rehearsal/rehearse.ts';
import { loadSheets } from '../../src/sheets/loadSheets.ts';
import { shared } from '../sheets/small.ts';
import { spentMs } from '../support/cpu.ts';

/** The sheets as they are shipped, played before anybody uses them. */
const files = readdirSync('checklists').filter((file) => file.endsWith('.yaml'));

test.each(files)('%s comes to its end in every way, and closes on nothing', (file) => {
  const checked = checkSheet(readFileSync(`checklists/${file}`, 'utf8'), { file, shared });
  expect(checked.ok ? [] : checked.issues.map(({ message, way }) => ({ message, way }))).toEqual(
    [],
  );
});

test('all of them are read, checked and played in under two seconds', () => {
  const start = spentMs();
  const loaded = loadSheets('checklists');
  const found = loaded.ok ? loaded.sheets.flatMap((sheet) => rehearse(sheet)) : loaded.issues;
  expect(found).toEqual([]);
  expect(spentMs() - start).toBeLessThan(2000);
});
