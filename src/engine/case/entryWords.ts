import { say, sayAll, sayInside, sayOf } from '#words/say.ts';
import { checkpointOf, closureOf } from '../applies.ts';
import { unreachable } from '../assert.ts';
import { momentName } from '../counts/countsDue.ts';
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
  at === undefined ? say`from paper` : say`from paper, ${at.slice(11, 16)}`;

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
      const aside = event.setAside.map((n) => say`a pack of ${n} set aside`).join(', ');
      const opened = event.n > 0 ? say`${event.n} added to the field` : say`nothing added`;
      const scanned = event.scanned?.map((words) => say`, scanned: ${words}`).join('') ?? '';
      return { subject, rest: `${opened}${aside && `, ${aside}`}${scanned}` };
    }
    case 'moved': {
      const from = placeWords(current, event.from);
      return { subject, rest: say`${event.n} from ${from}${goneWords(current, event)}` };
    }
    case 'turned': {
      const into = event.into === undefined ? '' : say` into ${event.into}`;
      return { subject, rest: `${event.n} ${sayInside(event.name)}${into}` };
    }
    case 'broken': {
      const lengths = event.lengths ? say` (${event.lengths.join(' + ')} mm)` : '';
      return { subject, rest: say`broke into ${event.into} fragments${lengths}` };
    }
    case 'carriedIn':
      return {
        subject,
        rest: say`${event.n} start in the patient (${event.from.replace('-', ' ')})`,
      };
    case 'explained':
      return { subject, rest: say`stays: ${leftWords(event)}` };
    case 'noneFound':
      return { subject, rest: say`${event.n} searched for, none found: ${event.reason}` };
    default:
      return unreachable(event);
  }
}

/** Where moved pieces went, so that a sentence comes of it. */
function goneWords(current: Case, { to, with: with_ }: Of<'moved'>): string {
  if (with_ !== undefined) return say`, left with ${with_}`;
  return to === 'stays' ? say`, stays on purpose` : say` to ${placeWords(current, to)}`;
}

/** Where a piece lies. */
function lyingWords(current: Case, place: Place): string {
  if (isInside(place)) return say`in ${placeWords(current, place)}`;
  return place === 'table' ? say`on the table` : placeWords(current, place);
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
        rest: say`begun by ${event.scrub} and ${event.circulator}`,
      };
    case 'entered': {
      const { field, off } = event.found;
      const apart = off > 0 ? say`${field} in the field, ${off} off` : `${field}`;
      return { subject: lineName(current, event.line), rest: say`counted ${apart}` };
    }
    case 'countAgreed':
      return {
        subject: momentName(current, event.moment),
        rest: say`agreed by ${sayAll(event.agreedBy)}, ${event.outcomes.length} lines`,
      };
    case 'countAbandoned':
      return { subject: say`Count`, rest: say`broken off: ${event.reason}` };
    case 'recounted':
      return {
        subject: event.outcomes.map(({ line }) => lineName(current, line)).join(', '),
        rest: say`recounted by ${sayAll(event.agreedBy)}`,
      };
    case 'relieved': {
      const how = event.short ? say`stands in for` : say`takes over from`;
      return { subject: event.to, rest: say`${how} ${event.from} as ${sayOf(event.role)}` };
    }
    case 'waived':
      return { subject: momentName(current, event.moment), rest: say`waived: ${event.reason}` };
    default:
      return unreachable(event);
  }
}

const stepWords = (): Readonly<Record<Of<'discrepancyStepped'>['step'], string>> => ({
  'surgeon-told': say`surgeon told`,
  'record-read': say`record read back`,
  'field-searched': say`wound and field searched`,
  'room-searched': say`room searched`,
  xray: 'X-ray',
});

