import { For, Show } from 'solid-js';

export type NoticeProps = {
  readonly tone: 'refused' | 'said' | 'failed';
  readonly title: string;
  readonly lines: readonly string[];
  readonly onDismiss: () => void;
  readonly again?: (() => void) | undefined;
};

/** A sentence over the foot that moves nothing: why not, or what to mind. Stays until it is dismissed. */
export function Notice(props: NoticeProps) {
  return (
    <div class="notice" role="alert" data-tone={props.tone}>
      <div class="notice-words">
        <strong>{props.title}</strong>
        <For each={props.lines}>{(line) => <span>{line}</span>}</For>
      </div>
      <Show when={props.again}>
        {(again) => (
          <button type="button" class="button" data-kind="primary" onClick={() => again()()}>
            Save again
          </button>
        )}
      </Show>
      <button type="button" class="button" data-kind="plain" onClick={() => props.onDismiss()}>
        Seen
      </button>
    </div>
  );
}
