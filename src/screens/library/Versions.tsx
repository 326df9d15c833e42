import { For, Show } from 'solid-js';
import type { Sheet } from '#engine/sheet.ts';
import { changesOf } from '#paper/changesOf.ts';
import { Button } from '#parts/Button.tsx';
import type { Candidate, LibraryEntry, SheetLibrary } from '#session/sheetLibrary.ts';
import { say } from '#words/say.ts';

export type VersionsProps = {
  readonly library: SheetLibrary;
  readonly entry: LibraryEntry;
  readonly sheet: Sheet | undefined;
  readonly onLook: (reading: Promise<Candidate>) => void;
};

/** What was changed here, who approved it and when, and every version that was taken into use. */
export function Versions(props: VersionsProps) {
  const groups = () => (props.sheet ? [...changesOf(props.sheet)].reverse() : []);
  const versions = () => props.library.versions(props.entry.id);
  return (
    <>
      <section class="library-part">
        <h2>{say`Changed here`}</h2>
        <For each={groups()} fallback={<p>{say`Nothing.`}</p>}>
          {({ changes, approval }) => (
            <div class="library-approved">
              <ul class="plain-list">
                <For each={changes}>{(change) => <li>{change}</li>}</For>
              </ul>
              <p>{approval}</p>
            </div>
          )}
        </For>
      </section>
      <section class="library-part">
        <h2>{say`Versions on this tablet`}</h2>
        <ul class="library-versions">
          <For each={versions()}>
            {({ number, takenBy, takenAt, from, confirmed }) => (
              <li>
                <span>
                  <strong>{say`Version ${number}`}</strong>{' '}
                  {say`taken into use by ${takenBy} on ${takenAt.slice(0, 16).replace('T', ' ')}, from: ${from}`}
                  {confirmed === 'pin' ? say`; confirmed by PIN` : ''}
                </span>
                <Show
                  when={props.entry.kept?.number !== number || !props.sheet}
                  fallback={<strong>{say`In use`}</strong>}
                >
                  <Button
                    kind="plain"
                    onPress={() => props.onLook(props.library.again(props.entry.id, number))}
                  >
                    {say`Look at it again`}
                  </Button>
                </Show>
              </li>
            )}
          </For>
          <li>
            <span>
              <strong>{say`As it is shipped`}</strong> {say`with this program`}
            </span>
            <Show when={props.entry.kept} fallback={<strong>{say`In use`}</strong>}>
              <Button
                kind="plain"
                onPress={() => props.onLook(props.library.again(props.entry.id, undefined))}
              >
                {say`Look at it again`}
              </Button>
            </Show>
          </li>
        </ul>
      </section>
    </>
  );
}
