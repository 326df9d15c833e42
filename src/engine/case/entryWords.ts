import { checkpointOf, closureOf } from '../applies.ts';
import { unreachable } from '../assert.ts';
import { momentName } from '../closures/holdsOf.ts';
import { isInside, type Place } from '../places.ts';
import type { Line, Step } from '../sheet.ts';
import type { Case } from '../state.ts';
import type { CaseEvent } from './events.ts';
import { placeWords } from './placeWords.ts';
import { signedWords } from './signedWords.ts';

/** One recorded fact in words: what it is about, and what happened. */
export type EntryWords = { readonly subject: string; readonly rest: string };

/** What an event says, for the foot of the screen and the record. Numbers of a blind count stay out while it runs. */
export function entryWords(current: Case, event: CaseEvent): EntryWords {
  const words = wordsOf(current, event);
  const beside = [
    ...(event.fromPaper ? [paperWords(event.paperAt)] : []),
    ...(event.signed ? [signedWords(event.signed)] : []),
  ];
  if (beside.length === 0) return words;
  return { ...words, rest: [words.rest, ...beside].filter(Boolean).join(' · ') };
}

const paperWords = (at: string | undefined): string =>
  at === undefined ? 'from paper' : `from paper, ${at.slice(11, 16)}`;

function wordsOf(current: Case, event: CaseEvent): EntryWords {
  switch (event.type) {
    case 'added':
    case 'moved':
    case 'turned':
    case 'broken':
    case 'carriedIn':
    case 'explained':
    case 'noneFound':
      return movesWords(current, event);
    case 'countBegun':
    case 'entered':
    case 'countAgreed':
    case 'countAbandoned':
    case 'recounted':
    case 'relieved':
    case 'waived':
      return countWords(current, event);
    case 'discrepancyStepped':
    case 'found':
    case 'declared':
    case 'amended':
    case 'xrayRead':
    case 'xrayDeferred':
      return discrepancyWords(current, event);
    case 'specimenAdded':
    case 'specimenTaken':
    case 'specimenContained':
    case 'specimenLabelled':
    case 'specimenReadBack':
    case 'specimenHandedOver':
    case 'specimenNotTaken':
    case 'specimenPartLeft':
      return specimenWords(current, event);
    case 'checkpointBegun':
    case 'answered':
    case 'checkpointFinished':
    case 'checkpointReopened':
    case 'incised':
    case 'dosed':
      return checkpointWords(current, event);
    default:
      return otherWords(current, event);
  }
}

type Of<Types extends CaseEvent['type']> = Extract<CaseEvent, { readonly type: Types }>;

const lineName = (current: Case, id: string): string => current.lines.get(id)?.name ?? id;

function movesWords(
  current: Case,
  event: Of<'added' | 'moved' | 'turned' | 'broken' | 'carriedIn' | 'explained' | 'noneFound'>,
): EntryWords {
  const subject = lineName(current, event.line);
  switch (event.type) {
    case 'added': {
      const aside = event.setAside.map((n) => `a pack of ${n} set aside`).join(', ');
      const opened = event.n > 0 ? `${event.n} added to the field` : 'nothing added';
      return { subject, rest: aside ? `${opened}, ${aside}` : opened };
    }
    case 'moved': {
      const from = placeWords(current, event.from);
      return { subject, rest: `${event.n} from ${from}${goneWords(current, event)}` };
    }
    case 'turned': {
      const into = event.into === undefined ? '' : ` into ${event.into}`;
      return { subject, rest: `${event.n} ${event.name.toLowerCase()}${into}` };
    }
    case 'broken': {
      const lengths = event.lengths ? ` (${event.lengths.join(' + ')} mm)` : '';
      return { subject, rest: `broke into ${event.into} fragments${lengths}` };
    }
    case 'carriedIn':
      return { subject, rest: `${event.n} start in the patient (${event.from.replace('-', ' ')})` };
    case 'explained':
      return { subject, rest: `stays: ${leftWords(event)}` };
    case 'noneFound':
      return { subject, rest: `${event.n} searched for, none found: ${event.reason}` };
    default:
      return unreachable(event);
  }
}

/** Where moved pieces went, so that a sentence comes of it. */
function goneWords(current: Case, { to, with: with_ }: Of<'moved'>): string {
  if (with_ !== undefined) return `, left with ${with_}`;
  return to === 'stays' ? ', stays on purpose' : ` to ${placeWords(current, to)}`;
}

/** Where a piece lies. */
function lyingWords(current: Case, place: Place): string {
  if (isInside(place)) return `in ${placeWords(current, place)}`;
  return place === 'table' ? 'on the table' : placeWords(current, place);
}