function discrepancyWords(
  current: Case,
  event: Of<'discrepancyStepped' | 'found' | 'declared' | 'amended' | 'xrayRead' | 'xrayDeferred'>,
): EntryWords {
  switch (event.type) {
    case 'discrepancyStepped': {
      const skipped = event.skipped === undefined ? '' : say`, not done: ${event.skipped}`;
      const rest = `${stepWords()[event.step]}, ${event.doneBy}${skipped}`;
      return { subject: lineName(current, event.line), rest };
    }
    case 'found':
      return {
        subject: lineName(current, event.line),
        rest: say`${event.n} found, now ${lyingWords(current, event.place)}`,
      };
    case 'declared':
      return {
        subject: lineName(current, event.line),
        rest: say`${event.n} declared unaccounted for by ${sayAll(event.agreedBy)}: ${event.reason}`,
      };
    case 'amended':
      return {
        subject: lineName(current, event.line),
        rest: say`baseline amended by ${event.n}, ${event.agreedBy.join(', ')}: ${event.reason}`,
      };
    case 'xrayRead': {
      const what = event.result === 'seen' ? say`something seen` : say`nothing seen`;
      const field = event.wholeField ? say`whole field` : say`not the whole field`;
      return { subject: 'X-ray', rest: say`read by ${event.readBy}: ${what}, ${field}` };
    }
    case 'xrayDeferred':
      return {
        subject: 'X-ray',
        rest: say`deferred by ${sayAll(event.agreedBy)}: ${event.reason}`,
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
      return { subject: `${event.letter} ${event.name}`, rest: say`added to the specimens` };
    case 'specimenTaken': {
      const pieces = event.pieces === 1 ? say`one piece` : say`${event.pieces} pieces`;
      const bag = event.bag === 'none' ? '' : say`, bag ${sayOf(event.bag)}`;
      return {
        subject,
        rest: say`out, ${pieces}, ${event.whole ? say`whole` : say`not whole`}${bag}`,
      };
    }
    case 'specimenContained':
      return { subject, rest: say`in pot ${event.pot}, ${sayOf(event.medium) || say`no medium`}` };
    case 'specimenLabelled':
      return { subject, rest: say`labelled by ${event.labelledBy}` };
    case 'specimenReadBack': {
      const result = event.agrees ? say`read back` : say`read back, not so: ${event.reason ?? ''}`;
      return { subject, rest: `${result}, ${event.readBy}` };
    }
    case 'specimenHandedOver':
      return { subject, rest: say`handed over to ${event.to}` };
    case 'specimenNotTaken':
      return { subject, rest: say`not taken: ${event.reason}` };
    case 'specimenPartLeft':
      return { subject, rest: say`part stays: ${event.reason}` };
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
      return { subject: say`Incision`, rest: '' };
    case 'dosed': {
      const agent = current.sheet.medicines.find((one) => one.id === event.agent);
      const dose = event.mg === undefined ? '' : say` ${event.mg} mg`;
      return {
        subject: agent?.name ?? event.agent,
        rest: say`given at ${event.givenAt.slice(11, 16)}${dose}`,
      };
    }
    default: {
      const checkpoint = checkpointOf(current, event.checkpoint);
      const subject = checkpoint?.name ?? event.checkpoint;
      if (event.type === 'checkpointBegun')
        return { subject, rest: say`led by ${event.leader}, present: ${event.present.join(', ')}` };
      if (event.type === 'checkpointReopened')
        return { subject, rest: say`reopened: ${event.reason}` };
      if (event.type === 'checkpointFinished')
        return {
          subject,
          rest: event.fast ? say`finished, faster than it can be said` : say`finished`,
        };
      const step = checkpoint?.steps.find((one) => one.id === event.step);
      return { subject: step?.short ?? event.step, rest: answerWords(step, event.answer) };
    }
  }
}

/** An answer in words, as the step calls it. */
function answerWords(step: Step | undefined, answer: Of<'answered'>['answer']): string {
  switch (answer.kind) {
    case 'given':
      return `${givenWords(step, answer.value)}${answer.scanned ? say`, wristband scanned` : ''}`;
    case 'not-applicable':
      return say`does not apply: ${answer.reason}`;
    case 'open':
      return say`left open by ${answer.name}: ${answer.reason}`;
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
      return { subject: say`Case opened`, rest: event.sheet.title };
    case 'variantChanged': {
      const variant = current.sheet.variants.find((one) => one.id === event.to);
      return { subject: variant?.name ?? event.to, rest: say`is the plan now` };
    }
    case 'corrected':
      return {
        subject: say`Taken back`,
        rest: say`entry ${event.corrects}: ${correctedWords(current, event)}`,
      };
    case 'looked':
      return lookWords(current, event);
    case 'closed':
      return { subject: closureOf(current, event.closure)?.name ?? say`Sign out`, rest: 'closed' };
    case 'reopened':
      return {
        subject: closureOf(current, event.closure)?.name ?? event.closure,
        rest: say`reopened: ${event.reason}`,
      };
    case 'finished':
      return { subject: say`Case ended`, rest: '' };
    case 'noteWritten':
      return { subject: say`Note`, rest: event.text };
    case 'weighed':
      return {
        subject: lineName(current, event.line),
        rest: say`${event.n} weigh ${event.wetG} g`,
      };
    case 'fluidMeasured':
      return { subject: say`Fluid, ${sayOf(event.kind)}`, rest: say`${event.ml} mL` };
    case 'handedOver':
      return {
        subject: lineName(current, event.line),
        rest: say`handed over to ${event.to}: ${event.plan}`,
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
  return { subject: say`Last look`, rest: words.join('; ') };
}
