import type { BundleEntry, Specimen as FhirSpecimen, ServiceRequest } from 'fhir/r4';
import type { Specimen } from '#engine/state.ts';
import { labelCodeOf } from '#scan/labelCode.ts';
import { outWords } from '../page/summary.ts';
import { concept, entry, instant, type Making, said } from './parts.ts';

/** Whether there is a specimen to speak of. */
export const isOut = ({ stage }: Specimen): boolean => stage !== 'planned' && stage !== 'notTaken';

/** Each specimen that is out, and what the laboratory is asked. */
export function specimenEntries(making: Making): readonly BundleEntry[] {
  return Object.values(making.current.specimens)
    .filter(isOut)
    .flatMap((one) => [
      entry(making.urn('Specimen', one.id), specimenOf(making, one)),
      entry(making.urn('ServiceRequest', one.id), requestOf(making, one)),
    ]);
}

function specimenOf(making: Making, one: Specimen): FhirSpecimen {
  const { current } = making;
  const side = one.side === 'not applicable' ? '' : `, ${one.side}`;
  return {
    resourceType: 'Specimen',
    identifier: [{ value: labelCodeOf(current, one) }],
    status: 'available',
    type: concept(`${one.letter} ${one.name}`),
    subject: making.patient,
    request: [making.to('ServiceRequest', one.id)],
    collection: {
      ...(one.takenAt ? { collectedDateTime: instant(one.takenAt) } : {}),
      collector: making.person(current.team.surgeon),
      bodySite: concept(`${one.siteWords}${side}`),
    },
    ...(one.pot === undefined ? {} : containedIn(one, one.pot)),
    note: [{ text: said(outWords(current, one)) }],
  };
}

function containedIn({ medium, mediumReason, containedAt }: Specimen, pot: string) {
  const why = mediumReason ? ` (${mediumReason})` : '';
  const words = medium?.trim() ? `${medium}${why}` : 'no medium';
  return {
    container: [{ identifier: [{ value: said(pot) }], additiveCodeableConcept: concept(words) }],
    processing: [
      {
        description: said(`Into pot ${pot}, ${words}`),
        ...(containedAt ? { timeDateTime: instant(containedAt) } : {}),
      },
    ],
  };
}

function requestOf(making: Making, one: Specimen): ServiceRequest {
  return {
    resourceType: 'ServiceRequest',
    status: 'active',
    intent: 'order',
    code: concept(one.test),
    subject: making.patient,
    encounter: making.encounter,
    ...(one.takenAt ? { authoredOn: instant(one.takenAt) } : {}),
    requester: making.person(making.current.team.surgeon),
    specimen: [making.to('Specimen', one.id)],
  };
}
