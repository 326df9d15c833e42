import { children, createUniqueId, type JSX, onCleanup, onMount, Show } from 'solid-js';
import { say } from '#words/say.ts';
import { Button } from './Button.tsx';
import { Scroller } from './Scroller.tsx';
import './Dialog.css';

export type DialogProps = {
  /** A question or the name of the choice. */
  readonly title: string;
  /** A sentence under the title. */
  readonly sentence?: string | undefined;
  /** Escape, or the button that leaves everything as it was. */
  readonly onClose: () => void;
  /** Words of that button; Leave it. */
  readonly closeWords?: string | undefined;
  /** Buttons beside it, such as the one that does it. */
  readonly actions?: JSX.Element;
  /** As wide as the screen, for much to choose from. */
  readonly isWide?: boolean | undefined;
  /** Instead of all of them: one must be chosen, and nothing else leaves the sheet. */
  readonly only?: JSX.Element;
  readonly children: JSX.Element;
};

/** A sheet over the screen for one choice. It is open while it is rendered; a tap beside it does nothing. */
export function Dialog(props: DialogProps) {
  const titleId = createUniqueId();
  const only = children(() => props.only);
  let dialog: HTMLDialogElement | undefined;
  onMount(() => dialog?.showModal());
  onCleanup(() => dialog?.close());
  return (
    <dialog
      class="dialog"
      data-wide={props.isWide ? 'yes' : 'no'}
      ref={dialog}
      aria-labelledby={titleId}
      onCancel={(event) => {
        event.preventDefault();
        props.onClose();
      }}
    >
      <header class="dialog-head">
        <h2 class="dialog-title" id={titleId}>
          {props.title}
        </h2>
        <Show when={props.sentence}>
          <p class="dialog-sentence">{props.sentence}</p>
        </Show>
      </header>
      <div class="dialog-body">
        <Scroller>{props.children}</Scroller>
      </div>
      <footer class="dialog-foot">
        <Show when={only() === undefined} fallback={only()}>
          <Button kind="quiet" onPress={() => props.onClose()}>
            {props.closeWords ?? say`Leave it`}
          </Button>
          {props.actions}
        </Show>
      </footer>
    </dialog>
  );
}
