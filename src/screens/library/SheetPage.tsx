import { createSignal, For, Match, Show, Switch } from 'solid-js';
import type { Sheet } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { Scroller } from '#parts/Scroller.tsx';
import type { Candidate, LibraryEntry, SheetLibrary } from '#session/sheetLibrary.ts';
import { say } from '#words/say.ts';
import { saveFile } from '../saveFile.ts';
import { ChangeDialog } from './ChangeDialog.tsx';
import { Asked, Closed, Opened } from './SheetParts.tsx';
import { Versions } from './Versions.tsx';

export type SheetPageProps = {
  readonly library: SheetLibrary;
  readonly entry: LibraryEntry | undefined;
  /** Undefined where it cannot be opened; why stands in `said`. */
  readonly sheet: Sheet | undefined;
  readonly said: string | undefined;
  readonly onBack: () => void;
  readonly onPaper: (sheet: Sheet) => void;
  readonly onLook: (reading: Promise<Candidate>) => void;
};

const tabs = () =>
  [
    { id: 'opens', name: say`What is opened` },
    { id: 'asks', name: say`What is asked` },
    { id: 'closes', name: say`What is removed and closed` },
    { id: 'versions', name: say`Changes and versions` },
  ] as const;
type Tab = ReturnType<typeof tabs>[number]['id'];

/** One sheet: what it opens, asks and closes, how it came to be, and what can be done with it. */
export function SheetPage(props: SheetPageProps) {
  const [tab, setTab] = createSignal<Tab>('opens');
  const [isChanging, setChanging] = createSignal(false);
  const save = async () => {
    const id = props.entry?.id ?? '';
    const text = await props.library.textOf(id).catch(() => undefined);
    if (text !== undefined) saveFile(text, `${id}.yaml`, 'text/yaml');
  };
  const whyNot = () => (props.sheet ? undefined : say`This sheet cannot be opened.`);
  return (
    <div class="library">
      <header class="library-head">
        <h1>{props.entry?.title}</h1>
        <p class="quiet">{say`Revised ${props.entry?.version}`}</p>
        <nav class="library-tabs" aria-label={say`Parts of the sheet`}>
          <For each={tabs()}>
            {({ id, name }) => (
              <Button kind="plain" isPressed={tab() === id} onPress={() => setTab(id)}>
                {name}
              </Button>
            )}
          </For>
        </nav>
      </header>
      <main class="library-main">
        <Scroller>
          <Show when={props.said}>
            <p class="said-line" role="status" data-tone={props.sheet ? 'agreed' : 'missing'}>
              {props.said}
            </p>
          </Show>
          <Switch>
            <Match when={tab() === 'versions' && props.entry}>
              {(entry) => (
                <Versions
                  library={props.library}
                  entry={entry()}
                  sheet={props.sheet}
                  onLook={props.onLook}
                />
              )}
            </Match>
            <Match when={tab() === 'opens' && props.sheet}>
              {(sheet) => <Opened sheet={sheet()} />}
            </Match>
            <Match when={tab() === 'asks' && props.sheet}>
              {(sheet) => <Asked sheet={sheet()} />}
            </Match>
            <Match when={tab() === 'closes' && props.sheet}>
              {(sheet) => <Closed sheet={sheet()} />}
            </Match>
          </Switch>
        </Scroller>
      </main>
      <footer class="library-foot">
        <Button kind="plain" onPress={props.onBack}>
          {say`All sheets`}
        </Button>
        <span class="library-gap" />
        <Button kind="plain" onPress={() => void save()}>
          {say`Save as a file`}
        </Button>
        <Button
          kind="plain"
          whyNot={whyNot()}
          onPress={() => props.sheet && props.onPaper(props.sheet)}
        >
          {say`On paper`}
        </Button>
        <Button kind="primary" whyNot={whyNot()} onPress={() => setChanging(true)}>
          {say`Change something`}
        </Button>
      </footer>
      <Show when={isChanging() && props.sheet}>
        {(sheet) => (
          <ChangeDialog
            sheet={sheet()}
            onClose={() => setChanging(false)}
            onChange={(change, words) => {
              const reading = props.library.change(sheet().id, change, words);
              setChanging(false);
              props.onLook(reading);
            }}
          />
        )}
      </Show>
    </div>
  );
}
