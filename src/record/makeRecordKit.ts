import { say } from '#words/say.ts';
import { converted, type TakenOut, type Wish } from './converted.ts';
import { HandoverPage, RecordPage } from './RecordPage.tsx';
import { tableNames } from './tables/tables.ts';
import type { WholeRecord } from './wholeRecord.ts';

/** The pages and forms of a record, for the record's screen. `css` is the text of record.css. */
export function makeRecordKit(css: string, codeOf: (head: string) => string) {
  const output = (id: string, name: string, detail: string, wish: Wish) => ({
    id,
    name,
    detail,
    make: async (record: WholeRecord): Promise<TakenOut> => converted(record, wish, css),
  });
  return {
    codeOf,
    pages: [
      { id: 'record', name: say`Record`, page: RecordPage },
      { id: 'handover', name: say`Hand-over note`, page: HandoverPage },
    ],
    outputs: [
      output('html', say`A page`, say`HTML, to read in any browser`, { form: 'html' }),
      output('json', say`All of it as data`, 'JSON', { form: 'json' }),
      output('fhir', say`For another system`, say`FHIR R4, a document`, { form: 'fhir' }),
      output('csv', say`All tables`, say`CSV, one file for a spreadsheet`, { form: 'csv' }),
      ...tableNames.map((only) =>
        output(`csv-${only}`, say`Table of ${only}`, 'CSV', { form: 'csv', only }),
      ),
    ],
  };
}
