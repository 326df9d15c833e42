import { createComputed, createMemo, createResource, createSignal, untrack } from 'solid-js';
import { atFirst, follow } from '#practice/follow.ts';
import type { Followed } from '#practice/followed.ts';
import type { Script } from '#practice/script.ts';
import type { RecordedRow } from '#session/state.ts';
import { useSession } from '../useSession.ts';

/** Brings the practice cases when they are wanted, so that they are not in the page's first load. */
export type LoadScripts = () => Promise<readonly Script[]>;

/** A practice that was followed up to a row of its case. */
type Along = { readonly caseId: string; readonly seq: number; readonly now: Followed };

/** The practice that is open, followed from the record. Undefined where no practice case of this build is open. */
export function createPractice(load: LoadScripts) {
  const { session, state } = useSession();
  const [scripts] = createResource(load);
  const script = createMemo(() => {
    const { current } = state();
    if (!current?.practice) return undefined;
    return scripts()?.find(({ patient }) => patient.number === current.patient.number);
  });
  const [along, setAlong] = createSignal<Along>();

  /** The script and the id of the case that is followed now. */
  const what = () => ({ known: script(), caseId: state().current?.id ?? '' });

  async function followFromRecord(known: Script, caseId: string): Promise<void> {
    const rows = (await session.readRows()) ?? [];
    const now = untrack(what);
    if (now.known !== known || now.caseId !== caseId) return;
    const seq = rows.at(-1)?.seq ?? 0;
    const before = untrack(along);
    if (before?.caseId === caseId && before.seq >= seq) return; // Further along already.
    setAlong({ caseId, seq, now: followed(atFirst(known), rows) });
  }

  createComputed(() => {
    const { known, caseId } = what();
    const { last } = state();
    const before = untrack(along);
    if (!known || !last) return setAlong(undefined);
    const isSame = before?.now.script === known && before.caseId === caseId;
    if (isSame && before.seq === last.seq) return;
    if (isSame && before.seq === last.seq - 1)
      setAlong({ caseId, seq: last.seq, now: followed(before.now, [last]) });
    else void followFromRecord(known, caseId);
  });

  return () => along()?.now;
}

const followed = (from: Followed, rows: readonly RecordedRow[]): Followed =>
  rows.flatMap(({ events }) => events).reduce(follow, from);
