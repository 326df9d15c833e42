import type {
  Bundle,
  BundleEntry,
  Composition,
  CompositionSection,
  Encounter,
  MedicationAdministration,
  Patient,
  Practitioner,
  Provenance,
} from 'fhir/r4';
import { medicineOf } from '#engine/checkpoints/prophylaxis.ts';
import { exceptionsOf, verdictOf } from '#engine/closures/verdictOf.ts';
import { verdictWords } from '#engine/closures/verdictWords.ts';
import { caution } from '../page/recordTree.ts';
import { doseWords } from '../page/summary.ts';
import { eventsIn, type WholeRecord } from '../wholeRecord.ts';
import { checkpointEntries } from './checkpoints.ts';
import { countsOf, issuesOf, lossObservation } from './counts.ts';
import {
  concept,
  entry,
  instant,
  type Making,
  makingOf,
  narrative,
  peopleIn,
  said,
  some,
} from './parts.ts';
import { devicesOf, flagsOf, procedureOf } from './procedure.ts';
import { specimenEntries } from './specimens.ts';
import { systems } from './systems.ts';

/** What stands under one heading: its entries, and words for those who read no data. */
type Part = {
  readonly title: string;
  /** A code of LOINC, where there is one. */
  readonly loinc?: string;
  readonly sentences: readonly string[];
  readonly entries: readonly BundleEntry[];
};

/**
 * The record as a document of FHIR.
 *
 * It stands by itself: nothing in it points outside of it. What the tablet does not know is not said.
 * Source: HL7 FHIR R4 (4.0.1), Bundle of type document.
 */
export function bundleOf(record: WholeRecord): Bundle {
  const making = makingOf(record);
  const { current, urn } = making;
  const parts = partsOf(making);
  const last = record.rows.at(-1)?.at ?? current.lastAt;
  const others = [
    ...peopleEntries(making),
    entry(urn('Encounter'), encounterOf(making)),
    procedureOf(making),
    ...parts.flatMap((part) => part.entries),
    entry(urn('Provenance'), provenanceOf(making, last)),
  ];
  return {
    resourceType: 'Bundle',
    // Test data of health care, so that nobody takes it for a patient.
    ...(current.practice ? { meta: { tag: [{ system: systems.actReason, code: 'HTEST' }] } } : {}),
    identifier: { system: systems.uri, value: urn('Bundle', record.head) },
    type: 'document',
    timestamp: instant(last),
    entry: [entry(urn('Composition'), compositionOf(making, parts, last)), ...others],
  };
}

function partsOf(making: Making): readonly Part[] {
  const { current } = making;
  const words = (entries: readonly BundleEntry[], none: string): readonly string[] =>
    entries.length === 0 ? [none] : [`${entries.length} in the entries of this section.`];
  const counts = countsOf(making);
  const issues = issuesOf(making);
  const left = [...devicesOf(making), ...flagsOf(making)];
  const specimens = specimenEntries(making);
  const doses = dosesOf(making);
  const loss = lossObservation(making);
  const exceptions = exceptionsOf(current).map((one) => one.sentence);
  return [
    {
      title: 'Verdict',
      sentences: [verdictWords[verdictOf(current)], ...exceptions, caution],
      entries: issues,
    },
    { title: 'Counts', sentences: words(counts, 'No count was made.'), entries: counts },
    {
      title: 'What stays in the patient',
      loinc: '59771-6',
      sentences: words(left, 'Nothing was left on purpose.'),
      entries: left,
    },
    {
      title: 'Specimens',
      loinc: '59773-2',
      sentences: words(specimens, 'No specimen was taken.'),
      entries: specimens,
    },
    {
      title: 'Checkpoints',
      sentences: words(checkpointEntries(making), 'No checkpoint was begun.'),
      entries: checkpointEntries(making),
    },
    {
      title: 'Prophylaxis',
      sentences: doses.length === 0 ? ['No dose was recorded.'] : doseWords(current),
      entries: doses,
    },
    {
      title: 'Blood loss',
      loinc: '59770-8',
      sentences: words(loss, 'Nothing was measured.'),
      entries: loss,
    },
  ];
}

