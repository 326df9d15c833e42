import { createSignal } from 'solid-js';
import type { WriteNote } from '#engine/notes/events.ts';
import type { Case } from '#engine/state.ts';
import { say } from '#words/say.ts';
import type { SessionView } from '../useSession.ts';

/** Why the last note was not recorded. It outlives the dialogs: the screens change while a note is being recorded. */
const [wrong, setWrong] = createSignal<string>();

export const writeWrong = wrong;

export type NoteInto = {
  readonly caseId: string;
  /** The note for the case as it is read then; undefined where there is nothing to write any more. */
  readonly note: (current: Case) => WriteNote | undefined;
  readonly by: string;
};

/** Writes a note into the record of a case that is over, and comes back to the list. */
export async function writeInto(
  { session, state }: Pick<SessionView, 'session' | 'state'>,
  { caseId, note, by }: NoteInto,
): Promise<void> {
  await session.go({ screen: 'case', caseId, view: { name: 'record' } });
  const { current } = state();
  const made = current?.id === caseId ? note(current) : undefined;
  const outcome = made && (await session.send(made, by));
  await session.go({ screen: 'afterwards' });
  setWrong(outcome?.ok ? undefined : say`It was not recorded. Open the case and see why.`);
}
