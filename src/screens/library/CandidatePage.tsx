import { createSignal, For, Show } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { Field } from '#parts/Field.tsx';
import { Scroller } from '#parts/Scroller.tsx';
import type { Candidate } from '#session/sheetLibrary.ts';
import { say } from '#words/say.ts';

type Good = Extract<Candidate, { ok: true }>;
type Bad = Extract<Candidate, { ok: false }>;

export type CandidatePageProps = {
  readonly candidate: Candidate;
  /** People are set up: one of them confirms with a PIN, so that no name is typed. */
  readonly asksPin: boolean;
  /** Why it was not taken into use. */
  readonly said: string | undefined;
  readonly onBack: () => void;
  readonly onTake: (candidate: Good, by: string) => Promise<void>;
};

/** What was read, before anything comes of it: every mistake, or every difference and who takes it into use. */
export function CandidatePage(props: CandidatePageProps) {
  const [by, setBy] = createSignal('');
  const good = () => (props.candidate.ok ? props.candidate : undefined);
  const bad = () => (props.candidate.ok ? undefined : props.candidate);
  return (
    <div class="library">
      <header class="library-head">
        <h1>{good()?.sheet.title ?? say`This sheet is refused`}</h1>
        <p class="quiet">
          {good() ? fromWords(good()) : say`Nothing was changed. From ${bad()?.file}.`}
        </p>
      </header>
      <main class="library-main">
        <Scroller>
          <Show when={props.said}>
            <p class="said-line" data-tone="missing" role="alert">
              ▲ {props.said}
            </p>
          </Show>
          <Show when={good()}>{(candidate) => <Differences candidate={candidate()} />}</Show>
          <Show when={bad()}>{(candidate) => <Mistakes candidate={candidate()} />}</Show>
        </Scroller>
      </main>
      <footer class="library-foot">
        <Button kind="plain" onPress={props.onBack}>
          {say`Leave it`}
        </Button>
        <span class="library-gap" />
        <Show when={good()}>
          {(candidate) => (
            <>
              <Show when={!props.asksPin}>
                <Field
                  kind="text"
                  label={say`Who takes it into use`}
                  value={by()}
                  onInput={setBy}
                />
              </Show>
              <Button
                kind="primary"
                size={112}
                whyNot={
                  !props.asksPin && by().trim() === '' ? say`Say who takes it into use.` : undefined
                }
                onPress={() => void props.onTake(candidate(), by())}
              >
                {say`Take into use`}
              </Button>
            </>
          )}
        </Show>
      </footer>
    </div>
  );
}

function fromWords(candidate: Good | undefined): string {
  if (!candidate) return '';
  const { sheet, from, replaces } = candidate;
  const instead = replaces === undefined ? say`A new sheet` : say`In place of: ${replaces}`;
  return say`${instead}. Revised ${sheet.version}. From: ${from}.`;
}

function Differences(props: { readonly candidate: Good }) {
  return (
    <>
      <Show
        when={props.candidate.replaces !== undefined && props.candidate.differences.length === 0}
      >
        <p class="said-line">{say`It says the same as the sheet that is in use.`}</p>
      </Show>
      <For each={props.candidate.differences}>
        {({ heading, sentences }) => (
          <section class="library-part">
            <h2>{heading}</h2>
            <ul class="plain-list">
              <For each={sentences}>{(sentence) => <li>{sentence}</li>}</For>
            </ul>
          </section>
        )}
      </For>
      <Show when={props.candidate.notes.length > 0}>
        <section class="library-part">
          <h2>{say`Allowed, and good to know`}</h2>
          <ul class="plain-list">
            <For each={props.candidate.notes}>{(note) => <li>{note}</li>}</For>
          </ul>
        </section>
      </Show>
      <p class="library-caution">
        {say`Two people who know the operation look at every difference. The sheet is an aid: local policy and
          licensed practitioners decide what is counted and asked.`}
      </p>
    </>
  );
}

function Mistakes(props: { readonly candidate: Bad }) {
  const words = () => {
    const n = props.candidate.mistakes.length;
    return n === 1 ? '1 mistake' : say`${n} mistakes`;
  };
  return (
    <>
      <p class="said-line" data-tone="missing" role="alert">
        {say`▲ ${words()}. A sheet with a mistake is refused whole, and the old one stays in use.`}
      </p>
      <ul class="library-mistakes">
        <For each={props.candidate.mistakes}>
          {({ message, way }) => (
            <li>
              {message}
              <Show when={way.length > 0}>
                <p>{say`The shortest way there, as the steps of a case:`}</p>
                <ol class="library-way">
                  <For each={way}>{(step) => <li>{step}</li>}</For>
                </ol>
              </Show>
            </li>
          )}
        </For>
      </ul>
    </>
  );
}
