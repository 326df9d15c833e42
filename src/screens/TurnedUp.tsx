import { For, Show } from 'solid-js';
import type { Command } from '#engine/case/events.ts';
import { at } from '#engine/ledger.ts';
import { Button } from '#parts/Button.tsx';
import { say } from '#words/say.ts';
import { useCase, useSession } from './useSession.ts';

/** Pieces that were declared missing, or searched for and not found, and turn up after all; of one line or of each. */
export function TurnedUp(props: {
  readonly line?: string;
  readonly act: (command: Command) => Promise<void>;
}) {
  const { can } = useSession();
  const current = useCase();
  const lines = () =>
    [...current().lines.values()].filter(
      ({ id }) =>
        (props.line === undefined || props.line === id) && at(current().ledger, id, 'missing') > 0,
    );
  const found = (line: string, place: 'off' | 'table') =>
    ({ type: 'discrepancy', line, step: 'found', from: 'missing', place, n: 1 }) as const;
  return (
    <Show when={lines().length > 0}>
      <section class="leaving-part">
        <h3 class="part-title">{say`Missing, and found after all`}</h3>
        <For each={lines()}>
          {(line) => (
            <div class="row">
              <span class="row-label">
                {say`${at(current().ledger, line.id, 'missing')} ${line.name}`}
              </span>
              <For each={['off', 'table'] as const}>
                {(place) => (
                  <Button
                    kind="plain"
                    whyNot={can(found(line.id, place)) ? undefined : say`Not possible now.`}
                    onPress={() => void props.act(found(line.id, place))}
                  >
                    {place === 'off' ? say`One found, off the field` : say`One found, on the table`}
                  </Button>
                )}
              </For>
            </div>
          )}
        </For>
      </section>
    </Show>
  );
}
