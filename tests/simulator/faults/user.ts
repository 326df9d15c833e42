/** What a person taps: mostly what comes next, sometimes the same twice, sometimes in the wrong window. */
import type { Command } from '#engine/case/events.ts';
import { seenOf } from '#engine/counts/foundIn.ts';
import type { Case } from '#engine/state.ts';
import type { Chance } from '../studyChance.ts';

const move = (line: string, from: string, to: string): Command => ({
  type: 'move',
  line,
  from,
  to,
  n: 1,
});

const operating: readonly Command[] = [
  move('swab', 'table', 'patient/abdomen'),
  move('swab', 'table', 'patient/abdomen'),
  move('swab', 'patient/abdomen', 'off'),
  move('swab', 'table', 'off'),
  move('port', 'table', 'patient/abdomen'),
  move('port', 'patient/abdomen', 'table'),
  { type: 'add', line: 'clip', n: 2 },
  move('clip', 'table', 'stays'),
  { type: 'add', line: 'swab', packs: [5] },
  { type: 'note', text: 'The light was moved.' },
  { type: 'correct', last: 1 },
  { type: 'look', closure: 'abdomen', answers: { 'abdomen-seen': 'yes' } },
  { type: 'beginCount', moment: 'closing' },
  { type: 'close', closure: 'abdomen' },
];

/** What comes next before the incision, and in any count, on the sheet with one site. */
function next(current: Case): Command | undefined {
  const { running, first } = current.counts;
  if (running) {
    const line = running.lines.find((one) => seenOf(running, one) === undefined);
    return line === undefined ? { type: 'agree' } : enter(current, line);
  }
  if (first === 'open') return { type: 'beginCount', moment: 'first' };
  const timeOut = current.checkpoints['time-out'];
  if (!timeOut) return { type: 'beginCheckpoint', id: 'time-out', present: ['surgeon'] };
  if (timeOut.finishedAt === undefined)
    return Object.keys(timeOut.answers).length === 0
      ? { type: 'answer', checkpoint: 'time-out', step: 'time-out-said', value: 'yes' }
      : { type: 'finishCheckpoint', id: 'time-out' };
  return current.incisionAt === undefined ? { type: 'incision' } : undefined;
}

function enter(current: Case, line: string): Command {
  const field = current.lines.get(line)?.opening ?? 0;
  const isPack = current.counts.first === 'open' && line === 'swab';
  return isPack ? { type: 'enter', line, packs: [field] } : { type: 'enter', line, field, off: 0 };
}

/** What is tapped next on a case. */
export function tapOn(current: Case, chance: Chance): Command {
  const expected = next(current);
  if (expected && chance() < 0.85) return expected;
  return operating[Math.floor(chance() * operating.length)] ?? { type: 'incision' };
}
