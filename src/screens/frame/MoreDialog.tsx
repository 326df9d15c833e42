import { createSignal, For, Show, untrack } from 'solid-js';
import type { Command } from '#engine/case/events.ts';
import { offeredInMidCase, variantGroups } from '#engine/offered.ts';
import type { Role } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { Choices } from '#parts/Choices.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { Stepper } from '#parts/Stepper.tsx';
import { personOfBadge } from '#scan/badgeIn.ts';
import { say } from '#words/say.ts';
import { AllergyPart } from '../AllergyPart.tsx';
import { useCaseScans } from '../caseScans.ts';
import { EntriesDialog } from '../EntriesDialog.tsx';
import { useCase, useSession } from '../useSession.ts';
import { groupWords, variantWords } from '../variantGroups.ts';
import { EmergencyPart } from './EmergencyPart.tsx';
import { LossPart } from './LossPart.tsx';

type Part =
  | 'variant'
  | 'relief'
  | 'carried'
  | 'dose'
  | 'count'
  | 'loss'
  | 'allergies'
  | 'note'
  | 'entries'
  | 'emergency'
  | 'paper';

const parts = (): readonly {
  readonly id: Part;
  readonly name: string;
  readonly detail: string;
}[] => [
  { id: 'variant', name: say`Another plan`, detail: say`Other stump control, or convert to open` },
  {
    id: 'relief',
    name: say`Somebody takes over`,
    detail: say`Scrub, circulator, surgeon, anaesthetist`,
  },
  { id: 'count', name: say`Count now`, detail: say`Extra, relief, or counting in a tray` },
  {
    id: 'carried',
    name: say`Seen inside`,
    detail: say`Stones spilled, loose staples, packs from before`,
  },
  { id: 'dose', name: say`Antibiotic`, detail: say`What was given, when the next is due` },
  { id: 'loss', name: say`Blood and fluids`, detail: say`Swabs weighed, suction, irrigation` },
  { id: 'allergies', name: say`Allergies`, detail: say`What the patient reacts to` },
  { id: 'note', name: say`Note`, detail: say`A few words for the record` },
  {
    id: 'entries',
    name: say`Earlier entries`,
    detail: say`Read them, take back one that was wrong`,
  },
  { id: 'emergency', name: say`Emergency`, detail: say`No time to count` },
  { id: 'paper', name: say`On paper`, detail: say`Print the case as a form, or take one back in` },
];

const added = () => ({ id: 'add', name: say`Add to field`, detail: say`Although all is closed` });

/** What is needed now and then: another plan, a relief, a count out of turn, something seen inside. */
export function MoreDialog(props: {
  /** What happened, where that was said already. */
  readonly part?: Part | undefined;
  /** Something is opened all the same; not given where the frame has a key for it. */
  readonly onAdd?: (() => void) | undefined;
  readonly onClose: () => void;
}) {
  const { session } = useSession();
  const [part, setPart] = createSignal(untrack(() => props.part));
  const current = useCase();
  const write = async (command: Command) =>
    (await session.send(command, current().team.circulator)).ok;
  const act = async (command: Command) => {
    if (await write(command)) props.onClose();
  };
  const choose = (id: string) => {
    if (id === 'dose') session.show({ name: 'dose' });
    else if (id === 'add') props.onAdd?.();
    else setPart(parts().find((one) => one.id === id)?.id);
  };
  const title = () => parts().find((one) => one.id === part())?.name ?? say`More`;
  return (
    <Show when={part() !== 'entries'} fallback={<EntriesDialog onClose={props.onClose} />}>
      <Dialog title={title()} onClose={props.onClose}>
        <Show
          when={part()}
          fallback={
            <Choices
              label={say`What happened?`}
              choices={props.onAdd ? [...parts(), added()] : parts()}
              onChoose={choose}
            />
          }
        >
          <Show when={part() === 'variant'}>
            <VariantPart act={act} />
          </Show>
          <Show when={part() === 'relief'}>
            <ReliefPart act={act} />
          </Show>
          <Show when={part() === 'count'}>
            <CountPart onClose={props.onClose} />
          </Show>
          <Show when={part() === 'carried'}>
            <CarriedPart act={act} />
          </Show>
          <Show when={part() === 'loss'}>
            <LossPart act={act} write={write} isInOrder={props.part === 'loss'} />
          </Show>
          <Show when={part() === 'allergies'}>
            <AllergyPart act={act} mayEmpty />
          </Show>
          <Show when={part() === 'emergency'}>
            <EmergencyPart act={act} />
          </Show>
          <Show when={part() === 'paper'}>
            <PaperPart onClose={props.onClose} />
          </Show>
          <Show when={part() === 'note'}>
            <NotePart act={act} />
          </Show>
        </Show>
      </Dialog>
    </Show>
  );
}

type PartProps = { readonly act: (command: Command) => Promise<void> };

function VariantPart(props: PartProps) {
  const current = useCase();
  const sheet = () => current().sheet;
  return (
    <>
      <p class="dialog-warning">
        {say`◆ What another plan opens is on the table at once, and holds every closure until two people have
          counted it in.`}
      </p>
      <For each={variantGroups(sheet())}>
        {(group) => (
          <Choices
            label={groupWords(group)}
            isWide
            choices={offeredInMidCase(sheet(), group).map((variant) => ({
              id: variant.id,
              name: variant.name,
              detail: variantWords(sheet(), variant),
            }))}
            chosen={current().variants[group]}
            onChoose={(to) => void props.act({ type: 'variant', to })}
          />
        )}
      </For>
    </>
  );
}

