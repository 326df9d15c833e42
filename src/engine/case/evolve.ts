import { assert, Fault, unreachable } from '../assert.ts';
import { evolveCheckpoints } from '../checkpoints/evolve.ts';
import { evolveClosures } from '../closures/evolve.ts';
import { evolveCounts } from '../counts/evolve.ts';
import { evolveDiscrepancies } from '../discrepancies/evolve.ts';
import { happenedAt } from '../happenedAt.ts';
import { evolveMoves } from '../moves/evolve.ts';
import { evolveNotes } from '../notes/evolve.ts';
import { evolveSpecimens } from '../specimens/evolve.ts';
import type { Case } from '../state.ts';
import { evolveCorrected } from './correct.ts';
import type { CaseEvent } from './events.ts';
import { openedCase } from './opened.ts';
import { evolveVariant } from './variant.ts';

/**
 * Applies one recorded event. Never refuses: an event is a fact.
 *
 * Throws: Fault, when the event cannot follow on this case (a damaged record).
 */
export function evolve(current: Case | undefined, event: CaseEvent): Case {
  if (event.type === 'opened') {
    assert(current === undefined, 'a case is opened once');
    return openedCase(event);
  }
  assert(current !== undefined, 'the first event opens the case');
  const { entry } = event;
  if (entry < current.entry) throw new Fault(`entry ${entry} comes after ${current.entry}`);
  const next = evolveAsHappened(current, event);
  assert(next.entry === entry, 'an event notes its entry');
  return next;
}

type Later = Exclude<CaseEvent, { readonly type: 'opened' }>;

/** What was on paper first happened when the paper says; the clock of the tablet goes on by the typing. */
function evolveAsHappened(current: Case, event: Later): Case {
  if (event.paperAt === undefined) return evolveOne(current, event);
  return { ...evolveOne(current, { ...event, at: happenedAt(event) }), lastAt: event.at };
}

function evolveOne(current: Case, event: Later): Case {
  switch (event.type) {
    case 'added':
    case 'moved':
    case 'turned':
    case 'broken':
    case 'carriedIn':
    case 'explained':
    case 'noneFound':
      return evolveMoves(current, event);
    case 'countBegun':
    case 'entered':
    case 'countAgreed':
    case 'countAbandoned':
    case 'recounted':
    case 'relieved':
    case 'waived':
      return evolveCounts(current, event);
    case 'discrepancyStepped':
    case 'found':
    case 'declared':
    case 'amended':
    case 'xrayRead':
    case 'xrayDeferred':
      return evolveDiscrepancies(current, event);
    case 'specimenAdded':
    case 'specimenTaken':
    case 'specimenContained':
    case 'specimenLabelled':
    case 'specimenReadBack':
    case 'specimenHandedOver':
    case 'specimenNotTaken':
    case 'specimenPartLeft':
      return evolveSpecimens(current, event);
    case 'checkpointBegun':
    case 'answered':
    case 'checkpointFinished':
    case 'checkpointReopened':
    case 'incised':
    case 'dosed':
      return evolveCheckpoints(current, event);
    case 'looked':
    case 'closed':
    case 'reopened':
    case 'finished':
      return evolveClosures(current, event);
    case 'noteWritten':
    case 'weighed':
    case 'fluidMeasured':
    case 'handedOver':
    case 'allergiesSaid':
      return evolveNotes(current, event);
    case 'variantChanged':
      return evolveVariant(current, event);
    case 'corrected':
      return evolveCorrected(current, event);
    default:
      return unreachable(event);
  }
}
