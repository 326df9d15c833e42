import { For, Show } from 'solid-js';
import { momentName } from '#engine/closures/holdsOf.ts';
import { insideOf, introducedOf, rowOf } from '#engine/ledger.ts';
import type { Case } from '#engine/state.ts';
import { timeWords } from './instants.ts';

/** The counts that were made, and where every piece is now. */
export function CountsTable(props: { readonly current: Case }) {
  const lines = () =>
    [...props.current.lines.values()].filter((line) => {
      const row = rowOf(props.current.ledger, line.id);
      return row.supply !== 0 || row.changed !== 0;
    });
  return (
    <>
      <Show when={props.current.counts.history.length > 0} fallback={<p>No count was made.</p>}>
        <ul class="record-counts">
          <For each={props.current.counts.history}>
            {(count) => (
              <li>
                <span class="digits-type">{timeWords(count.at)}</span>{' '}
                <strong>{momentName(props.current, count.moment)}</strong>,{' '}
                {count.waived ? 'waived by' : 'agreed by'} {count.by.join(' and ')}:{' '}
                {countWords(props.current, count.differing, count.waived, count.lines)}
              </li>
            )}
          </For>
        </ul>
      </Show>
      <Findings current={props.current} />
      <table class="record-lines">
        <thead>
          <tr>
            <th>Line</th>
            <th>In all</th>
            <th>Table</th>
            <th>Inside</th>
            <th>Off</th>
            <th>Stays</th>
            <th>Specimen</th>
            <th>Missing</th>
          </tr>
        </thead>
        <tbody>
          <For each={lines()}>
            {(line) => {
              const row = () => rowOf(props.current.ledger, line.id);
              // To be counted again without knowing: what the record expects is not on paper either.
              const shown = (pieces: number) =>
                props.current.differing[line.id]?.stage === 'recount' ? '?' : pieces;
              return (
                <tr>
                  <th scope="row">{line.name}</th>
                  <td class="digits-type">{shown(introducedOf(props.current.ledger, line.id))}</td>
                  <td class="digits-type">{shown(row().table)}</td>
                  <td class="digits-type">{insideOf(props.current.ledger, line.id)}</td>
                  <td class="digits-type">{shown(row().off)}</td>
                  <td class="digits-type">{row().stays}</td>
                  <td class="digits-type">{row().specimen + row().away}</td>
                  <td class="digits-type">{row().missing}</td>
                </tr>
              );
            }}
          </For>
        </tbody>
      </table>
    </>
  );
}

function countWords(
  current: Case,
  differing: readonly string[],
  waived: boolean,
  lines: number,
): string {
  if (waived) return `${lines} lines not counted`;
  if (differing.length === 0) return `all ${lines} lines agree`;
  const names = differing.map((line) => current.lines.get(line)?.name ?? line);
  return `${lines} lines, of which did not agree: ${names.join(', ')}`;
}

function Findings(props: { readonly current: Case }) {
  const name = (line: string) => props.current.lines.get(line)?.name ?? line;
  return (
    <ul class="record-counts">
      <For each={props.current.counts.findings}>
        {(one) => (
          <li>
            {name(one.line)}: {one.listed} listed, {one.seen} seen when counted in.
          </li>
        )}
      </For>
      <For each={props.current.counts.setAside}>
        {(one) => (
          <li>
            {name(one.line)}: a pack of {one.pieces} was set aside whole.
          </li>
        )}
      </For>
      <For each={props.current.settled}>
        {(one) => (
          <li>
            {name(one.line)}: {one.difference > 0 ? 'over' : 'short'} by {Math.abs(one.difference)}{' '}
            at the {momentName(props.current, one.moment).toLowerCase()},{' '}
            {one.how === 'agreed'
              ? `settled by recounts at ${timeWords(one.settledAt)}`
              : `declared by ${one.by?.join(' and ')} at ${timeWords(one.settledAt)}`}
            .
          </li>
        )}
      </For>
    </ul>
  );
}
