/**
 * The judge of the study: the engine itself. It is told what was moved and what was counted, and says whether the
 * closure is held and the line settled. The same questions have the same answers, so each is asked once.
 */
import { decide } from '#engine/case/decide.ts';
import type { Command } from '#engine/case/events.ts';
import { evolve } from '#engine/case/evolve.ts';
import { openCase } from '#engine/case/open.ts';
import { holdsOf } from '#engine/closures/holdsOf.ts';
import type { Case } from '#engine/state.ts';
import { closure, line, sheet } from './sheets.ts';
import { contextOf, openingOf } from './walk.ts';

/** What the record says of pieces inside: nothing, one, or one that was tapped out although it is inside. */
export type Recorded = 'nothing' | 'in' | 'in and out';

/** How the engine stands to the line after the last of these counts. */
export type Judgement = {
  /** `agrees` at once; `settled` by two recounts; `once` after one that agrees; `recount` and `discrepancy` wait. */
  readonly stage: 'agrees' | 'settled' | 'once' | 'recount' | 'discrepancy';
  readonly isInsideHeld: boolean;
};

function step(current: Case, command: Command): Case {
  const decision = decide(current, command, contextOf(current.entry));
  if (!decision.ok) throw new Error(`${command.type}: ${decision.refusal.code}`);
  return decision.events.reduce<Case>(evolve, current);
}

function startedWith(pieces: number): Case {
  const study = sheet('study', {
    sites: [{ id: 'wound', name: 'wound', kind: 'wound' }],
    lines: [line('swab', { class: 'swab', opening: pieces, cuttable: false })],
    checkpoints: [],
    closures: [closure('wound', ['wound'], 'closing', { look: [] })],
  });
  const opening = openCase(openingOf(study), contextOf(0));
  const current = opening.ok
    ? opening.events.reduce<Case | undefined>(evolve, undefined)
    : undefined;
  if (!current) throw new Error('the case of the study does not open');
  const start: readonly Command[] = [
    { type: 'beginCount', moment: 'first' },
    { type: 'enter', line: 'swab', field: pieces },
    { type: 'agree' },
    { type: 'incision' },
  ];
  return start.reduce(step, current);
}

const move = (from: string, to: string): Command => ({
  type: 'move',
  line: 'swab',
  from,
  to,
  n: 1,
});

function judged(pieces: number, inside: Recorded, counts: readonly number[]): Judgement {
  let current = startedWith(pieces);
  if (inside !== 'nothing') current = step(current, move('table', 'patient'));
  if (inside === 'in and out') current = step(current, move('patient', 'table'));
  const [first = pieces, ...again] = counts;
  const count: readonly Command[] = [
    { type: 'beginCount', moment: 'closing' },
    { type: 'enter', line: 'swab', field: first },
    { type: 'agree' },
  ];
  current = count.reduce(step, current);
  let wasDiffering = current.differing.swab !== undefined;
  for (const field of again) {
    if (!current.differing.swab) break;
    wasDiffering = true;
    current = step(current, { type: 'recount', lines: { swab: { field, off: 0 } } });
  }
  const open = current.differing.swab;
  const waits = open && (open.stage === 'discrepancy' ? 'discrepancy' : 'recount');
  const isOnce = open?.stage === 'recount' && open.streak > 0;
  return {
    stage: isOnce ? 'once' : (waits ?? (wasDiffering ? 'settled' : 'agrees')),
    isInsideHeld: holdsOf(current, 'wound').some((hold) => hold.code === 'piece-inside'),
  };
}

/** A judge who remembers what was asked. `counts` are numbers seen, the count first and then each recount. */
export function makeJudge() {
  const known = new Map<string, Judgement>();
  return (pieces: number, inside: Recorded, counts: readonly number[]): Judgement => {
    const key = `${pieces} ${inside} ${counts.join()}`;
    const before = known.get(key);
    if (before) return before;
    const now = judged(pieces, inside, counts);
    known.set(key, now);
    return now;
  };
}
export type Judge = ReturnType<typeof makeJudge>;
