import { createRequire } from 'node:module';
import { Ajv } from 'ajv';
import draft06 from 'ajv/dist/refs/json-schema-draft-06.json' with { type: 'json' };
import { hl7Schema } from './definitions.ts';

type Schema = {
  readonly safeParse: (input: unknown) => {
    readonly error?: { readonly issues: readonly unknown[] };
  };
};
const require = createRequire(import.meta.url);
// It is older than modules and says nothing of its kinds to the compiler here.
const solara = require('@solarahealth/fhir-r4') as { readonly createBundleSchema: () => Schema };

// Loose, since HL7 writes `pattern` beside types that it leaves to a reference.
const ajv = new Ajv({ strict: false, allErrors: true });
ajv.addMetaSchema(draft06);
const isBundle = ajv.compile({ ...hl7Schema, oneOf: [{ $ref: '#/definitions/Bundle' }] });

/** What HL7's JSON schema finds wrong with a bundle. */
export function againstSchema(bundle: object): readonly string[] {
  isBundle(bundle);
  return (isBundle.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message}`);
}

/** What HL7's JSON schema, and a ready-made validator of another make, find wrong with a bundle. */
export function foundByOthers(bundle: object): readonly unknown[] {
  return [
    ...againstSchema(bundle),
    ...(solara.createBundleSchema().safeParse(bundle).error?.issues ?? []),
  ];
}
