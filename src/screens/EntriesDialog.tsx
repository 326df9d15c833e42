import { createMemo, createResource, createSignal, For, Match, Show, Switch } from 'solid-js';
import type { Line } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { isVeiled } from '#session/guard.ts';
import { say } from '#words/say.ts';
import { type EntryRow, entryRows } from './entryRows.ts';
import { useCase, useSession } from './useSession.ts';
import './entries.css';

export type EntriesDialogProps = {
  /** Only what concerns this line. */
  readonly line?: Line;
  /** Said when both have read them; without it they are only looked at. */
  readonly onRead?: () => void;
  readonly onClose: () => void;
};

/** So many are shown at once, and so many more when they are asked for. */
const atOnce = 40;

/** What was entered, newest first, to read back; and any of it to take back, on which nothing later depends. */
export function EntriesDialog(props: EntriesDialogProps) {
  const { session, state } = useSession();
  const current = useCase();
  const [rows, { refetch }] = createResource(
    () => state().head,
    async () => ({ read: await session.readRows() }),
  );
  const entries = createMemo(() => {
    const read = rows()?.read;
    return read && entryRows(current(), read, props.line?.id);
  });
  const [chosen, setChosen] = createSignal<number>();
  const takeBack = async (entry: number) => {
    const outcome = await session.send({ type: 'correct', entry });
    if (outcome.ok) setChosen(undefined);
    if (outcome.ok && !props.onRead) props.onClose();
  };
  return (
    <Dialog
      title={props.line ? say`What was entered of ${props.line.name}` : say`Earlier entries`}
      sentence={say`Newest first. One that was wrong is chosen and taken back; the record keeps both.`}
      onClose={props.onClose}
      actions={
        <Show
          when={chosen()}
          keyed
          fallback={
            <Show when={props.onRead}>
              <Button
                kind="primary"
                whyNot={entries() ? undefined : say`The record is not read yet.`}
                onPress={() => props.onRead?.()}
              >
                {say`Read back by both`}
              </Button>
            </Show>
          }
        >
          {(entry) => <TakeBack entry={entry} onPress={() => void takeBack(entry)} />}
        </Show>
      }
    >
      <Switch fallback={<p class="waiting">{say`Reading the record…`}</p>}>
        <Match when={isVeiled(state()) && props.line === undefined}>
          <p class="dialog-warning">{say`■ Locked: the record is hidden.`}</p>
          <Button kind="plain" onPress={() => void session.confirm(say`Unlock the tablet`)}>
            {say`Unlock`}
          </Button>
        </Match>
        <Match when={entries()}>
          {(read) => <Entries entries={read()} chosen={chosen()} onChoose={setChosen} />}
        </Match>
        <Match when={rows.state === 'ready'}>
          <p class="dialog-warning">{say`No copy of the record answers. What was saved stays saved.`}</p>
          <Button kind="plain" onPress={() => void refetch()}>
            {say`Read it again`}
          </Button>
        </Match>
      </Switch>
    </Dialog>
  );
}

function TakeBack(props: { readonly entry: number; readonly onPress: () => void }) {
  const { session, can } = useSession();
  const command = () => ({ type: 'correct', entry: props.entry }) as const;
  const whyNot = createMemo(() => {
    if (can(command())) return undefined;
    const refusal = session.refusalOf(command());
    if (!refusal) return say`Not now.`;
    return refusal.detail ? `${refusal.sentence} (${refusal.detail})` : refusal.sentence;
  });
  return (
    <Button kind="danger" whyNot={whyNot()} onPress={() => props.onPress()}>
      {say`Take entry ${props.entry} back`}
    </Button>
  );
}

function Entries(props: {
  readonly entries: readonly EntryRow[];
  readonly chosen: number | undefined;
  readonly onChoose: (entry: number | undefined) => void;
}) {
  const [most, setMost] = createSignal(atOnce);
  return (
    <Show when={props.entries.length > 0} fallback={<p>{say`Nothing was entered yet.`}</p>}>
      <ol class="entries">
        <For each={props.entries.slice(0, most())}>
          {(one) => (
            <li data-item>
              <button
                type="button"
                class="entry"
                aria-pressed={props.chosen === one.entry}
                data-back={one.takenBackIn === undefined ? 'no' : 'yes'}
                onClick={() => props.onChoose(props.chosen === one.entry ? undefined : one.entry)}
              >
                <span class="entry-number digits-type">{one.entry}</span>
                <span class="digits-type">{one.at}</span>
                <span class="entry-words">
                  <strong>{one.subject}</strong> {one.rest}
                  <Show when={one.takenBackIn}>
                    {(entry) => <em class="entry-back">{say`taken back by entry ${entry()}`}</em>}
                  </Show>
                </span>
                <span class="entry-by">{one.by}</span>
              </button>
            </li>
          )}
        </For>
      </ol>
      <Show when={props.entries.length > most()}>
        <Button kind="plain" onPress={() => setMost((now) => now + atOnce)}>
          {say`Older ones`}
        </Button>
      </Show>
    </Show>
  );
}
