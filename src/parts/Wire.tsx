import { createUniqueId, Index, Show } from 'solid-js';
import { say } from '#words/say.ts';
import { Stretch, type StretchView } from './Stretch.tsx';
import './Wire.css';

export type WireProps = {
  /** The line of the sheet. */
  readonly id: string;
  readonly name: string;
  readonly detail?: string | undefined;
  /** In the order of the frame's columns. */
  readonly stretches: readonly StretchView[];
  /** Its actions stand in the foot. */
  readonly isSelected?: boolean | undefined;
  /** Asks for what else can be done with this line. Without it the name only shows. */
  readonly onSelect?: (() => void) | undefined;
  /** It is one part of a group: a seal of a port. */
  readonly isPart?: boolean | undefined;
};

/** One line of the count sheet as a wire: its name, and a stretch for each place. */
export function Wire(props: WireProps) {
  const nameId = createUniqueId();
  const isInside = () =>
    props.stretches.some((stretch) => stretch.tone === 'inside' && (stretch.pieces ?? 0) > 0);
  return (
    <li
      class="wire"
      data-item
      data-line={props.id}
      data-marked={isInside() ? 'yes' : 'no'}
      data-selected={props.isSelected ? 'yes' : 'no'}
      data-part={props.isPart ? 'yes' : 'no'}
      aria-labelledby={nameId}
    >
      <Show
        when={props.onSelect}
        fallback={
          <div class="wire-name">
            <WireWords id={nameId} name={props.name} detail={props.detail} />
          </div>
        }
      >
        {(select) => (
          <button
            type="button"
            class="wire-name"
            aria-label={say`${props.name}, more actions`}
            aria-pressed={props.isSelected ? 'true' : 'false'}
            onClick={() => select()()}
          >
            <WireWords id={nameId} name={props.name} detail={props.detail} />
          </button>
        )}
      </Show>
      <Index each={props.stretches}>
        {(stretch) => <Stretch line={props.name} stretch={stretch()} />}
      </Index>
    </li>
  );
}

function WireWords(props: {
  readonly id: string;
  readonly name: string;
  readonly detail: string | undefined;
}) {
  return (
    <span class="wire-words">
      <span class="wire-title" id={props.id}>
        {props.name}
      </span>
      <Show when={props.detail}>
        <span class="wire-detail">{props.detail}</span>
      </Show>
    </span>
  );
}
