import { expect, test } from 'vitest';
import { quoted } from '#record/pageFooter.ts';

test('a name cannot end the string that is printed at the foot of a page', () => {
  expect(quoted('Testcase, Ash')).toBe('"Testcase, Ash"');
  expect(quoted('Ö’Testcase')).toBe('"Ö\\2019 Testcase"');
  for (const sign of ['"', '\\', '\n', '}', ';', "'"])
    expect(quoted(sign).slice(1, -1)).toMatch(/^\\[0-9a-f]+ $/);
});
