import { readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';

/** One element of a definition, as `cut.mjs` took it out of HL7's own files. */
export type Element = {
  readonly path: string;
  readonly min: number;
  readonly max: string;
  readonly types?: readonly {
    readonly code: string;
    readonly pattern?: string;
    readonly targets?: readonly string[];
  }[];
  readonly contentReference?: string;
  readonly rules?: readonly { readonly key: string; readonly expression: string }[];
  readonly set?: string;
};
export type Definition = { readonly kind: string; readonly elements: readonly Element[] };

export type Json = Readonly<Record<string, unknown>>;

const read = (name: string): unknown =>
  JSON.parse(
    gunzipSync(readFileSync(new URL(`${name}.json.gz`, import.meta.url))).toString('utf8'),
  );

// Files of ours, written by cut.mjs with these shapes.
const cut = read('definitions') as {
  readonly definitions: Readonly<Record<string, Definition>>;
  readonly sets: Readonly<Record<string, readonly string[]>>;
};

export const definitions = cut.definitions;
/** Codes of the value sets that are required; empty where HL7 gives a rule instead of a list. */
export const sets = cut.sets;
export const examples = read('examples') as Readonly<Record<string, Json>>; // the same

/** HL7's JSON schema of the same resources. */
export const hl7Schema = read('schema') as Json; // the same

export const isObject = (value: unknown): value is Json =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
