import { createMemo, For } from 'solid-js';
import { Dynamic } from 'solid-js/web';
import type { Sheet } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import { paperForm } from '#paper/form.ts';
import { Scroller } from '#parts/Scroller.tsx';
import { say } from '#words/say.ts';
import '#paper/columns.css';
import '#paper/paper.css';
import type { Leaf } from '#paper/tree.ts';
import { Button } from '#parts/Button.tsx';

export type PaperPageProps = {
  readonly sheet: Sheet;
  /** The case that is on; without it the form is blank. */
  readonly current?: Case | undefined;
  readonly at: string;
  readonly onBack: () => void;
};

/** The paper form on the screen, as it will be printed. */
export function PaperPage(props: PaperPageProps) {
  const form = createMemo(() =>
    paperForm({ sheet: props.sheet, current: props.current, at: props.at }),
  );
  return (
    <div class="record-screen">
      <header class="record-bar">
        <Button kind="plain" onPress={props.onBack}>
          {say`Back`}
        </Button>
        <p class="paper-words">
          {props.current
            ? say`The case as it stands, on paper. The count sheet stays blank on purpose.`
            : say`A blank form, to be kept for the day when the tablet cannot be used.`}
        </p>
        <span class="record-bar-gap" />
        <Button kind="primary" onPress={() => window.print()}>
          {say`Print`}
        </Button>
      </header>
      <main class="record-main" aria-label={say`Paper form`}>
        <Scroller>
          <PaperLeaf leaf={form()} />
        </Scroller>
      </main>
    </div>
  );
}

/** A part of the form as an element. Words become text and never markup. */
function PaperLeaf(props: { readonly leaf: Leaf }) {
  const element = () => (typeof props.leaf === 'string' ? undefined : props.leaf);
  return (
    <>
      {typeof props.leaf === 'string' ? props.leaf : undefined}
      <For each={element() ? [element()] : []}>
        {(one) => (
          <Dynamic component={one?.tag} class={one?.class} colspan={one?.colspan}>
            <For each={one?.children ?? []}>{(child) => <PaperLeaf leaf={child} />}</For>
          </Dynamic>
        )}
      </For>
    </>
  );
}
