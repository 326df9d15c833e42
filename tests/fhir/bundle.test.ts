import type { Bundle, FhirResource, QuestionnaireItem } from 'fhir/r4';
import { describe, expect, test } from 'vitest';
import { readRecord } from '#convert/readRecord.ts';
import { converted } from '#record/converted.ts';
import { bundleOf } from '#record/fhir/bundleOf.ts';
import { eventsOfDrills, everyDrill, exported, recordOfDrill } from '../support/records.ts';
import { check } from './check.ts';
import { isObject, type Json } from './definitions.ts';
import { againstSchema, foundByOthers } from './validators.ts';

/** The bundle as another system gets it: text, and read again. */
const sent = (bundle: Bundle): Json => JSON.parse(JSON.stringify(bundle));

/** Answers that their questionnaire does not ask for or does not offer; R4 has no rule for that. */
function oddAnswers(bundle: Bundle): readonly string[] {
  const resources = (bundle.entry ?? []).flatMap(({ resource }) => resource ?? []);
  const asked = new Map<string, readonly QuestionnaireItem[]>();
  for (const one of resources)
    if (one.resourceType === 'Questionnaire')
      asked.set(`${one.url}|${one.version}`, one.item ?? []);
  return resources.flatMap((one) => {
    if (one.resourceType !== 'QuestionnaireResponse') return [];
    const items = asked.get(one.questionnaire ?? '');
    if (!items) return [`${one.questionnaire} is not in the bundle.`];
    return (one.item ?? []).flatMap(({ linkId, answer = [] }) => {
      const item = items.find((known) => known.linkId === linkId);
      if (!item) return [`${linkId} is not asked.`];
      const options = item.answerOption?.map(({ valueCoding }) => valueCoding?.code);
      return answer
        .filter(({ valueCoding }) => valueCoding && options && !options.includes(valueCoding.code))
        .map(({ valueCoding }) => `${linkId} does not offer ${valueCoding?.code}.`);
    });
  });
}

describe('records as FHIR R4', () => {
  test('of every drill: nothing is wrong by the official definitions, and every answer was asked', async () => {
    let bundles = 0;
    const kinds = new Set<string>();
    for (const file of everyDrill())
      for (const events of eventsOfDrills(file)) {
        const { record } = await exported(events);
        const bundle = bundleOf(record);
        const text = sent(bundle);
        const found = [...check(text), ...againstSchema(text), ...oddAnswers(bundle)];
        expect([file, ...found]).toEqual([file]);
        for (const { resource } of bundle.entry ?? []) kinds.add(resource?.resourceType ?? '');
        bundles += 1;
      }
    expect(bundles).toBeGreaterThan(100);
    expect([...kinds].sort()).toEqual([
      'Composition',
      'DetectedIssue',
      'Device',
      'Encounter',
      'Flag',
      'MedicationAdministration',
      'Observation',
      'Patient',
      'Practitioner',
      'Procedure',
      'Provenance',
      'Questionnaire',
      'QuestionnaireResponse',
      'ServiceRequest',
      'Specimen',
    ]);
  }, 240_000);

  test.each(['f01-three-loops.yaml', 'f02-braided-ties.yaml', 'f09-packs-left-by-intent.yaml'])(
    "of %s: HL7's JSON schema and a ready-made validator find nothing",
    async (file) => {
      const bundle = sent(bundleOf(await recordOfDrill(file)));
      expect(foundByOthers(bundle)).toEqual([]);
    },
  );

  test("what HL7's JSON schema does not know in a bundle is found", async () => {
    const bundle = bundleOf(await recordOfDrill('f01-three-loops.yaml'));
    const entry = (bundle.entry ?? []).map(({ resource, ...rest }) =>
      resource?.resourceType === 'Patient'
        ? { ...rest, resource: { ...resource, birthDate: '31.1.1970' } }
        : { ...rest, resource },
    );
    expect(againstSchema(sent(bundle))).toEqual([]);
    expect(againstSchema({ ...sent(bundle), pieces: 3 }).join()).toContain('additional properties');
    expect(againstSchema({ ...sent(bundle), entry }).join()).toContain('birthDate must match');
  });

  test('the same record gives the same text, from the tablet or from a file', async () => {
    const [events = []] = eventsOfDrills('f01-three-loops.yaml');
    const { record, text } = await exported(events);
    const read = await readRecord(text);
    if (!read.ok) throw new Error(read.sentence);
    expect(converted(read.record, { form: 'fhir' }, '').text).toBe(
      converted(record, { form: 'fhir' }, '').text,
    );
  });
});

