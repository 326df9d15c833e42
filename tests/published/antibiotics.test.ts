import { expect, test } from 'vitest';
import { decide } from '#engine/case/decide.ts';
import { redosesOf } from '#engine/case/redosesOf.ts';
import { computedOf } from '#engine/checkpoints/computedOf.ts';
import { bestDose, redoseDueAt } from '#engine/checkpoints/prophylaxis.ts';
import type { Case } from '#engine/state.ts';
import { appendicectomy, told } from './theatre.ts';

/**
 * Source of every check of this file, where none is named beside it: ASHP/IDSA/SIS/SHEA 2013, American Journal of
 * Health-System Pharmacy 70:195, table 1 (intervals, half-lives; the column says from the start of the dose), and the
 * windows of 60 and 120 minutes as hospital guides restate them (secondary).
 */
const day = (time: string) => `2026-01-05T${time}:00+00:00`;

/** A case with these doses, up to the moment before the incision at 08:40. */
const dosed = (doses: string): Case =>
  told({
    start: day('06:50'),
    steps: `
- checkpoint: { id: sign-in, answers: usual }
- count: { moment: first, found: usual }
${doses}
- note: { text: ready }
  at: "08:40"`,
  });

const dose = (agent: string, time: string) => `- dose: { agent: ${agent} }\n  at: "${time}"`;
const stoodAt = (current: Case, time: string) => bestDose(current, day(time))?.window;

/** What the incision at this time is warned of. */
function warnedOf(current: Case, time: string): readonly string[] {
  const context = { at: day(time), by: 'Ensayo', id: 'incision' };
  const ready = told({
    start: day('06:50'),
    steps: `
- checkpoint: { id: sign-in, answers: usual }
- count: { moment: first, found: usual }
- checkpoint: { id: time-out, notApplicable: { antibiotic: for this check } }`,
  });
  const decision = decide({ ...ready, doses: current.doses }, { type: 'incision' }, context);
  return decision.ok ? decision.warnings.map(({ code }) => code) : [decision.refusal.code];
}

test('CV-33: cefazolin started 40 minutes before the incision is in its window', () => {
  const current = dosed(dose('cefazolin', '08:00'));
  expect(stoodAt(current, '08:40')).toEqual({
    state: 'in-window',
    minutes: 40,
    windowMinutes: 60,
  });
  expect(stoodAt(current, '09:00')).toMatchObject({ state: 'in-window', minutes: 60 });
  expect(computedOf(current, 'prophylaxis', day('08:40'))).toEqual({
    ok: true,
    words: 'Cefazolin at 08:00, 40 min before',
  });
  expect(warnedOf(current, '08:40')).toEqual([]);
});

test('CV-34: cefazolin started 61 minutes before is out of its window, which is said', () => {
  const current = dosed(dose('cefazolin', '07:39'));
  expect(stoodAt(current, '08:40')).toEqual({
    state: 'too-early',
    minutes: 61,
    windowMinutes: 60,
  });
  expect(computedOf(current, 'prophylaxis', day('08:40'))).toEqual({
    ok: false,
    words: 'Cefazolin at 07:39, 61 min before: outside 60 min',
  });
  expect(warnedOf(current, '08:40')).toEqual(['dose-late']);
});

test('CV-35: vancomycin started 100 minutes before is in its window of 120', () => {
  const current = dosed(dose('vancomycin', '07:00'));
  expect(stoodAt(current, '08:40')).toEqual({
    state: 'in-window',
    minutes: 100,
    windowMinutes: 120,
  });
  expect(stoodAt(current, '09:00')).toMatchObject({ state: 'in-window', minutes: 120 });
  expect(stoodAt(current, '09:01')).toMatchObject({ state: 'too-early', minutes: 121 });
  const quinolones = ['ciprofloxacin', 'levofloxacin', 'moxifloxacin'];
  for (const agent of quinolones)
    expect(stoodAt(dosed(dose(agent, '07:00')), '08:40')).toMatchObject({ state: 'in-window' });
});

test('CV-36: a first dose after the incision is late, and said to be', () => {
  const current = told({
    start: day('08:00'),
    steps: `
- checkpoint: { id: sign-in, answers: usual }
- count: { moment: first, found: usual }
- checkpoint: { id: time-out, answers: { antibiotic: } }
  refused: steps-open
- checkpoint:
    id: time-out
    open: { antibiotic: { name: anaesthetist, reason: forgotten } }
- incision: {}
  at: "08:40"
- dose: { agent: cefazolin }
  at: "08:45"
  warned: dose-late`,
  });
  expect(stoodAt(current, '08:40')).toEqual({ state: 'late', minutes: -5, windowMinutes: 60 });
  expect(computedOf(current, 'prophylaxis', day('09:00'))).toEqual({
    ok: false,
    words: 'Cefazolin at 08:45, after incision',
  });
});

const due = (...doses: readonly string[]) => redoseDueAt(dosed(doses.join('\n')))?.slice(11, 16);

test('CV-37: cefazolin of 08:00 is due again at 12:00, whenever the incision was', () => {
  expect(due(dose('cefazolin', '08:00'))).toBe('12:00');
  const cut = told({
    start: day('07:50'),
    steps: `
- checkpoint: { id: sign-in, answers: usual }
- count: { moment: first, found: usual }
- dose: { agent: cefazolin }
  at: "08:00"
- checkpoint: { id: time-out, answers: usual }
- incision: {}
  at: "08:55"`,
  });
  expect(redoseDueAt(cut)?.slice(11, 16)).toBe('12:00');
});

