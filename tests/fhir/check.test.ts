import { expect, test } from 'vitest';
import { check } from './check.ts';
import { examples } from './definitions.ts';

/** What stands inside another resource and is of a kind that was not cut out. */
const isOfOtherKind = (sentence: string): boolean => sentence.includes('resource known here');

/*
 * HL7's own examples of R4 4.0.1. One is truly faulty: its performer is an encounter, which the definition does not
 * allow. In the other, fhirpath does not take `is Boolean` for a boolean; no record has an `enableWhen`.
 */
const flagged: Readonly<Record<string, readonly string[]>> = {
  'Observation-clinical-gender.json': ['Observation.performer[0] may not point at a Encounter.'],
  'Questionnaire-bb.json': [
    'Questionnaire.item[0].item[1].item[2].item[0].enableWhen[0] breaks que-7.',
  ],
};

test('217 official examples of R4 pass, but for the two that are named', () => {
  const all = Object.entries(examples);
  expect(all).toHaveLength(217);
  for (const [name, example] of all)
    expect([name, check(example).filter((one) => !isOfOtherKind(one))]).toEqual([
      name,
      flagged[name] ?? [],
    ]);
});

test('what is no resource, or of a kind not known here, is said', () => {
  expect(check({})).toEqual(['undefined is no resource that is known here.']);
  expect(check({ resourceType: 'Starship' })).toHaveLength(1);
});
