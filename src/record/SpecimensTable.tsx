import { For, Show } from 'solid-js';
import type { Case, Specimen } from '#engine/state.ts';
import { timeWords } from './instants.ts';

/** Each specimen from the field to whoever took it. */
export function SpecimensTable(props: { readonly current: Case }) {
  const specimens = () => Object.values(props.current.specimens);
  return (
    <Show when={specimens().length > 0} fallback={<p>No specimen was taken.</p>}>
      <table>
        <thead>
          <tr>
            <th>Specimen</th>
            <th>Out</th>
            <th>Pot</th>
            <th>Labelled</th>
            <th>Read back</th>
            <th>Handed over</th>
          </tr>
        </thead>
        <tbody>
          <For each={specimens()}>
            {(one) => (
              <tr>
                <th scope="row">
                  {one.letter} {one.name}
                </th>
                <td>{outWords(props.current, one)}</td>
                <td>{one.pot ? `${one.pot}, ${one.medium}${reasonWords(one)}` : ''}</td>
                <td>{doneWords(one.labelledBy, one.labelledAt)}</td>
                <td>{doneWords(one.readBackBy, one.readBackAt)}</td>
                <td>{doneWords(one.handedTo, one.handedAt)}</td>
              </tr>
            )}
          </For>
        </tbody>
      </table>
    </Show>
  );
}

function outWords(current: Case, one: Specimen): string {
  if (one.stage === 'planned') return 'not out';
  if (one.stage === 'notTaken') return `not taken: ${one.partReason ?? ''}`;
  const carries = Object.entries(one.carries ?? {}).map(
    ([line, n]) => `${n} ${current.lines.get(line)?.name ?? line}`,
  );
  const pieces = one.pieces === 1 ? 'one piece' : `${one.pieces} pieces`;
  const whole = one.isWhole ? 'whole' : `not whole: ${one.partReason ?? 'no reason given'}`;
  const on = carries.length > 0 ? `, with ${carries.join(', ')}` : '';
  return `${one.takenAt ? timeWords(one.takenAt) : ''} ${pieces}, ${whole}${on}`;
}

const reasonWords = (one: Specimen): string => (one.mediumReason ? ` (${one.mediumReason})` : '');

const doneWords = (who: string | undefined, at: string | undefined): string =>
  who && at ? `${timeWords(at)} ${who}` : '';