const of = <Type extends FhirResource['resourceType']>(bundle: Bundle, type: Type) =>
  (bundle.entry ?? []).flatMap(({ resource }) => {
    if (resource?.resourceType !== type) return [];
    return [resource as Extract<FhirResource, { resourceType: Type }>]; // the line above has looked
  });

describe('what the record says stands in the bundle', () => {
  test('worked case F9: packs left by intent warn, with number and plan', async () => {
    const bundle = bundleOf(await recordOfDrill('f09-packs-left-by-intent.yaml'));
    expect(of(bundle, 'Flag').map(({ code, status }) => [status, code.text])).toEqual([
      [
        'active',
        '4 × Large swab 45 × 45 must come out: 6 packs, liver 4 and pelvis 2, out in 24 to 48 h',
      ],
      [
        'active',
        '2 × Large swab 45 × 45 must come out: 6 packs, liver 4 and pelvis 2, out in 24 to 48 h',
      ],
    ]);
    const [procedure] = of(bundle, 'Procedure');
    expect(procedure?.focalDevice).toHaveLength(2);
    expect(procedure?.outcome?.text).toBe('Reconciled, with a record: read the exceptions.');
  });

  test('worked case F2: the count that differed, the discrepancy, and what was expected and seen', async () => {
    const bundle = bundleOf(await recordOfDrill('f02-braided-ties.yaml'));
    const issues = of(bundle, 'DetectedIssue');
    expect(issues.map(({ detail, severity }) => [severity, detail])).toEqual([
      ['moderate', 'Cut tail of a tie: short by 1'],
    ]);
    const evidence = issues[0]?.evidence?.[0]?.detail?.[0]?.reference;
    const count = bundle.entry?.find(({ fullUrl }) => fullUrl === evidence)?.resource;
    expect(count).toMatchObject({ resourceType: 'Observation', valueBoolean: false });
    const tail = of(bundle, 'Observation').flatMap(({ component = [] }) =>
      component.filter(({ code }) => code.text?.startsWith('Cut tail of a tie')),
    );
    expect(tail.slice(0, 2).map(({ valueInteger }) => valueInteger)).toEqual([5, 6]);
    const loss = of(bundle, 'Observation').find(({ valueQuantity }) => valueQuantity);
    expect(loss?.valueQuantity).toEqual({
      value: 570,
      unit: 'mL',
      system: 'http://unitsofmeasure.org',
      code: 'mL',
    });
  });

  test('a case that is not finished is preliminary, and one that was added to afterwards is amended', async () => {
    const [events = []] = eventsOfDrills('f01-three-loops.yaml');
    const status = async (of_: typeof events) =>
      of(bundleOf((await exported(of_)).record), 'Composition')[0]?.status;
    expect(await status(events.slice(0, -1))).toBe('preliminary');
    expect(await status(events)).toBe('final');
    const last = events.at(-1);
    if (!last) throw new Error('there are events');
    const { entry, at, by } = last;
    const note = { type: 'noteWritten', text: 'late', entry: entry + 1, id: 'n', at, by } as const;
    expect(await status([...events, note])).toBe('amended');
  });

  test('what is scanned from an implant stands in its device', async () => {
    const [events = []] = eventsOfDrills('f01-three-loops.yaml');
    const lot =
      'ABC123, serial S1, expires 2027-12-31; (01)09506000134352 (17)271231 (10)ABC123 (21)S1';
    const { record } = await exported(events);
    const [[line, sets] = []] = Object.entries(record.current.left);
    if (line === undefined || !sets) throw new Error('something was left');
    const left = { [line]: sets.map((set) => ({ ...set, lot })) };
    const bundle = bundleOf({ ...record, current: { ...record.current, left } });
    expect(check(sent(bundle))).toEqual([]);
    expect(of(bundle, 'Device')[0]).toMatchObject({
      lotNumber: 'ABC123',
      serialNumber: 'S1',
      expirationDate: '2027-12-31',
      udiCarrier: [{ deviceIdentifier: '09506000134352', entryType: 'barcode' }],
    });
  });
});

type Fault = readonly [string, (bundle: Json) => void];

/** What stands at a path of names and places. */
function at(whole: unknown, ...path: readonly (string | number)[]): unknown {
  return path.reduce<unknown>((on, step) => {
    if (Array.isArray(on) && typeof step === 'number') return on[step];
    if (!isObject(on) || !(step in on)) throw new Error(`there is such a part: ${step}`);
    return on[step];
  }, whole);
}
const list = (whole: unknown, ...path: readonly (string | number)[]): unknown[] => {
  const found = at(whole, ...path);
  if (!Array.isArray(found)) throw new Error('there is a list');
  return found;
};
const first = (bundle: Json, type: string): unknown => {
  const entries: readonly unknown[] = list(bundle, 'entry');
  const found = entries.find((one) => at(one, 'resource', 'resourceType') === type);
  return at(found, 'resource');
};
const set = (on: unknown, name: string, value: unknown): void => {
  if (!isObject(on)) throw new Error('there is such a part');
  Object.assign(on, { [name]: value });
};
const drop = (on: unknown, name: string): void => {
  at(on, name);
  if (isObject(on)) Reflect.deleteProperty(on, name);
};

