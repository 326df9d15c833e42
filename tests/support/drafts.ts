import type { Draft } from '#journal/chain.ts';

/** A small entry, different for each number. The people are invented. */
export const draft = (n: number, other: Partial<Draft> = {}): Draft => ({
  id: `command-${n}`,
  at: `2031-03-04T08:${String(n % 60).padStart(2, '0')}:00.000+01:00`,
  by: 'Testcase, Ash',
  epoch: 1,
  app: '0.1.0',
  events: [{ type: 'moved', line: 'swab', from: 'table', to: 'patient', n }],
  ...other,
});
