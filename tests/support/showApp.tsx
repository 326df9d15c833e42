import { render } from '@solidjs/testing-library';
import type { Sheet } from '#engine/sheet.ts';
import { App } from '#screens/App.tsx';
import type { RecordKit } from '#screens/recordKit.ts';
import type { Session } from '#session/createSession.ts';
import type { SheetLibrary } from '#session/sheetLibrary.ts';
import { libraryOf } from './sheetLibrary.ts';

type Practice = Parameters<typeof App>[0]['practice'];

/** What the record screens need, read when one of them is opened, as on the tablet. */
async function readKit(): Promise<RecordKit> {
  const [{ makeRecordKit }, { owedTable }] = await Promise.all([
    import('#record/makeRecordKit.ts'),
    import('#review/owedTable.ts'),
  ]);
  return { ...makeRecordKit('', (head) => head.slice(0, 8)), owedTable };
}

/** Shows the whole program over a session, with a library of these sheets. */
export function showApp(
  session: Session,
  sheets: readonly Sheet[] | SheetLibrary,
  practice: Practice = async () => [],
): void {
  const library = 'subscribe' in sheets ? sheets : libraryOf(sheets);
  render(() => <App session={session} library={library} record={readKit} practice={practice} />);
}
