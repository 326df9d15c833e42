import { createSignal, For, Match, Show, Switch } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { Scroller } from '#parts/Scroller.tsx';
import { say } from '#words/say.ts';
import { useSession } from '../useSession.ts';
import { AddPerson } from './AddPerson.tsx';
import { KeptCases } from './KeptCases.tsx';
import { OpenByCode, ShowCode } from './PaperCode.tsx';
import { ProveScanner } from './ProveScanner.tsx';
import { ResetPin } from './ResetPin.tsx';
import { SetBadge } from './SetBadge.tsx';
import './people.css';

type Asked = 'add' | 'reset' | 'code' | 'scanner';

/** The people of the unit, their PINs, and how cases are kept on this tablet. */
export function PeopleScreen() {
  const { session, state } = useSession();
  const [asked, setAsked] = createSignal<Asked>();
  const [code, setCode] = createSignal<string>();
  const [signedAs, setSignedAs] = createSignal<string>();
  void session.signedAs().then(setSignedAs);
  const stage = () => state().unit.stage;
  const close = () => setAsked(undefined);
  return (
    <div class="start">
      <header class="start-head">
        <h1>{say`People of this unit`}</h1>
        <p class="quiet">{stageWords()[stage()]}</p>
        <Show when={signedAs()}>
          {(key) => (
            <p class="quiet">
              {say`Records that leave this tablet are signed with the key ${key()}.`}
            </p>
          )}
        </Show>
      </header>
      <main class="start-main">
        <Scroller>
          <PeopleList />
          <section class="people-part">
            <h2>{say`Scanner`}</h2>
            <div class="row">
              <Button kind="plain" onPress={() => setAsked('scanner')}>
                {say`Prove the scanner…`}
              </Button>
              <p class="quiet">
                {say`One set wrong runs lot and serial number together, and nobody sees it.`}
              </p>
            </div>
          </section>
          <Show when={stage() === 'open'}>
            <KeptCases />
          </Show>
        </Scroller>
      </main>
      <footer class="start-foot">
        <Button kind="plain" onPress={() => void session.go({ screen: 'start' })}>
          {say`Back`}
        </Button>
        <Show when={stage() === 'locked' || stage() === 'lost'}>
          <Button kind="plain" onPress={() => setAsked('code')}>
            {say`Code on paper…`}
          </Button>
        </Show>
        <Show when={stage() === 'locked'}>
          <Button kind="primary" onPress={() => void session.confirm(say`Unlock the tablet`)}>
            {say`Unlock`}
          </Button>
        </Show>
        <Show when={stage() === 'locked' || stage() === 'open'}>
          <Button kind="plain" onPress={() => setAsked('reset')}>
            {say`A PIN is lost…`}
          </Button>
        </Show>
        <Show when={stage() === 'open'}>
          <Button kind="plain" onPress={session.lock}>
            {say`Lock now`}
          </Button>
        </Show>
        <Show when={stage() === 'open' || stage() === 'none'}>
          <Button kind="primary" onPress={() => setAsked('add')}>
            {stage() === 'none' ? say`Set up the first person` : say`Add a person`}
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
        <Match when={asked() === 'scanner'}>
          <ProveScanner onClose={close} />
        </Match>
        <Match when={asked() === 'code'}>
          <OpenByCode onClose={close} />
        </Match>
      </Switch>
    </div>
  );
}

const stageWords = () =>
  ({
    none: say`Nobody is set up: this tablet asks nobody for a PIN and keeps cases unencrypted.`,
    locked: say`Locked. Cases in progress go on; everything else needs a PIN.`,
    open: say`Open, by a PIN. It locks itself when nobody touches it.`,
    lost: say`This tablet has lost its own key. The code on paper brings it back, then everybody chooses a new PIN.`,
  }) as const;

function PeopleList() {
  const { session, state } = useSession();
  const people = () => state().unit.people;
  const [badgeOf, setBadgeOf] = createSignal<{ readonly id: string; readonly name: string }>();
  return (
    <Show
      when={people().length > 0}
      fallback={
        <ul class="plain-list">
          <li>{say`People are chosen by a tap and confirm with a PIN of their own where it matters.`}</li>
          <li>{say`Cases that begin from then on are encrypted on this tablet.`}</li>
          <li>{say`Set up at least three: a lost PIN is reset by two others.`}</li>
          <li>{say`Have paper and a pen ready for the tablet's code.`}</li>
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
                <span class="people-due">{say`needs a new PIN`}</span>
              </Show>
              <Show when={one.badge}>
                <span class="quiet">{say`badge known`}</span>
              </Show>
              <Show when={state().unit.stage === 'open'}>
                <Button kind="quiet" onPress={() => setBadgeOf(one)}>
                  {one.badge ? say`Another badge…` : say`Badge…`}
                </Button>
                <Button kind="quiet" onPress={() => void session.people.leave(one.id)}>
                  {say`Take off the list`}
                </Button>
              </Show>
            </li>
          )}
        </For>
      </ul>
      <Show when={badgeOf()} keyed>
        {(one) => (
          <SetBadge person={one.id} name={one.name} onClose={() => setBadgeOf(undefined)} />
        )}
      </Show>
    </Show>
  );
}
