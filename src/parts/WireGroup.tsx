import { createUniqueId, Index, type JSX } from 'solid-js';
import './WireGroup.css';

export type SetMove = {
  /** A set in; A set out. */
  readonly label: string;
  /** The column of the frame that it leaves, the names being the first. */
  readonly column: number;
  /** Which parts and where to, for a screen reader. */
  readonly does: string;
  readonly onMove: () => void;
};

export type WireGroupProps = {
  /** What comes apart: Port 12 mm. */
  readonly name: string;
  readonly detail?: string | undefined;
  /** Moves a whole set at once: what sits together goes together. */
  readonly sets?: readonly SetMove[] | undefined;
  /** Wires with `isPart`. */
  readonly children: JSX.Element;
};

/** The parts of one thing under its name, held together by a bracket. */
export function WireGroup(props: WireGroupProps) {
  const nameId = createUniqueId();
  return (
    <li class="wire-group" data-stop data-sets={props.sets?.length ? 'yes' : 'no'}>
      <div class="wire-group-name">
        <span class="wire-group-words">
          <span class="wire-group-title" id={nameId}>
            {props.name}
          </span>
          <span class="wire-group-detail">{props.detail}</span>
        </span>
        <Index each={props.sets ?? []}>
          {(set) => (
            <button
              type="button"
              class="wire-group-set"
              data-column={set().column}
              aria-label={`${props.name}, ${set().label}. ${set().does}`}
              onClick={() => set().onMove()}
            >
              {set().label}
            </button>
          )}
        </Index>
      </div>
      <ul aria-labelledby={nameId}>{props.children}</ul>
    </li>
  );
}
