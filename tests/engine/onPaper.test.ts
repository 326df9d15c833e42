import { expect, test } from 'vitest';
import { decide } from '#engine/case/decide.ts';
import type { Command } from '#engine/case/events.ts';
import { evolve } from '#engine/case/evolve.ts';
import type { Case } from '#engine/state.ts';
import { given, incised } from '../support/given.ts';

/** What was on paper first has two times: when it happened, and when it was typed in. */

const typedAt = '2026-01-05T11:00:00+00:00';
const onPaper = (at: string) => `2026-01-05T${at}:00+00:00`;

function typed(current: Case, command: Command, paperAt: string) {
  const id = `${command.type} ${paperAt}`;
  return decide(current, command, { at: typedAt, by: 'Prueba', id, fromPaper: true, paperAt });
}

test('[X13] the case goes by the time on the paper, the order by the typing', () => {
  const { current } = given(...incised.slice(0, -1));
  const decision = typed(current, { type: 'incision' }, onPaper('09:10'));
  if (!decision.ok) throw new Error(decision.refusal.code);
  const next = decision.events.reduce<Case>(evolve, current);
  expect(next.incisionAt).toBe(onPaper('09:10'));
  expect(next.lastAt).toBe(typedAt);
  expect(decision.events).toMatchObject([{ at: typedAt, paperAt: onPaper('09:10') }]);
});

test('[X13] a dose on paper stands to the incision on paper, not to the typing', () => {
  const { current } = given(...incised.slice(0, -1));
  const dose = typed(current, { type: 'dose', agent: 'cefuroxime' }, onPaper('08:40'));
  if (!dose.ok) throw new Error(dose.refusal.code);
  const dosed = dose.events.reduce<Case>(evolve, current);
  const incision = typed(dosed, { type: 'incision' }, onPaper('09:10'));
  expect(incision.ok && incision.warnings.map(({ code }) => code)).toEqual([]);
  const late = typed(dosed, { type: 'incision' }, onPaper('09:41'));
  expect(late.ok && late.warnings.map(({ code }) => code)).toEqual(['dose-late']);
});

test.each(['2026-01-05T11:01:00+00:00', 'ten past nine', ''])(
  '[X13] a time on paper that is none, or after the typing, is refused: %s',
  (paperAt) => {
    const decision = typed(given().current, { type: 'note', text: 'words' }, paperAt);
    expect(decision).toMatchObject({
      ok: false,
      refusal: { code: 'not-a-time', detail: 'on paper' },
    });
  },
);

/** Everything of the sign in but its end. */
function answered(): Case {
  const begin = {
    type: 'beginCheckpoint',
    id: 'sign-in',
    leader: 'circulator',
    present: ['circulator', 'anaesthetist'],
  } as const;
  const answers = (['sterility', 'marked', 'blood-loss'] as const).map((step): Command => {
    const value = { sterility: 'fine', marked: 'yes', 'blood-loss': 50 }[step];
    return { type: 'answer', checkpoint: 'sign-in', step, value };
  });
  return given(begin, ...answers).current;
}

test('[X13] what was answered on paper is not said to be answered too fast', () => {
  const current = answered();
  const finish: Command = { type: 'finishCheckpoint', id: 'sign-in' };
  const here = decide(current, finish, { at: current.lastAt, by: 'Prueba', id: 'here' });
  expect(here.ok && here.warnings.map(({ code }) => code)).toEqual(['answered-fast']);
  const paper = typed(current, finish, current.lastAt);
  expect(paper.ok && paper.warnings.map(({ code }) => code)).toEqual([]);
});