const faults: readonly Fault[] = [
  ['a required element missing', (b) => drop(first(b, 'Procedure'), 'subject')],
  ['a code outside of a required list', (b) => set(first(b, 'Procedure'), 'status', 'done')],
  ['an element that is not known', (b) => set(first(b, 'Patient'), 'surname', 'Testcase')],
  [
    'a list where one object is allowed',
    (b) => set(first(b, 'Procedure'), 'subject', [{ display: 'x' }]),
  ],
  ['one object where a list is due', (b) => set(first(b, 'Patient'), 'name', { text: 'x' })],
  [
    'a number as text',
    (b) => set(at(first(b, 'MedicationAdministration'), 'dosage', 'dose'), 'value', '1500'),
  ],
  ['the 30th of February', (b) => set(first(b, 'Patient'), 'birthDate', '1990-02-30')],
  ['a time without a zone', (b) => set(first(b, 'Composition'), 'date', '2026-01-05T10:00:00')],
  ['a time without seconds', (b) => set(b, 'timestamp', '2026-01-05T10:00Z')],
  ['two times of one act', (b) => set(first(b, 'Procedure'), 'performedDateTime', '2026-01-05')],
  ['an element of R5', (b) => set(first(b, 'Procedure'), 'occurrenceDateTime', '2026-01-05')],
  ['a resource that does not exist', (b) => set(first(b, 'Flag'), 'resourceType', 'Warning')],
  ['an empty list', (b) => set(first(b, 'Procedure'), 'usedCode', [])],
  ['null', (b) => set(first(b, 'Procedure'), 'code', null)],
  ['an empty object', (b) => set(first(b, 'Procedure'), 'code', {})],
  ['an empty text', (b) => set(first(b, 'Device'), 'lotNumber', '')],
  ['a document without identifier (bdl-9)', (b) => drop(b, 'identifier')],
  ['a document without time (bdl-10)', (b) => drop(b, 'timestamp')],
  ['a composition that is not first (bdl-11)', (b) => list(b, 'entry').splice(0, 1)],
  ['two entries of one address (bdl-7)', (b) => list(b, 'entry').push(at(b, 'entry', 1))],
  [
    'two steps of one name (que-2)',
    (b) => list(first(b, 'Questionnaire'), 'item').push(at(first(b, 'Questionnaire'), 'item', 0)),
  ],
  [
    'a dosage without a dose (mad-1)',
    (b) => set(first(b, 'MedicationAdministration'), 'dosage', { text: 'x' }),
  ],
  [
    'a value, and why there is none (obs-6)',
    (b) => set(first(b, 'Observation'), 'dataAbsentReason', { text: 'x' }),
  ],
  [
    'a section without anything (cmp-1)',
    (b) => list(b, 'entry', 0, 'resource', 'section').push({ title: 'x' }),
  ],
  [
    'a reference to what may not be there',
    (b) => set(first(b, 'Procedure'), 'subject', { reference: at(b, 'entry', 0, 'fullUrl') }),
  ],
  [
    'a reference to nothing',
    (b) =>
      set(first(b, 'Procedure'), 'subject', {
        reference: 'urn:uuid:0f6a1c1e-0000-8000-8000-000000000000',
      }),
  ],
];

describe('faults that were put in are found', () => {
  test.each(faults)('%s', async (_, spoil) => {
    const bundle = sent(bundleOf(await recordOfDrill('f09-packs-left-by-intent.yaml')));
    expect(check(bundle)).toEqual([]);
    spoil(bundle);
    expect(check(bundle).length).toBeGreaterThan(0);
  });

  test('an answer that is not offered, or not asked', async () => {
    const bundle = bundleOf(await recordOfDrill('f09-packs-left-by-intent.yaml'));
    const [response] = of(bundle, 'QuestionnaireResponse');
    const item = response?.item?.find(({ answer }) => answer?.[0]?.valueCoding);
    if (!item || !isObject(item)) throw new Error('there is a choice');
    Object.assign(item, { answer: [{ valueCoding: { code: 'perhaps' } }] });
    response?.item?.push({ linkId: 'weather' });
    expect(oddAnswers(bundle)).toEqual([
      `${item.linkId} does not offer perhaps.`,
      'weather is not asked.',
    ]);
  });
});
