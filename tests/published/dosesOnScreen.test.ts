import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { Case, Patient } from '#engine/state.ts';
import { nextDoses, tableWords } from '#screens/doseWords.ts';
import { dueCards } from '#screens/holdCards.ts';
import { adult, appendicectomy, told } from './theatre.ts';

/**
 * What the screens say of doses and of the next one. Numbers: ASHP/IDSA/SIS/SHEA 2013, table 1, from the shipped sheet;
 * the same values are checked against the engine in tests/published.
 */

beforeEach(() => vi.stubEnv('TZ', 'UTC'));
afterEach(() => vi.unstubAllEnvs());

const day = (time: string) => `2026-01-05T${time}:00+00:00`;
const child: Patient = { ...adult, born: '2018-01-31' };

const caseOf = (patient: Patient, steps = ''): Case =>
  told({
    patient,
    start: day('06:50'),
    steps: `
- checkpoint: { id: sign-in, answers: usual }
${steps}`,
  });

const dosed = (agent: string, more = '') =>
  caseOf(adult, `- dose: { agent: ${agent} }\n  at: "08:00"\n${more}`);

function table(agent: string, patient: Patient) {
  const medicine = appendicectomy.medicines.find(({ id }) => id === agent);
  if (!medicine) throw new Error(`The table has no ${agent}.`);
  return tableWords(caseOf(patient), medicine, day('08:00'));
}

test.each([
  ['a child of 20 kg', 20, '600 mg', 'A child, by 20 kg.'],
  ['a child of 80 kg', 80, '2000 mg', 'A child, by 80 kg: the dose of an adult, never more.'],
])('cefazolin for %s, as the table gives it, with its source', (_, weightKg, said, how) => {
  expect(table('cefazolin', { ...child, weightKg })).toEqual({
    isKnown: true,
    said,
    how: `${how} ASHP/IDSA/SIS/SHEA 2013, table 1.`,
  });
});

test('a range and a part of a mixture are said as such', () => {
  expect(table('ceftriaxone', { ...child, weightKg: 20 }).said).toBe('1000 to 1500 mg');
  expect(table('ampicillin-sulbactam', { ...child, weightKg: 20 }).said).toBe(
    '1000 mg of ampicillin',
  );
});

test.each<readonly [string, string, Patient, string]>([
  ['a child without a weight', 'cefazolin', child, 'The weight is not known.'],
  ['an adult without a weight', 'cefazolin', adult, 'The weight is not known.'],
  [
    'a dosing weight',
    'gentamicin',
    { ...adult, weightKg: 90 },
    'It goes by dosing weight: the ideal weight is not known.',
  ],
  [
    'a child that the table leaves out',
    'piperacillin-tazobactam',
    { ...adult, born: '2025-12-30', weightKg: 4 },
    'The table has no dose for this child.',
  ],
])('no number stands for %s: ask the anaesthetist', (_, agent, patient, how) => {
  const words = table(agent, patient);
  expect(words).toEqual({ isKnown: false, said: 'Not known here: ask the anaesthetist', how });
  expect(JSON.stringify(words)).not.toMatch(/\d/);
});

test('the next cefazolin is due at 12:00, said from a quarter of an hour before', () => {
  const current = dosed('cefazolin');
  const at = (time: string) => nextDoses(current, day(time))[0];
  expect(at('11:44')).toMatchObject({ state: 'waits', said: 'Next dose due at 12:00' });
  expect(at('11:45')).toMatchObject({ state: 'soon', said: 'Next dose due at 12:00' });
  expect(at('12:00')).toMatchObject({ state: 'due', said: 'Next dose due since 12:00' });
  expect(at('12:00')?.how).toBe('4 h after it was started. ASHP/IDSA/SIS/SHEA 2013, table 1.');
});

test('the time is that of the place where the tablet is', () => {
  vi.stubEnv('TZ', 'Asia/Tokyo');
  expect(nextDoses(dosed('cefazolin'), day('09:00'))[0]?.said).toBe('Next dose due at 21:00');
});

test('a card in the frame says it when it is due, and nothing before', () => {
  const current = dosed('cefazolin');
  expect(dueCards(current, day('11:44'))).toEqual([]);
  expect(dueCards(current, day('11:50'))).toMatchObject([
    { title: 'Cefazolin: next dose due at 12:00', tone: 'due', view: { name: 'dose' } },
  ]);
  expect(dueCards(current, day('12:10'))).toMatchObject([
    { title: 'Cefazolin: next dose due since 12:00', detail: 'Tell the anaesthetist' },
  ]);
});

test('without an interval in the table no time is shown, and no card', () => {
  const current = dosed('metronidazole');
  const [next] = nextDoses(current, day('23:00'));
  expect(next).toMatchObject({ state: 'none', said: 'No time in the table' });
  expect(dueCards(current, day('23:00'))).toEqual([]);
});

test('more than 1500 mL lost since asks for it before its time', () => {
  const bled = (ml: number) =>
    dosed('cefazolin', `- fluid: { kind: suction, ml: ${ml} }\n  at: "09:30"\n`);
  expect(dueCards(bled(1500), day('10:00'))).toEqual([]);
  expect(dueCards(bled(1600), day('10:00'))).toMatchObject([
    { title: 'Cefazolin: next dose before its time' },
  ]);
  expect(nextDoses(bled(1600), day('10:00'))[0]?.how).toContain('About 1600 mL lost since');
});
