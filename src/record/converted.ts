import { unreachable } from '#engine/assert.ts';
import { inEnglish } from '#words/say.ts';
import { fhirOf } from './fhir/bundleOf.ts';
import { htmlPage } from './htmlPage.ts';
import { jsonOf } from './jsonOf.ts';
import { csvOf } from './tables/csv.ts';
import { allTables, type TableName, tableOf } from './tables/tables.ts';
import { asKept, type WholeRecord } from './wholeRecord.ts';

/** What a record can be turned into for another system, or for a desk. */
export const forms = ['csv', 'json', 'html', 'fhir'] as const;
export type Form = (typeof forms)[number];

export type Wish = {
  readonly form: Form;
  /** One table alone, for `csv`. */
  readonly only?: TableName;
};

/** A file to hand out. Its name says nothing about the patient. */
export type TakenOut = { readonly text: string; readonly name: string; readonly type: string };

const endings: Readonly<Record<Form, string>> = {
  csv: 'csv',
  json: 'json',
  html: 'html',
  fhir: 'fhir.json',
};

const types: Readonly<Record<Form, string>> = {
  csv: 'text/csv',
  json: 'application/json',
  html: 'text/html',
  fhir: 'application/fhir+json',
};

/** Turns a record into a file: the same text on the tablet and on the command line, byte for byte. */
export function converted(record: WholeRecord, wish: Wish, css: string): TakenOut {
  const { current } = record;
  const table = wish.only === undefined ? '' : `-${wish.only}`;
  const name = `lastlook-${current.startedAt.slice(0, 10)}-${current.id.slice(0, 8)}${table}`;
  const text = textOf(asKept(record), wish, css);
  return { text, name: `${name}.${endings[wish.form]}`, type: types[wish.form] };
}

/** What people read is in the language that is spoken; what programs read is in English. */
function textOf(record: WholeRecord, { form, only }: Wish, css: string): string {
  switch (form) {
    case 'csv':
      return inEnglish(() => csvOf(only === undefined ? allTables(record) : tableOf(record, only)));
    case 'json':
      return inEnglish(() => jsonOf(record));
    case 'html':
      return htmlPage(record, css);
    case 'fhir':
      return inEnglish(() => fhirOf(record));
    default:
      return unreachable(form);
  }
}
