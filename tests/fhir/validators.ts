import { createRequire } from 'node:module';

type Validator = {
  readonly validate: (
    input: object,
    options: { readonly errorOnUnexpected: boolean },
  ) => { readonly messages: readonly { readonly severity?: string; readonly message?: string }[] };
};
type Schema = {
  readonly safeParse: (input: unknown) => {
    readonly error?: { readonly issues: readonly unknown[] };
  };
};
const require = createRequire(import.meta.url);
// Both are older than modules, or say nothing of their kinds to the compiler here.
const { Fhir } = require('fhir') as { readonly Fhir: new () => Validator };
const solara = require('@solarahealth/fhir-r4') as { readonly createBundleSchema: () => Schema }; // as above

/** What two ready-made validators of other makes find wrong with a bundle. */
export function foundByOthers(bundle: object): readonly unknown[] {
  const { messages } = new Fhir().validate(bundle, { errorOnUnexpected: true });
  return [
    ...messages.filter(({ severity }) => severity === 'error'),
    ...(solara.createBundleSchema().safeParse(bundle).error?.issues ?? []),
  ];
}
