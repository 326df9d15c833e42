import { createSignal, For, Match, Show, Switch } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { Scroller } from '#parts/Scroller.tsx';
import { useSession } from '../useSession.ts';
import { AddPerson } from './AddPerson.tsx';
import { KeptCases } from './KeptCases.tsx';
import { OpenByCode, ShowCode } from './PaperCode.tsx';
import { ResetPin } from './ResetPin.tsx';
import './people.css';

type Asked = 'add' | 'reset' | 'code';

/** The people of the unit, their PINs, and how cases are kept on this tablet. */
export function PeopleScreen() {
  const { session, state } = useSession();
  const [asked, setAsked] = createSignal<Asked>();
  const [code, setCode] = createSignal<string>();
  const stage = () => state().unit.stage;
  const close = () => setAsked(undefined);
  return (
    <div class="start">
      <header class="start-head">
        <h1>People of this unit</h1>
        <p class="quiet">{stageWords[stage()]}</p>
      </header>
      <main class="start-main">
        <Scroller>
          <PeopleList />
          <Show when={stage() === 'open'}>
            <KeptCases />
          </Show>
        </Scroller>
      </main>
      <footer class="start-foot">
        <Button kind="plain" onPress={() => void session.go({ screen: 'start' })}>
          Back
        </Button>
        <Show when={stage() === 'locked' || stage() === 'lost'}>
          <Button kind="plain" onPress={() => setAsked('code')}>
            Code on paper…
          </Button>
        </Show>
        <Show when={stage() === 'locked'}>
          <Button kind="primary" onPress={() => void session.confirm('Unlock the tablet')}>
            Unlock
          </Button>
        </Show>
        <Show when={stage() === 'locked' || stage() === 'open'}>
          <Button kind="plain" onPress={() => setAsked('reset')}>
            A PIN is lost…
          </Button>
        </Show>
        <Show when={stage() === 'open'}>
          <Button kind="plain" onPress={session.lock}>
            Lock now
          </Button>
        </Show>
        <Show when={stage() === 'open' || stage() === 'none'}>
          <Button kind="primary" onPress={() => setAsked('add')}>
            {stage() === 'none' ? 'Set up the first person' : 'Add a person'}
          </Button>
        </Show>
      </footer>
      <Switch>
        <Match when={code()}>
          {(shown) => <ShowCode code={shown()} onClose={() => setCode(undefined)} />}
        </Match>
        <Match when={asked() === 'add'}>
          <AddPerson onClose={close} onCode={setCode} />
        </Match>
        <Match when={asked() === 'reset'}>
          <ResetPin onClose={close} />
        </Match>
        <Match when={asked() === 'code'}>
          <OpenByCode onClose={close} />
        </Match>
      </Switch>
    </div>
  );
}

const stageWords = {
  none: 'Nobody is set up: this tablet asks nobody for a PIN and keeps cases unencrypted.',
  locked: 'Locked. Cases in progress go on; everything else needs a PIN.',
  open: 'Open, by a PIN. It locks itself when nobody touches it.',
  lost: 'This tablet has lost its own key. The code on paper brings it back, then everybody chooses a new PIN.',
} as const;

function PeopleList() {
  const { session, state } = useSession();
  const people = () => state().unit.people;
  return (
    <Show
      when={people().length > 0}
      fallback={
        <ul class="plain-list">
          <li>People are chosen by a tap and confirm with a PIN of their own where it matters.</li>
          <li>Cases that begin from then on are encrypted on this tablet.</li>
          <li>Set up at least three: a lost PIN is reset by two others.</li>
          <li>Have paper and a pen ready for the tablet's code.</li>
        </ul>
      }
    >
      <ul class="people-list">
        <For each={people()}>
          {(one) => (
            <li>
              <strong>{one.name}</strong>
              <span class="quiet">{one.roles.join(', ')}</span>
              <Show when={one.digits === 0}>
                <span class="people-due">needs a new PIN</span>
              </Show>
              <Show when={state().unit.stage === 'open'}>
                <Button kind="quiet" onPress={() => void session.people.leave(one.id)}>
                  Take off the list
                </Button>
              </Show>
            </li>
          )}
        </For>
      </ul>
    </Show>
  );
}
