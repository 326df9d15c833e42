import { children, type JSX, Show } from 'solid-js';
import { say } from '#words/say.ts';
import './Foot.css';

export type FootEntry = {
  /** Its number in the record: two entries of one second can have the same words. */
  readonly entry?: number | undefined;
  /** The time as it is read: 14:31:52. */
  readonly at: string;
  readonly subject: string;
  readonly rest: string;
};

export type FootProps = {
  /** Undefined before the first entry. */
  readonly last?: FootEntry | undefined;
  /** Takes the last entry back. It has one place on every screen, so that a hand finds it without looking. */
  readonly back?: JSX.Element;
  /** Buttons of the moment. */
  readonly children: JSX.Element;
  /** Under the last entry while it is there: what can be done with the wire in hand. */
  readonly hand?: JSX.Element;
};

/** The last entry, so that a wrong tap is seen at once, and the few actions of the moment. */
export function Foot(props: FootProps) {
  // Made once, however often they are asked for.
  const back = children(() => props.back);
  const hand = children(() => props.hand);
  const isInHand = () => hand.toArray().some((one) => one !== null && one !== undefined);
  return (
    <div class="foot" data-hand={isInHand() ? 'yes' : 'no'}>
      <Show when={back()}>
        <div class="foot-back">{back()}</div>
      </Show>
      <div class="foot-said">
        <p class="foot-last" role="status" data-entry={props.last?.entry}>
          <Show when={props.last}>
            {(last) => (
              <>
                <span class="visually-hidden">{say`Last entry`} </span>
                <span class="foot-at digits-type">{last().at}</span>
                <span class="foot-words">
                  <strong>{last().subject}</strong> {last().rest}
                </span>
              </>
            )}
          </Show>
        </p>
        <Show when={isInHand()}>
          <div class="foot-hand">{hand()}</div>
        </Show>
      </div>
      <div class="foot-actions">{props.children}</div>
    </div>
  );
}
