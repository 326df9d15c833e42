import { createMemo, For, Show } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { Headline } from '#parts/Headline.tsx';
import { Scroller } from '#parts/Scroller.tsx';
import { debriefOf, type Finding } from '#practice/debrief.ts';
import type { Followed } from '#practice/followed.ts';
import { say } from '#words/say.ts';
import { useSession } from '../useSession.ts';
import { createPractice, type LoadScripts } from './createPractice.ts';
import './DebriefScreen.css';

/** What was caught and what was missed, at the end of a practice case. */
export function DebriefScreen(props: { readonly load: LoadScripts }) {
  const practice = createPractice(() => props.load());
  return (
    <Show when={practice()} fallback={<NoGuide />}>
      {(now) => <Debrief now={now()} />}
    </Show>
  );
}

/** A case that somebody opened as practice by hand, or of an older version. */
function NoGuide() {
  const { session } = useSession();
  return (
    <div class="plain-screen">
      <h1>{say`Nothing is told of this practice case`}</h1>
      <p>{say`It was not one of the guided ones. Its record is there to be read.`}</p>
      <Button kind="primary" onPress={() => session.show({ name: 'record' })}>
        {say`Read the record`}
      </Button>
    </div>
  );
}

function Debrief(props: { readonly now: Followed }) {
  const { session } = useSession();
  const debrief = createMemo(() => debriefOf(props.now));
  const of = (tone: Finding['tone']) => debrief().findings.filter((one) => one.tone === tone);
  const patient = () => props.now.script.patient;
  return (
    <div class="debrief">
      <header class="debrief-head">
        <p class="quiet">
          <strong>{say`Practice case`}</strong> · {patient().name} ·{' '}
          <span class="digits-type">{patient().number}</span> {say`· nobody was operated on`}
        </p>
        <Headline
          words={debrief().headline}
          tone={of('missed').length > 0 ? 'missing' : 'agreed'}
        />
      </header>
      <main class="debrief-main">
        <Scroller>
          <div class="debrief-found">
            <Show when={debrief().happened.length > 0}>
              <section class="findings" data-tone="happened">
                <h2>{say`What really happened`}</h2>
                <ul>
                  <For each={debrief().happened}>{(sentence) => <li>{sentence}</li>}</For>
                </ul>
              </section>
            </Show>
            <Findings title={say`Missed`} mark="▲" tone="missed" findings={of('missed')} />
            <Findings title={say`Caught`} mark="✓" tone="caught" findings={of('caught')} />
            <p class="quiet">{say`The record says: ${debrief().verdict}`}</p>
          </div>
        </Scroller>
      </main>
      <footer class="debrief-foot">
        <Button kind="plain" onPress={() => session.show({ name: 'record' })}>
          {say`Read the record`}
        </Button>
        <Button kind="primary" size={112} onPress={() => void session.go({ screen: 'start' })}>
          {say`Back to the start`}
        </Button>
      </footer>
    </div>
  );
}

function Findings(props: {
  readonly title: string;
  readonly mark: string;
  readonly tone: Finding['tone'];
  readonly findings: readonly Finding[];
}) {
  return (
    <Show when={props.findings.length > 0}>
      <section class="findings" data-tone={props.tone}>
        <h2>
          <span aria-hidden="true">{props.mark}</span> {props.title}
        </h2>
        <ul>
          <For each={props.findings}>{(finding) => <li>{finding.sentence}</li>}</For>
        </ul>
      </section>
    </Show>
  );
}