function leftWords(event: Of<'explained'>): string {
  if (event.lengths !== undefined) return event.lengths;
  const words = event.left.map((one) =>
    [one.reason, one.where, one.lot].filter(Boolean).join(', '),
  );
  return words.join('; ');
}

function countWords(
  current: Case,
  event: Of<
    | 'countBegun'
    | 'entered'
    | 'countAgreed'
    | 'countAbandoned'
    | 'recounted'
    | 'relieved'
    | 'waived'
  >,
): EntryWords {
  switch (event.type) {
    case 'countBegun':
      return {
        subject: momentName(current, event.moment),
        rest: `begun by ${event.scrub} and ${event.circulator}`,
      };
    case 'entered': {
      const { field, off } = event.found;
      const apart = off > 0 ? `${field} in the field, ${off} off` : `${field}`;
      return { subject: lineName(current, event.line), rest: `counted ${apart}` };
    }
    case 'countAgreed':
      return {
        subject: momentName(current, event.moment),
        rest: `agreed by ${event.agreedBy.join(' and ')}, ${event.outcomes.length} lines`,
      };
    case 'countAbandoned':
      return { subject: 'Count', rest: `broken off: ${event.reason}` };
    case 'recounted':
      return {
        subject: event.outcomes.map(({ line }) => lineName(current, line)).join(', '),
        rest: `recounted by ${event.agreedBy.join(' and ')}`,
      };
    case 'relieved': {
      const how = event.short ? 'stands in for' : 'takes over from';
      return { subject: event.to, rest: `${how} ${event.from} as ${event.role}` };
    }
    case 'waived':
      return { subject: momentName(current, event.moment), rest: `waived: ${event.reason}` };
    default:
      return unreachable(event);
  }
}

const stepWords: Readonly<Record<Of<'discrepancyStepped'>['step'], string>> = {
  'surgeon-told': 'surgeon told',
  'record-read': 'record read back',
  'field-searched': 'wound and field searched',
  'room-searched': 'room searched',
  xray: 'X-ray',
};

function discrepancyWords(
  current: Case,
  event: Of<'discrepancyStepped' | 'found' | 'declared' | 'amended' | 'xrayRead' | 'xrayDeferred'>,
): EntryWords {
  switch (event.type) {
    case 'discrepancyStepped': {
      const skipped = event.skipped === undefined ? '' : `, not done: ${event.skipped}`;
      const rest = `${stepWords[event.step]}, ${event.doneBy}${skipped}`;
      return { subject: lineName(current, event.line), rest };
    }
    case 'found':
      return {
        subject: lineName(current, event.line),
        rest: `${event.n} found, now ${lyingWords(current, event.place)}`,
      };
    case 'declared':
      return {
        subject: lineName(current, event.line),
        rest: `${event.n} declared unaccounted for by ${event.agreedBy.join(' and ')}: ${event.reason}`,
      };
    case 'amended':
      return {
        subject: lineName(current, event.line),
        rest: `baseline amended by ${event.n}, ${event.agreedBy.join(', ')}: ${event.reason}`,
      };
    case 'xrayRead': {
      const what = event.result === 'seen' ? 'something seen' : 'nothing seen';
      const field = event.wholeField ? 'whole field' : 'not the whole field';
      return { subject: 'X-ray', rest: `read by ${event.readBy}: ${what}, ${field}` };
    }
    case 'xrayDeferred':
      return {
        subject: 'X-ray',
        rest: `deferred by ${event.agreedBy.join(' and ')}: ${event.reason}`,
      };
    default:
      return unreachable(event);
  }
}

function specimenWords(
  current: Case,
  event: Extract<CaseEvent, { readonly specimen: string }>,
): EntryWords {
  const known = current.specimens[event.specimen];
  const subject = known ? `${known.letter} ${known.name}` : event.specimen;
  switch (event.type) {
    case 'specimenAdded':
      return { subject: `${event.letter} ${event.name}`, rest: 'added to the specimens' };
    case 'specimenTaken': {
      const pieces = event.pieces === 1 ? 'one piece' : `${event.pieces} pieces`;
      const bag = event.bag === 'none' ? '' : `, bag ${event.bag}`;
      return { subject, rest: `out, ${pieces}, ${event.whole ? 'whole' : 'not whole'}${bag}` };
    }
    case 'specimenContained':
      return { subject, rest: `in pot ${event.pot}, ${event.medium || 'no medium'}` };
    case 'specimenLabelled':
      return { subject, rest: `labelled by ${event.labelledBy}` };
    case 'specimenReadBack': {
      const result = event.agrees ? 'read back' : `read back, not so: ${event.reason ?? ''}`;
      return { subject, rest: `${result}, ${event.readBy}` };
    }
    case 'specimenHandedOver':
      return { subject, rest: `handed over to ${event.to}` };
    case 'specimenNotTaken':
      return { subject, rest: `not taken: ${event.reason}` };
    case 'specimenPartLeft':
      return { subject, rest: `part stays: ${event.reason}` };
    default:
      return unreachable(event);
  }
}

