import { createUniqueId, type JSX } from 'solid-js';
import './WireGroup.css';

export type WireGroupProps = {
  /** What comes apart: Port 12 mm. */
  readonly name: string;
  readonly detail?: string | undefined;
  /** Wires with `isPart`. */
  readonly children: JSX.Element;
};

/** The parts of one thing under its name, held together by a bracket. */
export function WireGroup(props: WireGroupProps) {
  const nameId = createUniqueId();
  return (
    <li class="wire-group">
      <div class="wire-group-name">
        <span class="wire-group-title" id={nameId}>
          {props.name}
        </span>
        <span class="wire-group-detail">{props.detail}</span>
      </div>
      <ul aria-labelledby={nameId}>{props.children}</ul>
    </li>
  );
}
