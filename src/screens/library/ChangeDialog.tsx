import { createSignal, For, Show } from 'solid-js';
import type { Sheet } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { Choices } from '#parts/Choices.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { say, sayInside } from '#words/say.ts';
import { useSession } from '../useSession.ts';
import { type ChangeKind, type ChangeSaid, changeKinds, type Target } from './changeKinds.ts';

export type ChangeDialogProps = {
  readonly sheet: Sheet;
  readonly onClose: () => void;
  /** A change that was said, and the same in a few words. Nothing is checked yet. */
  readonly onChange: (change: ChangeSaid, words: string) => void;
};

/** One simple change: what kind, of what, what is new, why, and who approves it. */
export function ChangeDialog(props: ChangeDialogProps) {
  const { session } = useSession();
  const [kind, setKind] = createSignal<ChangeKind>();
  const [target, setTarget] = createSignal<Target>();
  const [values, setValues] = createSignal<Readonly<Record<string, string>>>({});
  const value = (key: string) => values()[key] ?? '';
  const set = (key: string, text: string) => setValues({ ...values(), [key]: text });
  const choose = (one: Target | undefined) => {
    setTarget(one);
    setValues({ ...one?.now });
  };
  /** What differs from what stands there: the same words again are no change, and nobody approves them. */
  const fresh = () =>
    Object.fromEntries(
      Object.entries(values()).filter(([key, text]) => text.trim() !== target()?.now[key]),
    );
  const missing = () => {
    const fields = kind()?.fields ?? [];
    if (fields.length > 0 && fields.every(({ key }) => fresh()[key] === undefined))
      return say`Say what is new.`;
    const empty = kind()?.fields.find(({ key, isOptional }) => !isOptional && !value(key).trim());
    if (empty) return say`Say: ${sayInside(empty.label)}.`;
    const choice = kind()?.choice;
    if (choice && !value(choice.key)) return say`Say: ${sayInside(choice.label)}.`;
    if (!value('reason').trim()) return say`Say why.`;
    return value('by').trim() ? undefined : say`Say who approves it.`;
  };
  const look = () => {
    const [chosen, one] = [kind(), target()];
    if (!chosen || !one) return;
    const change = {
      ...chosen.say(one.id, fresh()),
      reason: value('reason').trim(),
      'approved-by': value('by').trim(),
      'approved-on': session.now().slice(0, 10),
    };
    props.onChange(change, `${chosen.name}: ${one.name}`);
  };
  return (
    <Dialog
      title={kind()?.name ?? say`Change something`}
      sentence={say`It is shown as a difference first, and taken into use by name. No case that is open changes.`}
      onClose={props.onClose}
      actions={
        <Show when={target()}>
          <Button kind="primary" whyNot={missing()} onPress={look}>
            {say`Look at the change`}
          </Button>
        </Show>
      }
    >
      <Show
        when={kind()}
        fallback={
          <Choices
            label={say`What is changed?`}
            choices={changeKinds().map(({ id, name }) => ({ id, name }))}
            onChoose={(id) => setKind(changeKinds().find((one) => one.id === id))}
          />
        }
      >
        {(chosen) => (
          <Show
            when={target()}
            fallback={
              <Choices
                label={chosen().id.startsWith('new') ? say`Where?` : say`Which?`}
                choices={chosen()
                  .targets(props.sheet)
                  .map(({ id, name, detail }) => ({ id, name, detail }))}
                onChoose={(id) =>
                  choose(
                    chosen()
                      .targets(props.sheet)
                      .find((one) => one.id === id),
                  )
                }
              />
            }
          >
            {(one) => <ChangeFields kind={chosen()} target={one()} value={value} onWrite={set} />}
          </Show>
        )}
      </Show>
    </Dialog>
  );
}

/** What is new, why, and who approves it. */
function ChangeFields(props: {
  readonly kind: ChangeKind;
  readonly target: Target;
  readonly value: (key: string) => string;
  readonly onWrite: (key: string, text: string) => void;
}) {
  return (
    <div class="library-fields">
      <p>
        <strong>{props.target.name}</strong> <span class="quiet">{props.target.detail}</span>
      </p>
      <For each={props.kind.fields}>
        {({ key, label, kind: field }) => (
          <Field
            kind={field}
            label={label}
            value={props.value(key)}
            onInput={(text) => props.onWrite(key, text)}
          />
        )}
      </For>
      <Show when={props.kind.choice}>
        {(choice) => (
          <Choices
            label={choice().label}
            choices={choice().words.map((word) => ({ id: word, name: word }))}
            chosen={props.value(choice().key)}
            onChoose={(word) => props.onWrite(choice().key, word)}
          />
        )}
      </Show>
      <Field
        kind="text"
        label={say`Why`}
        value={props.value('reason')}
        onInput={(text) => props.onWrite('reason', text)}
      />
      <Field
        kind="text"
        label={say`Who approves it`}
        value={props.value('by')}
        onInput={(text) => props.onWrite('by', text)}
      />
    </div>
  );
}
