import { createSignal, Match, Show, Switch } from 'solid-js';
import type { Sheet } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import type { Candidate, LibraryEntry, SheetLibrary } from '#session/sheetLibrary.ts';
import { say } from '#words/say.ts';
import '#styles/library.css';
import { PaperPage } from '../PaperPage.tsx';
import { useSession } from '../useSession.ts';
import { CandidatePage } from './CandidatePage.tsx';
import { SheetList } from './SheetList.tsx';
import { SheetPage } from './SheetPage.tsx';

export type LibraryScreenProps = {
  readonly library: SheetLibrary;
  /** The sheets in use, as the library says them. */
  readonly entries: readonly LibraryEntry[];
};

type Page =
  | { readonly name: 'list' }
  | { readonly name: 'sheet'; readonly id: string }
  | { readonly name: 'candidate'; readonly candidate: Candidate; readonly from: Page }
  | { readonly name: 'paper'; readonly sheet: Sheet };

/** The sheets of this tablet: what each opens and asks, and how one is changed. */
export function LibraryScreen(props: LibraryScreenProps) {
  const { session, state } = useSession();
  const [page, setPage] = createSignal<Page>({ name: 'list' });
  const [sheet, setSheet] = createSignal<Sheet>();
  const [said, setSaid] = createSignal<string>();
  const is = <N extends Page['name']>(name: N) => {
    const open = page();
    // The name of a page says which page it is.
    return open.name === name ? (open as Extract<Page, { readonly name: N }>) : undefined;
  };

  async function open(id: string): Promise<void> {
    setSaid(undefined);
    const entry = props.entries.find((one) => one.id === id);
    try {
      setSheet(await entry?.load());
    } catch (error) {
      setSheet(undefined);
      const why = error instanceof Error ? error.message : say`its file is not there`;
      setSaid(
        say`This sheet cannot be opened: ${why}. Look at its versions, and take one into use.`,
      );
    }
    setPage({ name: 'sheet', id });
  }

  /** Shows what was read; where that itself failed, says so. */
  async function look(reading: Promise<Candidate>): Promise<void> {
    const from = page();
    setSaid(undefined);
    try {
      setPage({ name: 'candidate', candidate: await reading, from });
    } catch {
      setSaid(
        say`A part of the program could not be loaded. Open the program again, then try once more.`,
      );
    }
  }

  async function take(candidate: Extract<Candidate, { ok: true }>, by: string): Promise<void> {
    const taken = await props.library.take(candidate, by);
    // What was not taken stays on show, so that it can be tried again.
    if (!taken.ok) {
      setSaid(taken.sentence);
      return;
    }
    await open(candidate.sheet.id);
    setSaid(say`In use from the next case on, as version ${taken.number}.`);
  }

  return (
    <Switch>
      <Match when={is('list')}>
        <div class="library">
          <header class="library-head">
            <h1>{say`Sheets`}</h1>
            <p class="quiet">
              {say`What each operation opens and asks. A case keeps the sheet that it was started with.`}
            </p>
          </header>
          <SheetList entries={props.entries} onOpen={(id) => void open(id)} said={said()} />
          <footer class="library-foot">
            <Button kind="plain" onPress={() => void session.go({ screen: 'start' })}>
              {say`Back to the cases`}
            </Button>
            <span class="library-gap" />
            <BringInSheet
              onBytes={(bytes, file) => void look(props.library.bringIn(bytes, file))}
              onSaid={setSaid}
            />
          </footer>
        </div>
      </Match>
      <Match when={is('sheet')}>
        {(open) => (
          <SheetPage
            library={props.library}
            entry={props.entries.find(({ id }) => id === open().id)}
            sheet={sheet()}
            said={said()}
            onBack={() => setPage({ name: 'list' })}
            onPaper={(shown) => setPage({ name: 'paper', sheet: shown })}
            onLook={(reading) => void look(reading)}
          />
        )}
      </Match>
      <Match when={is('candidate')}>
        {(open) => (
          <CandidatePage
            candidate={open().candidate}
            asksPin={state().unit.stage !== 'none'}
            said={said()}
            onBack={() => {
              setSaid(undefined);
              setPage(open().from);
            }}
            onTake={take}
          />
        )}
      </Match>
      <Match when={is('paper')}>
        {(open) => (
          <PaperPage
            sheet={open().sheet}
            at={session.now()}
            onBack={() => setPage({ name: 'sheet', id: open().sheet.id })}
          />
        )}
      </Match>
    </Switch>
  );
}

/** Larger than this is no sheet. Units: bytes. */
const bytesMax = 1024 * 1024;

function BringInSheet(props: {
  readonly onBytes: (bytes: Uint8Array, file: string) => void;
  readonly onSaid: (sentence: string) => void;
}) {
  const [isReading, setReading] = createSignal(false);
  async function read(input: HTMLInputElement): Promise<void> {
    const file = input.files?.[0];
    if (!file) return;
    if (file.size > bytesMax) props.onSaid(say`This file is too large to be a sheet.`);
    else {
      setReading(true);
      props.onBytes(new Uint8Array(await file.arrayBuffer()), file.name);
      setReading(false);
    }
    input.value = '';
  }
  return (
    <label class="bring-in-file" data-reading={isReading() ? 'yes' : 'no'}>
      {say`Bring in a sheet`}
      <Show when={isReading()}>…</Show>
      <input
        type="file"
        class="visually-hidden"
        accept=".yaml,.yml,text/yaml"
        onChange={(event) => void read(event.currentTarget)}
      />
    </label>
  );
}