const reliefRoles = (): readonly { readonly id: Role; readonly name: string }[] => [
  { id: 'scrub', name: say`Scrub` },
  { id: 'circulator', name: say`Circulator` },
  { id: 'surgeon', name: say`Surgeon` },
  { id: 'anaesthetist', name: say`Anaesthetist` },
];

function ReliefPart(props: PartProps) {
  const current = useCase();
  const [role, setRole] = createSignal<Role>('scrub');
  const [to, setTo] = createSignal('');
  const [short, setShort] = createSignal(false);
  const { state } = useSession();
  useCaseScans().take((scan) => {
    const person = personOfBadge(state().unit.people, scan);
    if (person) setTo(person.name);
    return person !== undefined;
  });
  return (
    <>
      <Choices
        label={say`Who is relieved`}
        choices={reliefRoles().map(({ id, name }) => ({ id, name, detail: current().team[id] }))}
        chosen={role()}
        onChoose={(id) => setRole(reliefRoles().find((one) => one.id === id)?.id ?? 'scrub')}
      />
      <Field kind="text" label={say`Who takes over`} value={to()} onInput={setTo} />
      <Choices
        label={say`For how long`}
        choices={[
          { id: 'stays', name: say`For good`, detail: say`A relief count is due` },
          { id: 'short', name: say`A short break`, detail: say`Noted, no count` },
        ]}
        chosen={short() ? 'short' : 'stays'}
        onChoose={(id) => setShort(id === 'short')}
      />
      <Button
        kind="primary"
        whyNot={to().trim() ? undefined : say`Say who takes over.`}
        onPress={() =>
          void props.act({ type: 'relief', role: role(), to: to().trim(), short: short() })
        }
      >
        {say`Takes over now`}
      </Button>
    </>
  );
}

function CountPart(props: { readonly onClose: () => void }) {
  const { session } = useSession();
  const current = useCase();
  const begin = (moment: string) => {
    props.onClose();
    session.show({ name: 'count', about: moment });
  };
  return (
    <div class="row">
      <Button kind="plain" onPress={() => begin('extra')}>
        {say`Extra count`}
      </Button>
      <Button
        kind="plain"
        whyNot={current().counts.reliefDue.length > 0 ? undefined : say`Nobody was relieved.`}
        onPress={() => begin('relief')}
      >
        {say`Relief count`}
      </Button>
      <Button
        kind="plain"
        whyNot={
          Object.keys(current().counts.uncounted).length > 0
            ? undefined
            : say`Nothing waits for it.`
        }
        onPress={() => begin('added')}
      >
        {say`Count in a tray`}
      </Button>
    </div>
  );
}

function CarriedPart(props: PartProps) {
  const current = useCase();
  const lines = () => current().sheet.lines.filter((line) => line.startsIn !== undefined);
  const [line, setLine] = createSignal('');
  const [n, setN] = createSignal(1);
  const [site, setSite] = createSignal(current().sheet.sites[0]?.id ?? '');
  const carry = () => {
    const isOfBefore = current().lines.get(line())?.startsIn === 'earlier-operation';
    const from = isOfBefore ? 'earlier-operation' : 'seen';
    void props.act({ type: 'carriedIn', line: line(), n: n(), site: site(), from });
  };
  return (
    <>
      <Choices
        label={say`What is inside that did not come from the table`}
        choices={lines().map(({ id, name }) => ({ id, name }))}
        chosen={line()}
        onChoose={setLine}
      />
      <Show when={current().sheet.sites.length > 1}>
        <Choices
          label={say`Where`}
          choices={current().sheet.sites.map(({ id, name }) => ({ id, name }))}
          chosen={site()}
          onChoose={setSite}
        />
      </Show>
      <Stepper label={say`How many`} value={n()} onChange={setN} />
      <Button kind="primary" whyNot={line() ? undefined : say`Say what it is.`} onPress={carry}>
        {say`Seen inside: it must come out`}
      </Button>
    </>
  );
}

/** The case as a form to go on with by hand, and what was written on one meanwhile. */
function PaperPart(props: { readonly onClose: () => void }) {
  const { session } = useSession();
  const takeBack = () => {
    session.markFromPaper(true);
    props.onClose();
  };
  return (
    <Choices
      label={say`What is wanted?`}
      choices={[
        { id: 'print', name: say`Print this case`, detail: say`To go on by hand` },
        {
          id: 'back',
          name: say`Type in what is on paper`,
          detail: say`Each entry says “from paper”`,
        },
      ]}
      onChoose={(id) => (id === 'print' ? session.show({ name: 'paper' }) : takeBack())}
    />
  );
}

function NotePart(props: PartProps) {
  const [text, setText] = createSignal('');
  return (
    <>
      <Field kind="text" label={say`Note`} value={text()} onInput={setText} />
      <Button
        kind="primary"
        whyNot={text().trim() ? undefined : say`Write something first.`}
        onPress={() => void props.act({ type: 'note', text: text().trim() })}
      >
        {say`Write it down`}
      </Button>
    </>
  );
}
