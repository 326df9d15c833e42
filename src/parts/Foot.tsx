import { type JSX, Show } from 'solid-js';
import './Foot.css';

export type LastEntry = {
  readonly time: string;
  /** What it was about, in bold. */
  readonly subject: string;
  readonly rest: string;
};

type FootProps = {
  readonly last?: LastEntry | undefined;
  /** The few actions of the moment, as buttons. */
  readonly children: JSX.Element;
};

/** The foot: the last entry on the left, what can be done now on the right. */
export function Foot(props: FootProps) {
  return (
    <div class="foot">
      <p class="foot-last">
        <Show when={props.last}>
          {(last) => (
            <>
              <span class="visually-hidden">Last entry: </span>
              <time class="foot-time figures">{last().time}</time> <b>{last().subject}</b>{' '}
              {last().rest}
            </>
          )}
        </Show>
      </p>
      <div class="foot-actions">{props.children}</div>
    </div>
  );
}
