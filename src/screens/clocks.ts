import { redoseDueAt } from '#engine/checkpoints/prophylaxis.ts';
import { minutesBetween } from '#engine/quantities.ts';
import type { Case } from '#engine/state.ts';
import { say } from '#words/say.ts';

export type ClockView = {
  readonly value: string;
  readonly label: string;
  readonly tone?: 'held' | 'missing';
};

/** Hours and minutes of a span, to the minute. */
function spanWords(minutes: number): string {
  const whole = Math.max(0, Math.floor(minutes));
  return `${String(Math.floor(whole / 60)).padStart(2, '0')}:${String(whole % 60).padStart(2, '0')}`;
}

/** The clocks of the band: since incision, until the next dose, and when the record was last on disk. */
export function clocksOf(
  current: Case,
  now: string,
  savedAt: string | undefined,
): readonly ClockView[] {
  const since = current.incisionAt ? minutesBetween(current.incisionAt, now) : undefined;
  const saved = { value: savedAt?.slice(11, 16) ?? '–', label: say`saved` };
  return [
    { value: since === undefined ? '–' : spanWords(since), label: say`since incision` },
    doseClock(current, now),
    saved,
  ];
}

/** Unknown is said as unknown: a dash where there is no dose, or no interval for it. */
function doseClock(current: Case, now: string): ClockView {
  const label = say`until next dose`;
  if (current.doses.length === 0) return { value: '–', label };
  const due = redoseDueAt(current);
  if (due === undefined) return { value: say`none set`, label };
  const left = minutesBetween(now, due);
  if (left < 0)
    return { value: say`${spanWords(-left)} over`, label: say`next dose due`, tone: 'missing' };
  return left <= 15
    ? { value: spanWords(left), label, tone: 'held' }
    : { value: spanWords(left), label };
}
