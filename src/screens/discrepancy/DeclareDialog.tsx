import { createSignal, For, Show } from 'solid-js';
import { at } from '#engine/ledger.ts';
import { inSite, type Place } from '#engine/places.ts';
import { placeWords } from '#engine/placeWords.ts';
import type { Line } from '#engine/sheet.ts';
import type { Differing } from '#engine/state.ts';
import { Button } from '#parts/Button.tsx';
import { Choices } from '#parts/Choices.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { Field } from '#parts/Field.tsx';
import { say, sayOf } from '#words/say.ts';
import { useCase, useSession } from '../useSession.ts';

export type DeclareDialogProps = {
  readonly line: Line;
  readonly open: Differing;
  readonly kind: 'declare' | 'amend';
  readonly onClose: () => void;
};

const amendWords = () =>
  say`Only where an addition or a first count was not recorded rightly. Two recounts in a row must agree afterwards.`;
const declareWords = () =>
  say`The case ends as not reconciled, on every page of the record. The patient is told as your policy says.`;

/** Declared by the surgeon and one other, or amended by three, with the reason in writing. */
export function DeclareDialog(props: DeclareDialogProps) {
  const { session } = useSession();
  const current = useCase();
  const [reason, setReason] = createSignal('');
  const [agreed, setAgreed] = createSignal<readonly string[]>([]);
  const origins = (): readonly Place[] => {
    const sites = current().sheet.sites.map((site) => inSite(site.id));
    return (['table', ...sites, 'off'] as const).filter(
      (place) => at(current().ledger, props.line.id, place) > 0,
    );
  };
  const [from, setFrom] = createSignal<string>(origins()[0] ?? 'table');
  const people = () =>
    props.kind === 'amend'
      ? (['scrub', 'circulator', 'surgeon'] as const)
      : (['surgeon', 'circulator'] as const);
  const isReady = () => reason().trim() !== '' && people().every((one) => agreed().includes(one));
  const send = async () => {
    const n = Math.abs(props.open.difference);
    const said = { line: props.line.id, n, reason: reason().trim(), by: people() };
    const outcome =
      props.kind === 'amend'
        ? await session.send({ type: 'amend', ...said }, 'surgeon')
        : await session.send({ type: 'declare', ...said, from: from() }, 'surgeon');
    props.onClose();
    if (outcome.ok)
      session.show(props.kind === 'amend' ? { name: 'recount' } : { name: 'frame' }, 'go-on');
  };
  return (
    <Dialog
      title={props.kind === 'amend' ? say`Amend the baseline` : say`Declare unaccounted for`}
      onClose={props.onClose}
      actions={
        <Button
          kind="danger"
          size={112}
          whyNot={isReady() ? undefined : say`Give the reason; everyone named must agree.`}
          onPress={() => void send()}
        >
          {props.kind === 'amend' ? say`Amend it` : say`Declare it`}
        </Button>
      }
    >
      <p class="dialog-warning">◆ {props.kind === 'amend' ? amendWords() : declareWords()}</p>
      <Show when={props.kind === 'declare' && origins().length > 1}>
        <Choices
          label={say`Where the record still has it`}
          choices={origins().map((one) => ({ id: one, name: placeWords(current(), one) }))}
          chosen={from()}
          onChoose={setFrom}
        />
      </Show>
      <Field kind="text" label={say`Reason`} value={reason()} onInput={setReason} />
      <div class="row">
        <For each={people()}>
          {(role) => (
            <Button
              kind="plain"
              isPressed={agreed().includes(role)}
              onPress={() =>
                setAgreed(
                  agreed().includes(role)
                    ? agreed().filter((one) => one !== role)
                    : [...agreed(), role],
                )
              }
            >
              {say`${agreed().includes(role) ? '✓ ' : ''}${current().team[role]} (${sayOf(role)}) agrees`}
            </Button>
          )}
        </For>
      </div>
    </Dialog>
  );
}
