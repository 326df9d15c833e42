import { closuresOf, signOut } from '../applies.ts';
import { isGateDone } from '../closures/holdsOf.ts';
import type { Context } from '../decision.ts';
import { minutesBetween } from '../quantities.ts';
import type { Case } from '../state.ts';
import type { WarningCode } from '../warnings.ts';
import type { CaseEvent } from './events.ts';
import { evolve } from './evolve.ts';

/** Minutes without an entry that interrupt a running count. Common practice, no source. */
const pauseMinutes = 3;

/** Minutes without an entry after which a count asks for the patient. Common practice, no source. */
const gapMinutes = 30;

/**
 * What is said beside an entry because of the case as it stands: the clock went back, a count begins after
 * a long gap (another case may be open), a running count stood still or is void, tissue lies about at a
 * relief, the last closure is made and sign out comes next, something that did not agree was settled.
 *
 * Rules: C9, C10, X10, X14.
 */
export function saidBeside(
  current: Case,
  events: readonly CaseEvent[],
  context: Context,
): readonly WarningCode[] {
  const [first] = events;
  if (!first) return [];
  const minutes = minutesBetween(current.lastAt, context.at);
  const said: WarningCode[] = [];
  if (minutes < 0) said.push('clock-back');
  if (first.type === 'countBegun' && minutes > gapMinutes) said.push('patient-again');
  if (isCounting(first) && current.counts.running && minutes > pauseMinutes)
    said.push('count-paused');
  if (isVoided(current, events)) said.push('count-voided');
  if (isReliefOfCounter(first) && hasTissueWithoutPot(current)) said.push('tissue-on-table');
  if (isLastClosure(current, first) && !isGateDone(current, signOut)) said.push('sign-out-next');
  if (first.type === 'finished' && current.settled.length > 0) said.push('near-miss');
  return said;
}

const isCounting = (event: CaseEvent): boolean =>
  event.type === 'entered' || event.type === 'countAgreed';

/** Whether a count that is running ends by an entry that is not its own end. */
function isVoided(current: Case, events: readonly CaseEvent[]): boolean {
  if (!current.counts.running) return false;
  const isItsEnd = events.some(({ type }) =>
    ['countAgreed', 'countAbandoned', 'waived'].includes(type),
  );
  return !isItsEnd && events.reduce(evolve, current).counts.running === undefined;
}

const isLastClosure = (current: Case, event: CaseEvent): boolean =>
  event.type === 'closed' && event.closure === closuresOf(current).at(-1)?.id;

const isReliefOfCounter = (event: CaseEvent): boolean =>
  event.type === 'relieved' && (event.role === 'scrub' || event.role === 'circulator');

/** Tissue that is out and in no pot lies on the table, and only the one who leaves knows it. */
const hasTissueWithoutPot = (current: Case): boolean =>
  Object.values(current.specimens).some((specimen) => specimen.stage === 'taken');
