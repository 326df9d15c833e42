import { type JSX, onMount } from 'solid-js';

export type DialogProps = {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: JSX.Element;
  /** Actions at its foot, beside the one that leaves it. */
  readonly actions?: JSX.Element;
};

/** A sheet over the screen for one question. Leaving it changes nothing. */
export function Dialog(props: DialogProps) {
  let dialog: HTMLDialogElement | undefined;
  onMount(() => dialog?.showModal?.());
  return (
    <dialog
      ref={(element) => {
        dialog = element;
      }}
      class="dialog"
      aria-label={props.title}
      onCancel={(event) => {
        event.preventDefault();
        props.onClose();
      }}
    >
      <h2 class="dialog-title">{props.title}</h2>
      <div class="dialog-body">{props.children}</div>
      <div class="dialog-foot">
        <button type="button" class="button" data-kind="plain" onClick={() => props.onClose()}>
          Leave it
        </button>
        {props.actions}
      </div>
    </dialog>
  );
}
