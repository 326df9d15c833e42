import { createMemo, createResource } from 'solid-js';
import { atFirst, follow } from '#practice/follow.ts';
import type { Followed } from '#practice/followed.ts';
import type { Script } from '#practice/script.ts';
import type { SessionState } from '#session/state.ts';
import { useSession } from '../useSession.ts';

/** Brings the practice cases when they are wanted, so that they are not in the page's first load. */
export type LoadScripts = () => Promise<readonly Script[]>;

/** The practice that is open, followed from the record. Undefined where no practice case of this build is open. */
export function createPractice(load: LoadScripts) {
  const { state } = useSession();
  const [scripts] = createResource(load);
  const script = createMemo(() => {
    const { current } = state();
    if (!current?.practice) return undefined;
    return scripts()?.find(({ patient }) => patient.number === current.patient.number);
  });
  let last: { readonly now: Followed; readonly rows: SessionState['rows'] } | undefined;
  return createMemo((): Followed | undefined => {
    const known = script();
    if (!known) return undefined;
    const { rows } = state();
    const isLonger =
      last?.now.script === known && last.rows.every((row, index) => row === rows[index]);
    const from = isLonger && last ? last : { now: atFirst(known), rows: [] };
    const events = rows.slice(from.rows.length).flatMap((row) => row.events);
    last = { now: events.reduce(follow, from.now), rows };
    return last.now;
  });
}
