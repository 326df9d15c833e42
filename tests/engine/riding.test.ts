import { test } from 'vitest';
import { given, incised } from '../support/given.ts';

const toSpecimen = (line: string, from = 'table') =>
  ({ type: 'move', line, from, to: 'specimen', n: 1 }) as const;

test('[L14] a swab, a sharp and an instrument do not leave with a specimen', () => {
  const story = given(...incised);
  story.when(toSpecimen('swab')).refused('not-with-specimen');
  story.when(toSpecimen('needle')).refused('not-with-specimen');
});

test('[L14] nothing leaves with a specimen while none is out', () => {
  given(...incised)
    .when(toSpecimen('seal'))
    .refused('not-taken-yet');
});
