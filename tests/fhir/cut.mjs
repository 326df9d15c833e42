/**
 * Cuts what the checks need out of HL7's own package and writes it beside this file:
 *
 *   npm pack hl7.fhir.r4.examples@4.0.1 && tar xzf hl7.fhir.r4.examples-4.0.1.tgz
 *   node tests/fhir/cut.mjs package fhir.schema.json
 *
 * The package is 191 MB, which is why it is no dependency; it is dedicated to the public (CC0-1.0), as is the JSON
 * schema, which HL7 offers beside it (hl7.org/fhir/R4/downloads.html).
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';

/** Resources that a record is made of, and that later results may add. */
const resources = [
  'Bundle',
  'Composition',
  'DetectedIssue',
  'Device',
  'DiagnosticReport',
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
];

const [folder = 'package', schemaFile = 'fhir.schema.json'] = process.argv.slice(2);
const read = (name) => JSON.parse(readFileSync(join(folder, name), 'utf8'));

function slim(element) {
  const { path, min, max, contentReference, binding } = element;
  const types = element.type?.map(({ code, targetProfile, extension }) => ({
    code: element.path.endsWith('.id') || /fhirpath/.test(code) ? 'string' : code,
    ...patternIn(extension),
    ...(targetProfile ? { targets: targetProfile.map((one) => one.split('/').at(-1)) } : {}),
  }));
  const rules = (element.constraint ?? [])
    .filter((one) => one.severity === 'error')
    .map(({ key, expression }) => ({ key, expression }));
  const set = binding?.strength === 'required' ? binding.valueSet?.split('|')[0] : undefined;
  return { path, min, max, types, contentReference, rules: rules.length ? rules : undefined, set };
}

/** What a primitive value must look like, as its definition says. */
function patternIn(extensions = []) {
  const found = extensions.find(({ url }) => url.endsWith('/regex'));
  return found ? { pattern: found.valueString } : {};
}

const definitions = {};
const sets = {};
const waiting = [...resources, 'Element', 'Extension', 'Resource', 'DomainResource'];
while (waiting.length > 0) {
  const name = waiting.pop();
  if (definitions[name]) continue;
  const { kind, snapshot } = read(`StructureDefinition-${name}.json`);
  const elements = snapshot.element.map(slim);
  definitions[name] = { kind, elements };
  for (const { types = [], set } of elements) {
    if (set && !sets[set]) sets[set] = codesOf(set);
    for (const { code } of types) if (/^\w+$/.test(code) && !definitions[code]) waiting.push(code);
  }
}

/** Every code of a value set; none where a rule of selection would have to be followed. */
function codesOf(url) {
  try {
    const { compose } = read(`ValueSet-${url.split('/').at(-1)}.json`);
    return compose.include.flatMap((one) => {
      if (one.filter) throw new Error('a rule of selection');
      if (one.valueSet) return one.valueSet.flatMap((other) => codesOf(other));
      return one.concept ? one.concept.map(({ code }) => code) : codesIn(one.system);
    });
  } catch {
    return [];
  }
}

function codesIn(system) {
  const name = readdirSync(folder).find(
    (file) => file.startsWith('CodeSystem-') && read(file).url === system,
  );
  if (!name) throw new Error('not in the package');
  const all = (concepts) => concepts.flatMap(({ code, concept = [] }) => [code, ...all(concept)]);
  return all(read(name).concept ?? []);
}

/** The schema of the same resources and of all that they are made of, without its descriptions. */
function cutSchema() {
  const { definitions: all } = JSON.parse(readFileSync(schemaFile, 'utf8'));
  const refs = resources.map((name) => ({ $ref: `#/definitions/${name}` }));
  const kept = { ResourceList: { oneOf: refs } };
  const waiting = [...resources];
  while (waiting.length > 0) {
    const name = waiting.pop();
    if (kept[name]) continue;
    const text = JSON.stringify(all[name], (key, value) =>
      key === 'description' && typeof value === 'string' ? undefined : value,
    );
    kept[name] = JSON.parse(text);
    waiting.push(...[...text.matchAll(/#\/definitions\/(\w+)/g)].map(([, other]) => other));
  }
  return { $schema: 'http://json-schema.org/draft-06/schema#', oneOf: refs, definitions: kept };
}

const isExample = (file) =>
  resources.some((name) => file.startsWith(`${name}-`)) &&
  readFileSync(join(folder, file)).length < 20_000;
const examples = Object.fromEntries(
  readdirSync(folder)
    .filter(isExample)
    .map((file) => [file, read(file)]),
);

const write = (name, value) =>
  writeFileSync(
    new URL(`${name}.json.gz`, import.meta.url),
    gzipSync(JSON.stringify(value), { level: 9 }),
  );
write('definitions', { definitions, sets });
write('examples', examples);
const schema = cutSchema();
write('schema', schema);
console.log(
  `${Object.keys(definitions).length} definitions, ${Object.keys(sets).length} value sets, ${Object.keys(examples).length} examples, ${Object.keys(schema.definitions).length} schemas`,
);