function checkpointWords(
  current: Case,
  event: Of<
    | 'checkpointBegun'
    | 'answered'
    | 'checkpointFinished'
    | 'checkpointReopened'
    | 'incised'
    | 'dosed'
  >,
): EntryWords {
  switch (event.type) {
    case 'incised':
      return { subject: 'Incision', rest: '' };
    case 'dosed': {
      const agent = current.sheet.medicines.find((one) => one.id === event.agent);
      const dose = event.mg === undefined ? '' : ` ${event.mg} mg`;
      return {
        subject: agent?.name ?? event.agent,
        rest: `given at ${event.givenAt.slice(11, 16)}${dose}`,
      };
    }
    default: {
      const checkpoint = checkpointOf(current, event.checkpoint);
      const subject = checkpoint?.name ?? event.checkpoint;
      if (event.type === 'checkpointBegun')
        return { subject, rest: `led by ${event.leader}, present: ${event.present.join(', ')}` };
      if (event.type === 'checkpointReopened')
        return { subject, rest: `reopened: ${event.reason}` };
      if (event.type === 'checkpointFinished')
        return { subject, rest: event.fast ? 'finished, faster than it can be said' : 'finished' };
      const step = checkpoint?.steps.find((one) => one.id === event.step);
      return { subject: step?.short ?? event.step, rest: answerWords(step, event.answer) };
    }
  }
}

/** An answer in words, as the step calls it. */
function answerWords(step: Step | undefined, answer: Of<'answered'>['answer']): string {
  switch (answer.kind) {
    case 'given':
      return givenWords(step, answer.value);
    case 'not-applicable':
      return `does not apply: ${answer.reason}`;
    case 'open':
      return `left open by ${answer.name}: ${answer.reason}`;
    default:
      return unreachable(answer);
  }
}

function givenWords(step: Step | undefined, value: string): string {
  const answering = step?.answering;
  if (answering?.kind === 'choice')
    return answering.options.find((option) => option.id === value)?.name ?? value;
  if (answering?.kind === 'number' && answering.unit) return `${value} ${answering.unit}`;
  return answering?.kind === 'time' ? value.slice(11, 16) : value;
}

type Other = Of<
  | 'opened'
  | 'variantChanged'
  | 'corrected'
  | 'looked'
  | 'closed'
  | 'reopened'
  | 'finished'
  | 'noteWritten'
  | 'weighed'
  | 'fluidMeasured'
  | 'handedOver'
>;

function otherWords(current: Case, event: Other): EntryWords {
  switch (event.type) {
    case 'opened':
      return { subject: 'Case opened', rest: event.sheet.title };
    case 'variantChanged': {
      const variant = current.sheet.variants.find((one) => one.id === event.to);
      return { subject: variant?.name ?? event.to, rest: 'is the plan now' };
    }
    case 'corrected':
      return {
        subject: 'Taken back',
        rest: `entry ${event.corrects}: ${correctedWords(current, event)}`,
      };
    case 'looked':
      return lookWords(current, event);
    case 'closed':
      return { subject: closureOf(current, event.closure)?.name ?? 'Sign out', rest: 'closed' };
    case 'reopened':
      return {
        subject: closureOf(current, event.closure)?.name ?? event.closure,
        rest: `reopened: ${event.reason}`,
      };
    case 'finished':
      return { subject: 'Case ended', rest: '' };
    case 'noteWritten':
      return { subject: 'Note', rest: event.text };
    case 'weighed':
      return { subject: lineName(current, event.line), rest: `${event.n} weigh ${event.wetG} g` };
    case 'fluidMeasured':
      return { subject: `Fluid, ${event.kind}`, rest: `${event.ml} mL` };
    case 'handedOver':
      return {
        subject: lineName(current, event.line),
        rest: `handed over to ${event.to}: ${event.plan}`,
      };
    default:
      return unreachable(event);
  }
}

function correctedWords(current: Case, event: Of<'corrected'>): string {
  const line: Line | undefined = current.lines.get(event.subject);
  return line?.name ?? current.specimens[event.subject]?.name ?? event.subject;
}

function lookWords(current: Case, event: Of<'looked'>): EntryWords {
  const closure = closureOf(current, event.closure);
  const words = Object.entries(event.answers).map(([id, answer]) => {
    const step = closure?.look.find((one) => one.id === id);
    return `${step?.short ?? id}: ${answerWords(step, answer)}`;
  });
  return { subject: 'Last look', rest: words.join('; ') };
}