function compositionOf(making: Making, parts: readonly Part[], last: string): Composition {
  const { current, record } = making;
  const events = eventsIn(record);
  const end = events.findIndex((event) => event.type === 'finished');
  const isAmended = end >= 0 && end < events.length - 1;
  return {
    resourceType: 'Composition',
    status: end < 0 ? 'preliminary' : isAmended ? 'amended' : 'final',
    type: {
      coding: [{ system: systems.loinc, code: '11504-8', display: 'Surgical operation note' }],
      text: 'Count and checklist record of an operation',
    },
    subject: making.patient,
    encounter: making.encounter,
    date: instant(last),
    author: [making.person(current.team.circulator)],
    title: said(
      `${current.practice ? 'PRACTICE, not a patient: ' : ''}Count and checklist record, ${current.sheet.title}`,
    ),
    section: parts.map(sectionOf),
  };
}

const sectionOf = ({ title, loinc, sentences, entries }: Part): CompositionSection => ({
  title,
  ...(loinc === undefined ? {} : { code: { coding: [{ system: systems.loinc, code: loinc }] } }),
  text: narrative(sentences),
  entry: some(entries.map(({ fullUrl = '' }) => ({ reference: fullUrl }))),
});

function peopleEntries(making: Making): readonly BundleEntry[] {
  const { patient } = making.current;
  const resource: Patient = {
    resourceType: 'Patient',
    identifier: [{ value: said(patient.number) }],
    name: [{ text: said(patient.name) }],
    birthDate: patient.born,
  };
  const others = peopleIn(making).map((name) => {
    const one: Practitioner = { resourceType: 'Practitioner', name: [{ text: said(name) }] };
    return entry(making.urn('Practitioner', name), one);
  });
  return [entry(making.urn('Patient'), resource), ...others];
}

/** The tablet does not know whether the patient stays in hospital: the class is said to be unknown. */
function encounterOf({ current, patient }: Making): Encounter {
  return {
    resourceType: 'Encounter',
    status: current.finishedAt ? 'finished' : 'in-progress',
    class: { system: systems.nullFlavor, code: 'UNK' },
    subject: patient,
    period: {
      start: instant(current.startedAt),
      ...(current.finishedAt ? { end: instant(current.finishedAt) } : {}),
    },
  };
}

function dosesOf(making: Making): readonly BundleEntry[] {
  const { current } = making;
  return current.doses.map((dose, place) => {
    const resource: MedicationAdministration = {
      resourceType: 'MedicationAdministration',
      status: 'completed',
      medicationCodeableConcept: concept(medicineOf(current, dose.agent)?.name ?? dose.agent),
      subject: making.patient,
      context: making.encounter,
      effectiveDateTime: instant(dose.at),
      ...(dose.mg === undefined
        ? {}
        : {
            dosage: { dose: { value: dose.mg, unit: 'mg', system: systems.units, code: 'mg' } },
          }),
    };
    return entry(making.urn('MedicationAdministration', String(place)), resource);
  });
}

/** Where it comes from: the journal of the tablet, by the hash of its last row. Nothing is signed here. */
function provenanceOf(making: Making, last: string): Provenance {
  const { record, current } = making;
  return {
    resourceType: 'Provenance',
    target: [making.to('Composition')],
    recorded: instant(last),
    agent: [{ who: making.person(current.team.circulator) }],
    entity: [
      {
        role: 'source',
        what: {
          identifier: { value: record.head },
          display: `SHA-256 of the last of ${record.rows.length} rows, chain code ${record.code}`,
        },
      },
    ],
  };
}

/** The document as text. */
export const fhirOf = (record: WholeRecord): string =>
  `${JSON.stringify(bundleOf(record), null, 2)}\n`;
