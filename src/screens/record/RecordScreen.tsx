import { type Component, Show } from 'solid-js';
import { Dynamic } from 'solid-js/web';
import type { Case } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import type { RecordedRow } from '#session/state.ts';
import { saveFile } from '../saveFile.ts';
import { useCase, useSession } from '../useSession.ts';

export type RecordScreenProps = {
  readonly record: Component<{
    readonly current: Case;
    readonly rows: readonly RecordedRow[];
    readonly code: string;
  }>;
  readonly codeOf: (head: string) => string;
};

/** The whole case as a page that a person reads, to print or to take out as a file. */
export function RecordScreen(props: RecordScreenProps) {
  const { session, state } = useSession();
  const current = useCase();
  const take = async () => {
    const text = await session.exportCase(current().id);
    if (text !== undefined) saveFile(text, fileName(current()), 'text/plain');
  };
  return (
    <div class="record-screen">
      <header class="record-bar">
        <Show when={current().finishedAt === undefined}>
          <Button kind="plain" onPress={() => session.show({ name: 'frame' })}>
            Back to the case
          </Button>
        </Show>
        <Button kind="plain" onPress={() => void session.go({ screen: 'start' })}>
          All cases
        </Button>
        <span class="record-bar-gap" />
        <Button kind="plain" onPress={() => void take()}>
          Take out as a file
        </Button>
        <Button kind="primary" onPress={() => window.print()}>
          Print
        </Button>
      </header>
      <main class="record-scroller" tabindex="0" aria-label="Record">
        <Dynamic
          component={props.record}
          current={current()}
          rows={state().rows}
          code={props.codeOf(state().head)}
        />
      </main>
    </div>
  );
}

/** A name for the file that says nothing about the patient. */
const fileName = (current: Case): string =>
  `lastlook-${current.startedAt.slice(0, 10)}-${current.id.slice(0, 8)}.txt`;
