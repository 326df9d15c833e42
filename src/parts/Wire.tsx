import { type JSX, Show } from 'solid-js';

export type WireProps = {
  readonly line: string;
  readonly name: string;
  readonly detail?: string | undefined;
  /** A part of a port or of another thing that comes apart. */
  readonly isPart: boolean;
  readonly onOpen: () => void;
  readonly children: JSX.Element;
};

/** One line of the counting frame: its name, which opens all that can be done with it, and its stretches. */
export function Wire(props: WireProps) {
  return (
    <div class="wire" data-line={props.line} data-part={props.isPart ? '' : undefined}>
      <button
        type="button"
        class="wire-name"
        aria-label={`${props.name}: all that can be done with it`}
        onClick={() => props.onOpen()}
      >
        <span class="wire-words">
          <span class="wire-title">{props.name}</span>
          <Show when={props.detail}>{(detail) => <span class="wire-detail">{detail()}</span>}</Show>
        </span>
        <span class="wire-more" aria-hidden="true">
          ⋯
        </span>
      </button>
      {props.children}
    </div>
  );
}
