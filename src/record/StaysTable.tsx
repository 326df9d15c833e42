import { For, Show } from 'solid-js';
import type { Case } from '#engine/state.ts';

/** What was left on purpose, in plain words, and who has to do with it next. */
export function StaysTable(props: { readonly current: Case }) {
  const pieces = () =>
    Object.entries(props.current.left).flatMap(([line, left]) =>
      left.map((set) => ({ line, name: props.current.lines.get(line)?.name ?? line, set })),
    );
  return (
    <Show when={pieces().length > 0} fallback={<p>Nothing was left on purpose.</p>}>
      <table>
        <thead>
          <tr>
            <th>What</th>
            <th>How many</th>
            <th>Where</th>
            <th>Why</th>
            <th>Handed over</th>
          </tr>
        </thead>
        <tbody>
          <For each={pieces()}>
            {(piece) => {
              const handover = () => props.current.handovers[piece.line];
              return (
                <tr>
                  <th scope="row">{piece.name}</th>
                  <td class="digits-type">{piece.set.n}</td>
                  <td>{piece.set.where ?? piece.set.site ?? ''}</td>
                  <td>
                    {piece.set.reason ?? ''}
                    {piece.set.lot ? ` · lot ${piece.set.lot}` : ''}
                    {piece.set.decidedBy
                      ? ` · decided by ${piece.set.decidedBy.join(' and ')}`
                      : ''}
                  </td>
                  <td>{handover() ? `${handover()?.to}: ${handover()?.plan}` : ''}</td>
                </tr>
              );
            }}
          </For>
        </tbody>
      </table>
    </Show>
  );
}
