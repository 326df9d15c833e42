import { Index, Show } from 'solid-js';
import { Mark } from './Mark.tsx';
import './Facts.css';

export type Fact = {
  readonly name: string;
  readonly value: string;
  /** Compared with the case. Undefined: nothing to compare. */
  readonly agrees?: boolean | undefined;
};

/** Names and values, one a row, with a tick where two of them were compared. */
export function Facts(props: { readonly facts: readonly Fact[] }) {
  return (
    <dl class="facts">
      <Index each={props.facts}>
        {(fact) => (
          <div class="fact" data-agrees={fact().agrees}>
            <dt>{fact().name}</dt>
            <dd>
              {fact().value}
              <Show when={fact().agrees !== undefined}>
                <Mark shape={fact().agrees ? 'agreed' : 'missing'} />
                <span class="visually-hidden">{fact().agrees ? 'agrees' : 'differs'}</span>
              </Show>
            </dd>
          </div>
        )}
      </Index>
    </dl>
  );
}