test('CV-38: cefoxitin, cefuroxime and cefotetan of 08:00 are due at 10:00, 12:00 and 14:00', () => {
  const agents = ['cefoxitin', 'cefuroxime', 'cefotetan'];
  expect(agents.map((agent) => due(dose(agent, '08:00')))).toEqual(['10:00', '12:00', '14:00']);
});

test('CV-39: clindamycin of 08:00 is due again at 14:00', () => {
  expect(due(dose('clindamycin', '08:00'))).toBe('14:00');
});

test('CV-40: ampicillin, alone and with sulbactam, and piperacillin-tazobactam are due after two hours', () => {
  const agents = ['ampicillin', 'ampicillin-sulbactam', 'piperacillin-tazobactam'];
  expect(agents.map((agent) => due(dose(agent, '08:00')))).toEqual(['10:00', '10:00', '10:00']);
});

test('CV-41: what has no interval in the table has no timer, and a long case is told so', () => {
  const agents = ['metronidazole', 'vancomycin', 'gentamicin', 'ceftriaxone', 'ertapenem'];
  for (const agent of [...agents, 'ciprofloxacin']) {
    const current = dosed(dose(agent, '08:00'));
    expect(redoseDueAt(current)).toBeUndefined();
    expect(redosesOf(current)).toEqual([
      {
        agent,
        state: 'untimed',
        sentence: 'The table gives no second dose of it. A very long case may need one: ask.',
      },
    ]);
  }
});

// The same table: each medicine has a row of its own, so that one without an interval hides none
// that has one.
test('[K11] of two medicines given together each has its own window and its own timer', () => {
  const both = dosed([dose('cefazolin', '08:00'), dose('metronidazole', '08:05')].join('\n'));
  expect(redoseDueAt(both)?.slice(11, 16)).toBe('12:00');
  expect(due(dose('cefazolin', '08:00'), dose('cefoxitin', '08:10'))).toBe('10:10');
  expect(computedOf(both, 'prophylaxis', day('08:40'))).toEqual({
    ok: true,
    words: 'Cefazolin at 08:00, 40 min before; Metronidazole at 08:05, 35 min before',
  });
  const early = dosed([dose('metronidazole', '07:30'), dose('cefazolin', '08:00')].join('\n'));
  expect(computedOf(early, 'prophylaxis', day('08:40'))).toEqual({
    ok: false,
    words: 'Metronidazole at 07:30, 70 min before: outside 60 min',
  });
  expect(warnedOf(early, '08:40')).toEqual(['dose-late']);
});

/** Cefazolin at 08:00, incision at 08:40, and two hours after the dose so much in the suction. */
const bled = (ml: number, more = '') =>
  told({
    start: day('07:50'),
    steps: `
- checkpoint: { id: sign-in, answers: usual }
- count: { moment: first, found: usual }
- dose: { agent: cefazolin }
  at: "08:00"
- checkpoint: { id: time-out, answers: usual }
- incision: {}
  at: "08:40"
- fluid: { kind: suction, ml: ${ml} }
  at: "10:00"
${more}`,
  });

const timed = { agent: 'cefazolin', state: 'timed', dueAt: '2026-01-05T12:00:00.000Z' };

// The same guideline, its text: another dose when more than 1500 mL of blood are lost (secondary).
test('CV-42: 1600 mL lost two hours after cefazolin ask for another dose, 1500 mL do not', () => {
  expect(redosesOf(bled(1600))).toEqual([{ agent: 'cefazolin', state: 'bled', lossMl: 1600 }]);
  expect(redosesOf(bled(1500))).toEqual([timed]);
});

// The same; what is irrigation is not blood (common practice, no source).
test('[K12] the loss is counted since the last dose, without the irrigation', () => {
  expect(redosesOf(bled(1600, '- fluid: { kind: irrigation, ml: 100 }'))).toEqual([timed]);
  const again = bled(1600, '- dose: { agent: cefazolin }\n  at: "10:05"');
  expect(redosesOf(again)).toEqual([{ ...timed, dueAt: '2026-01-05T14:05:00.000Z' }]);
});

/** Half-lives in hours with normal kidneys: the same table, column t½. */
const halfLives: Readonly<Record<string, readonly [number, number]>> = {
  'ampicillin-sulbactam': [0.8, 1.3],
  ampicillin: [1, 1.9],
  aztreonam: [1.3, 2.4],
  cefazolin: [1.2, 2.2],
  cefuroxime: [1, 2],
  cefotaxime: [0.9, 1.7],
  cefoxitin: [0.7, 1.1],
  cefotetan: [2.8, 4.6],
  clindamycin: [2, 4],
  'piperacillin-tazobactam': [0.7, 1.2],
};

test('CV-43: every interval lies within twice the half-life', () => {
  const timed = appendicectomy.medicines.filter(({ redoseHours }) => redoseHours !== null);
  expect(timed.map(({ id }) => id).sort()).toEqual(Object.keys(halfLives).sort());
  for (const { id, redoseHours } of timed) {
    const [least = Number.NaN, most = Number.NaN] = halfLives[id] ?? [];
    expect(redoseHours, id).toBeGreaterThanOrEqual(2 * least);
    expect(redoseHours, id).toBeLessThanOrEqual(2 * most);
  }
});
