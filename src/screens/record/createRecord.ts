import { type Accessor, createComputed, createMemo, createSignal } from 'solid-js';
import type { RecordKit, RecordProps } from '../recordKit.ts';
import { useCase, useSession } from '../useSession.ts';

export type OpenRecord = {
  /** Undefined until it is read. One that was read stays until what was entered since is read too. */
  readonly record: Accessor<RecordProps | undefined>;
  /** No copy of it could be read. */
  readonly isFailed: Accessor<boolean>;
  readonly again: () => void;
};

/** The open case with every entry, from the journal. */
export function createRecord(codeOf: RecordKit['codeOf']): OpenRecord {
  const { session, state } = useSession();
  const current = useCase();
  const head = createMemo(() => state().head);
  const [record, setRecord] = createSignal<RecordProps>();
  const [isFailed, setFailed] = createSignal(false);

  async function read(): Promise<void> {
    const shown = { current: current(), head: head(), code: codeOf(head()) };
    setFailed(false);
    const rows = await session.readRows();
    if (shown.head !== head()) return; // Something was entered meanwhile: that reading is on its way.
    if (rows) setRecord({ ...shown, rows });
    else setFailed(true);
  }

  createComputed(() => void read());
  return { record, isFailed, again: () => void read() };
}
