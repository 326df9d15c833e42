import { createMemo, Match, Show, Switch } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { Pieces } from '#parts/Pieces.tsx';
import type { Followed } from '#practice/followed.ts';
import { newLabelNote } from '#practice/slips.ts';
import { type Hand, liesThere, told } from '#practice/told.ts';
import { say } from '#words/say.ts';
import { useSession } from '../useSession.ts';
import { createPractice, type LoadScripts } from './createPractice.ts';
import './Coach.css';

/**
 * The practice stands above the tablet, and the tablet below is as it always is. It says what to do next, shows
 * what lies in front of the two people, and never says what is missing.
 */
export function Coach(props: { readonly load: LoadScripts }) {
  const practice = createPractice(() => props.load());
  return <Show when={practice()}>{(now) => <Strip now={now()} />}</Show>;
}

function Strip(props: { readonly now: Followed }) {
  const { session, asked } = useSession();
  const said = createMemo(() => told(props.now));
  const isAsked = () => said().id === 'counting' || said().id.startsWith('recount/');
  const isAgreed = () => said().id === 'counting' && asked() === undefined;
  return (
    <section class="coach" aria-label={say`Practice`}>
      <div class="coach-words">
        <p class="coach-mark">
          {say`Practice`}
          <span class="digits-type">
            {said().done} / {said().of}
          </span>
        </p>
        <div role="status">
          <p class="coach-do">
            {isAgreed() ? say`All is counted. Now both of you agree, by name.` : said().do}
          </p>
          <Show when={!isAgreed() && said().why}>
            <p class="coach-why">{said().why}</p>
          </Show>
        </div>
      </div>
      <Switch>
        <Match when={said().isOver}>
          <div class="coach-hand">
            <Button kind="primary" onPress={() => session.show({ name: 'debrief' })}>
              {say`What was caught`}
            </Button>
          </div>
        </Match>
        <Match when={(isAsked() || asked()) && asked()}>
          {(line) => (
            <div class="coach-hand">
              <Table now={props.now} line={line()} />
            </div>
          )}
        </Match>
        <Match when={said().hand}>
          {(hand) => (
            <div class="coach-hand">
              <InHand hand={hand()} />
            </div>
          )}
        </Match>
      </Switch>
    </section>
  );
}

type AskedLine = NonNullable<ReturnType<ReturnType<typeof useSession>['asked']>>;

/** What lies in front of the two people, of the line that is counted now. */
function Table(props: { readonly now: Followed; readonly line: AskedLine }) {
  const known = () => props.now.current?.lines.get(props.line.line);
  const where = () => (props.line.part === 'off' ? say`off the field` : say`field and table`);
  return (
    <Pieces
      label={`${known()?.name ?? ''}, ${where()}`}
      kind={known()?.class ?? 'small'}
      pieces={liesThere(props.now, props.line)}
    />
  );
}

function InHand(props: { readonly hand: Hand }) {
  const { session } = useSession();
  const destroy = () => void session.send({ type: 'note', text: newLabelNote }, 'circulator');
  return (
    <Switch>
      <Match when={props.hand.kind === 'pack' && props.hand}>
        {(pack) => (
          <Pieces
            label={say`The pack in your hand: ${pack().name}`}
            kind="swab"
            pieces={pack().pieces}
          />
        )}
      </Match>
      <Match when={props.hand.kind === 'label' && props.hand}>
        {(label) => (
          <>
            <div class="coach-label" role="img" aria-label={label().says.join(', ')}>
              {label().says.map((line) => (
                <span>{line}</span>
              ))}
            </div>
            <Button kind="plain" onPress={destroy}>
              {say`Destroy it, print a new one`}
            </Button>
          </>
        )}
      </Match>
    </Switch>
  );
}
