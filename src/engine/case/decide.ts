import { say } from '#words/say.ts';
import { signOut } from '../applies.ts';
import { unreachable } from '../assert.ts';
import { decideCheckpoints } from '../checkpoints/decide.ts';
import { codes, decideClosures } from '../closures/decide.ts';
import { holdsOf } from '../closures/holdsOf.ts';
import { decideCounts } from '../counts/decide.ts';
import { accept, type Context, type Decision, refuse, warned } from '../decision.ts';
import { decideDiscrepancies } from '../discrepancies/decide.ts';
import { happenedAt } from '../happenedAt.ts';
import { decideAdd, decideCarriedIn } from '../moves/decideAdd.ts';
import { decideExplain, decideSearchedNone } from '../moves/decideExplain.ts';
import { decideMove } from '../moves/decideMove.ts';
import { decideBreak, decideTurn } from '../moves/decideTurn.ts';
import { decideNotes } from '../notes/decide.ts';
import { isInstant, minutesBetween, textLengthMax } from '../quantities.ts';
import { isRecorded } from '../recordedIds.ts';
import { decideSpecimens } from '../specimens/decide.ts';
import type { Case } from '../state.ts';
import { decideCorrect } from './decideCorrect.ts';
import { decideVariant } from './decideVariant.ts';
import type { CaseEvent, Command, EventBody } from './events.ts';
import { saidBeside } from './saidBeside.ts';

/**
 * What a command does to a case: the events to record, or why not.
 *
 * Pure and total: the same case, command and context give the same answer. A command whose id was recorded
 * before is accepted with no events.
 * Refuses before all else: case-finished, too-long, not-a-time (a time on paper that is none, or after the typing).
 * Rules: X10, X13.
 */
export function decide(current: Case, command: Command, context: Context): Decision<CaseEvent> {
  if (isRecorded(current, context.id)) return accept<CaseEvent>();
  if (current.finishedAt !== undefined && !isAllowedAfter(command)) return refuse('case-finished');
  if (hasLongText(command)) return refuse('too-long');
  if (!isTimeOnPaper(context)) return refuse('not-a-time', say`on paper`);
  const decision = decideOne(current, command, { ...context, at: happenedAt(context) });
  if (!decision.ok) return decision;
  const entry = current.entry + 1;
  const events = decision.events.map((event) => ({ ...event, entry, ...context }));
  return warned({ ...decision, events }, ...saidBeside(current, events, context));
}

/** A time on paper is a time, and not later than it is typed in. */
const isTimeOnPaper = ({ paperAt, at }: Context): boolean =>
  paperAt === undefined || (isInstant(paperAt) && minutesBetween(paperAt, at) >= 0);

/** Whether a text anywhere in a command is longer than one entry may say. It would be dropped, not cut. */
function hasLongText(said: unknown): boolean {
  if (typeof said === 'string') return said.length > textLengthMax;
  return typeof said === 'object' && said !== null && Object.values(said).some(hasLongText);
}

/** After the case only what settles it late is taken: a film that was owed, a piece that turned up. */
function isAllowedAfter(command: Command): boolean {
  if (command.type === 'xray' || command.type === 'note') return true;
  return command.type === 'discrepancy' && command.step === 'found';
}

function decideOne(current: Case, command: Command, context: Context): Decision<EventBody> {
  switch (command.type) {
    case 'add':
      return decideAdd(current, command, context);
    case 'move':
      return decideMove(current, command, context);
    case 'turn':
      return decideTurn(current, command, context);
    case 'break':
      return decideBreak(current, command);
    case 'carriedIn':
      return decideCarriedIn(current, command);
    case 'explain':
      return decideExplain(current, command, context);
    case 'searchedNone':
      return decideSearchedNone(current, command);
    case 'beginCount':
    case 'enter':
    case 'agree':
    case 'abandon':
    case 'recount':
    case 'relief':
    case 'waive':
      return decideCounts(current, command, context);
    case 'discrepancy':
    case 'declare':
    case 'amend':
    case 'xray':
    case 'deferXray':
      return decideDiscrepancies(current, command, context);
    case 'specimen':
      return decideSpecimens(current, command, context);
    case 'beginCheckpoint':
    case 'answer':
    case 'finishCheckpoint':
    case 'reopenCheckpoint':
    case 'incision':
    case 'dose':
      return isHeldSignOut(current, command)
        ? refuse('held', codes(holdsOf(current, signOut)))
        : decideCheckpoints(current, command, context);
    case 'look':
    case 'close':
    case 'reopen':
    case 'finish':
      return decideClosures(current, command, context);
    case 'note':
    case 'weigh':
    case 'fluid':
    case 'handover':
    case 'allergies':
      return decideNotes(current, command, context);
    case 'variant':
      return decideVariant(current, command);
    case 'correct':
      return decideCorrect(current, command);
    default:
      return unreachable(command);
  }
}

/** Sign out is the last gate: it is not finished while anything is open. */
function isHeldSignOut(current: Case, command: Command): boolean {
  if (command.type !== 'finishCheckpoint' || command.id !== signOut) return false;
  const state = current.checkpoints[signOut];
  if (!state?.begun || state.finishedAt !== undefined) return false;
  return holdsOf(current, signOut).length > 0;
}
