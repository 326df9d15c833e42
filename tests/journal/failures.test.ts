import { expect, test } from 'vitest';
import {
  type FailureCode,
  fail,
  failures,
  type ReportCode,
  report,
  reports,
} from '#journal/failures.ts';

const isFailure = (code: string): code is FailureCode => code in failures;
const isReport = (code: string): code is ReportCode => code in reports;
const filling = { row: 17, home: 'file' };
const sentences = [
  ...Object.keys(failures)
    .filter(isFailure)
    .map((code) => fail(code, filling).failure.sentence),
  ...Object.keys(reports)
    .filter(isReport)
    .map((code) => report(code, filling).sentence),
];

test('every sentence is a whole one, with its row and home filled in', () => {
  expect(sentences).toHaveLength(Object.keys(failures).length + Object.keys(reports).length);
  for (const sentence of sentences) expect(sentence).toMatch(/^[A-Z][^{}]+\.$/);
});

test('no sentence needs to be explained to a nurse', () => {
  const jargon = /IndexedDB|OPFS|JSON|hash|CRC|byte|epoch|transaction|null|undefined|prefix|chain/i;
  expect(sentences.filter((sentence) => jargon.test(sentence))).toEqual([]);
});

test('the row and the detail stand beside the sentence', () => {
  expect(fail('row-changed', { row: 17, detail: 'for whoever mends it' })).toEqual({
    ok: false,
    failure: {
      code: 'row-changed',
      sentence: 'Row 17 was changed after it was written.',
      row: 17,
      detail: 'for whoever mends it',
    },
  });
  expect(report('one-home')).toEqual({
    code: 'one-home',
    sentence: 'Only one copy of the record is kept, not two.',
  });
});
