import { children, type JSX, Show } from 'solid-js';
import './Foot.css';

export type FootEntry = {
  /** The time as it is read: 14:31:52. */
  readonly at: string;
  readonly subject: string;
  readonly rest: string;
};

export type FootProps = {
  /** Undefined before the first entry. */
  readonly last?: FootEntry | undefined;
  /** Buttons of the moment. */
  readonly children: JSX.Element;
  /** Lies over the foot while it is there, such as the actions of a wire. */
  readonly over?: JSX.Element;
};

/** The last entry, so that a wrong tap is seen at once, and the few actions of the moment. */
export function Foot(props: FootProps) {
  const over = children(() => props.over);
  const isCovered = () => over.toArray().some((one) => one !== null && one !== undefined);
  return (
    <>
      <div class="foot" inert={isCovered()}>
        <p class="foot-last" role="status">
          <Show when={props.last}>
            {(last) => (
              <>
                <span class="visually-hidden">Last entry </span>
                <span class="foot-at digits-type">{last().at}</span>
                <span class="foot-words">
                  <strong>{last().subject}</strong> {last().rest}
                </span>
              </>
            )}
          </Show>
        </p>
        <div class="foot-actions">{props.children}</div>
      </div>
      {over()}
    </>
  );
}
