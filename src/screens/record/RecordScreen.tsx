import { createMemo, createSignal, For, Match, Show, Switch } from 'solid-js';
import { Dynamic } from 'solid-js/web';
import { isXrayOwed } from '#engine/discrepancies/isXrayOwed.ts';
import type { Case } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Scroller } from '#parts/Scroller.tsx';
import { say } from '#words/say.ts';
import type { RecordKit } from '../recordKit.ts';
import { saveFile } from '../saveFile.ts';
import { useCase, useSession } from '../useSession.ts';
import { createRecord } from './createRecord.ts';
import { TakeOutDialog } from './TakeOutDialog.tsx';

export type RecordScreenProps = { readonly record: RecordKit };

/** The whole case as pages that a person reads, to print or to take out as files. */
export function RecordScreen(props: RecordScreenProps) {
  const { session, state } = useSession();
  const current = useCase();
  const [shown, setShown] = createSignal(props.record.pages[0]?.id ?? '');
  const [isTaking, setTaking] = createSignal(false);
  const page = createMemo(() => props.record.pages.find((one) => one.id === shown())?.page);
  const { record, isFailed, again } = createRecord((head) => props.record.codeOf(head));
  const whyNot = () => (record() ? undefined : say`The record is not read yet.`);
  const said = () => {
    const { notice } = state();
    if (notice?.kind === 'failed') return `▲ ${notice.sentence}`;
    return notice?.kind === 'said' ? `◆ ${notice.sentences.join(' ')}` : undefined;
  };
  const [isMaking, setMaking] = createSignal(false);
  const whyNotYet = () => (isMaking() ? say`The file is being made…` : undefined);
  const take = async () => {
    setMaking(true);
    const text = await session.exportCase(current().id);
    setMaking(false);
    if (text !== undefined) saveFile(text, fileName(current()), 'text/plain');
  };
  return (
    <div class="record-screen">
      <header class="record-bar">
        <Show when={current().finishedAt === undefined}>
          <Button kind="plain" onPress={() => session.show({ name: 'frame' })}>
            {say`Back to the case`}
          </Button>
        </Show>
        <Button kind="plain" onPress={() => void session.go({ screen: 'start' })}>
          {say`All cases`}
        </Button>
        <Show when={isOpenLate(current())}>
          <Button kind="plain" onPress={() => session.show({ name: 'leaving' })}>
            {say`Settle it late…`}
          </Button>
        </Show>
        <Show when={props.record.pages.length > 1}>
          <nav class="record-pages" aria-label={say`Pages of the record`}>
            <For each={props.record.pages}>
              {(one) => (
                <Button
                  kind="plain"
                  isPressed={shown() === one.id}
                  onPress={() => setShown(one.id)}
                >
                  {one.name}
                </Button>
              )}
            </For>
          </nav>
        </Show>
        <span class="record-bar-gap" />
        <Button kind="plain" whyNot={whyNotYet()} onPress={() => void take()}>
          {say`Take out as a file`}
        </Button>
        <Button kind="plain" whyNot={whyNot()} onPress={() => setTaking(true)}>
          {say`Other forms…`}
        </Button>
        <Button kind="primary" whyNot={whyNot()} onPress={() => window.print()}>
          {say`Print`}
        </Button>
        <Show when={said()}>
          {(sentence) => (
            <p class="record-bar-said" role="alert">
              {sentence()}
            </p>
          )}
        </Show>
      </header>
      <main class="record-main" aria-label={say`Record`}>
        <Scroller>
          <Switch fallback={<p class="waiting">{say`Reading the record…`}</p>}>
            <Match when={record()}>{(read) => <Dynamic component={page()} {...read()} />}</Match>
            <Match when={isFailed()}>
              <section class="plain-screen" role="alert">
                <h1>{say`The record cannot be read now`}</h1>
                <p>{say`No copy of it answers. The case goes on, and what was saved stays saved.`}</p>
                <Button kind="primary" onPress={again}>
                  {say`Read it again`}
                </Button>
              </section>
            </Match>
          </Switch>
        </Scroller>
      </main>
      <Show when={isTaking() && record()}>
        {(read) => (
          <TakeOutDialog
            outputs={props.record.outputs}
            record={read()}
            onClose={() => setTaking(false)}
          />
        )}
      </Show>
    </div>
  );
}

/** Whether a case that has ended still takes something: the film that it owes, or a piece that turns up. */
const isOpenLate = (current: Case): boolean =>
  current.finishedAt !== undefined && (isXrayOwed(current) || current.missing.length > 0);

/** A name for the file that says nothing about the patient. */
const fileName = (current: Case): string =>
  `lastlook-${current.startedAt.slice(0, 10)}-${current.id.slice(0, 8)}.txt`;
