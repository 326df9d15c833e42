import { createSignal } from 'solid-js';
import type { Command } from '#engine/case/events.ts';
import type { Case } from '#engine/state.ts';
import { say } from '#words/say.ts';
import type { SessionView } from '../useSession.ts';

/** Why the last entry was not recorded. It outlives the dialogs: the screens change while it is being recorded. */
const [wrong, setWrong] = createSignal<string>();

export const writeWrong = wrong;

export type EntryInto = {
  readonly caseId: string;
  /** What is entered into the case as it is read then; undefined where there is nothing to enter any more. */
  readonly entry: (current: Case) => Command | undefined;
  readonly by: string;
};

/** Enters something into a case that is over, and comes back to the list. */
export async function writeInto(
  { session, state }: Pick<SessionView, 'session' | 'state'>,
  { caseId, entry, by }: EntryInto,
): Promise<void> {
  await session.go({ screen: 'case', caseId, view: { name: 'record' } });
  const { current } = state();
  const made = current?.id === caseId ? entry(current) : undefined;
  const outcome = made && (await session.send(made, by));
  await session.go({ screen: 'afterwards' });
  setWrong(outcome?.ok ? undefined : say`It was not recorded. Open the case and see why.`);
}
