import { createSignal, Show } from 'solid-js';
import { at } from '#engine/ledger.ts';
import { inSite, type Place } from '#engine/places.ts';
import { placeWords } from '#engine/placeWords.ts';
import type { Line } from '#engine/sheet.ts';
import { Button } from '#parts/Button.tsx';
import { Choices } from '#parts/Choices.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { say } from '#words/say.ts';
import { useCase, useSession } from '../useSession.ts';

/** It is found: where the record had it, and where it is now. */
export function FoundDialog(props: { readonly line: Line; readonly onClose: () => void }) {
  const { session } = useSession();
  const current = useCase();
  const sites = () => current().sheet.sites.map((site) => inSite(site.id));
  const origins = (): readonly Place[] =>
    (['table', ...sites(), 'off'] as const).filter(
      (place) => at(current().ledger, props.line.id, place) > 0,
    );
  const [from, setFrom] = createSignal<string>(origins()[0] ?? 'table');
  const [place, setPlace] = createSignal<string>('off');
  const found = async () => {
    await session.send({
      type: 'discrepancy',
      line: props.line.id,
      step: 'found',
      from: from(),
      place: place(),
    });
    props.onClose();
    session.show({ name: 'recount' });
  };
  return (
    <Dialog
      title={say`${props.line.name}: found`}
      onClose={props.onClose}
      actions={
        <Button kind="primary" onPress={() => void found()}>
          {say`Found. Count it again`}
        </Button>
      }
    >
      <Show when={origins().length > 1}>
        <Choices
          label={say`Where the record still has it`}
          choices={origins().map((one) => ({ id: one, name: placeWords(current(), one) }))}
          chosen={from()}
          onChoose={setFrom}
        />
      </Show>
      <Choices
        label={say`Where it is now`}
        choices={[
          { id: 'off', name: say`Off the field`, detail: say`Bagged or boxed, kept in the room` },
          { id: 'table', name: say`On the table` },
        ]}
        chosen={place()}
        onChoose={setPlace}
      />
    </Dialog>
  );
}
