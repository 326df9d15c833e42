import type { BundleEntry, DetectedIssue, Observation, ObservationComponent } from 'fhir/r4';
import type { CaseEvent } from '#engine/case/events.ts';
import { momentName } from '#engine/counts/countsDue.ts';
import type { Outcome } from '#engine/counts/events.ts';
import { happenedAt } from '#engine/happenedAt.ts';
import { lossOf } from '#engine/notes/lossOf.ts';
import type { Differing, Settled } from '#engine/state.ts';
import { eventsIn } from '../wholeRecord.ts';
import { concept, entry, instant, type Making, said, some } from './parts.ts';
import { systems } from './systems.ts';

type Counted = Extract<CaseEvent, { readonly type: 'countAgreed' | 'recounted' | 'waived' }>;

const isCounted = (event: CaseEvent): event is Counted =>
  event.type === 'countAgreed' || event.type === 'recounted' || event.type === 'waived';

/** One observation for each count, recount and waived count. */
export function countsOf(making: Making): readonly BundleEntry[] {
  return eventsIn(making.record)
    .filter(isCounted)
    .map((event) =>
      entry(making.urn('Observation', `count-${event.entry}`), countOf(making, event)),
    );
}

function countOf(making: Making, event: Counted): Observation {
  const { current } = making;
  const name = event.type === 'recounted' ? 'Recount' : momentName(current, event.moment);
  const about = {
    resourceType: 'Observation',
    code: concept(name),
    subject: making.patient,
    encounter: making.encounter,
    partOf: [making.procedure],
    effectiveDateTime: instant(happenedAt(event)),
    performer: event.agreedBy.map(making.person),
  } as const;
  if (event.type === 'waived')
    return {
      ...about,
      partOf: [...about.partOf],
      status: 'cancelled',
      dataAbsentReason: {
        coding: [{ system: systems.absent, code: 'not-performed' }],
        text: said(event.reason),
      },
    };
  const isFirst = event.type === 'countAgreed' && event.moment === 'first';
  const isBlind = (line: string) => current.differing[line]?.stage === 'recount';
  const differ = event.outcomes.filter(
    ({ found, expected }) => !isFirst && found.field + found.off !== expected,
  );
  return {
    ...about,
    partOf: [...about.partOf],
    status: 'final',
    valueBoolean: differ.length === 0,
    component: some(
      event.outcomes.flatMap((one) => componentsOf(making, one, !isFirst && !isBlind(one.line))),
    ),
  };
}

function componentsOf(
  { current }: Making,
  { line, found, expected }: Outcome,
  isShown: boolean,
): readonly ObservationComponent[] {
  const name = current.lines.get(line)?.name ?? line;
  const counted = {
    code: concept(`${name}: counted`),
    valueInteger: found.field + found.off,
  };
  if (!isShown) return [counted];
  return [counted, { code: concept(`${name}: expected`), valueInteger: expected }];
}

/** What was estimated to be lost. What is not known is said to be unknown, and is no number. */
export function lossObservation(making: Making): readonly BundleEntry[] {
  const { current } = making;
  if (current.weighed.length + current.fluids.length === 0) return [];
  const loss = lossOf(current);
  const value = loss.isUnknown
    ? { dataAbsentReason: { coding: [{ system: systems.absent, code: 'unknown' }] } }
    : {
        valueQuantity: { value: loss.totalMl, unit: 'mL', system: systems.units, code: 'mL' },
      };
  const resource: Observation = {
    resourceType: 'Observation',
    status: current.finishedAt ? 'final' : 'preliminary',
    code: concept('Estimated blood loss: weighed swabs and suction less irrigation'),
    subject: making.patient,
    encounter: making.encounter,
    partOf: [making.procedure],
    effectiveDateTime: instant(current.lastAt),
    ...value,
  };
  return [entry(making.urn('Observation', 'loss'), resource)];
}

/** A line that did not agree, what was done about it, and how it ended. One to be counted again says no more. */
export function issuesOf(making: Making): readonly BundleEntry[] {
  const { settled, differing } = making.current;
  const open = Object.values(differing);
  return [...settled, ...open].map((one) =>
    entry(making.urn('DetectedIssue', `${one.line}-${one.entry}`), issueOf(making, one)),
  );
}

function issueOf(making: Making, one: Differing | Settled): DetectedIssue {
  const { current } = making;
  const isSettled = 'how' in one;
  const isLasting = isSettled && one.how === 'declared';
  const steps = Object.entries(one.steps).map(([step, done]) => ({
    action: concept(
      `${step.replaceAll('-', ' ')}${done.skipped ? `, not done: ${done.skipped}` : ''}`,
    ),
    date: instant(done.at),
    author: making.person(done.by),
  }));
  const end = isSettled ? [{ action: concept(endWords(one)), date: instant(one.settledAt) }] : [];
  return {
    resourceType: 'DetectedIssue',
    status: isSettled ? 'final' : 'preliminary',
    severity: isLasting || !isSettled ? 'high' : 'moderate',
    code: concept('Count discrepancy'),
    patient: making.patient,
    identifiedDateTime: instant(one.openedAt),
    implicated: [making.procedure],
    evidence: [{ detail: [making.to('Observation', `count-${one.entry}`)] }],
    detail: said(`${current.lines.get(one.line)?.name ?? one.line}: ${differenceWords(one)}`),
    mitigation: some([...steps, ...end]),
  };
}

function differenceWords({ stage, difference, ...rest }: Differing | Settled): string {
  if (stage === 'recount' && !('how' in rest)) return 'did not agree; to be counted again';
  return `${difference > 0 ? 'over' : 'short'} by ${Math.abs(difference)}`;
}

const endWords = (one: Settled): string =>
  one.how === 'agreed'
    ? 'settled: two recounts in a row agreed'
    : `declared unaccounted for by ${one.by?.join(' and ')}: ${one.reason ?? ''}`;
