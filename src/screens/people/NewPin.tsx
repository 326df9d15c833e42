import { createSignal, Show } from 'solid-js';
import { PinPad } from '#parts/PinPad.tsx';
import { say } from '#words/say.ts';

/** A PIN is chosen, and given a second time, so that nobody is shut out by a slip. */
export function NewPin(props: {
  readonly name: string;
  readonly isBusy: boolean;
  readonly said: string | undefined;
  readonly onPin: (pin: string) => void;
}) {
  const [first, setFirst] = createSignal<string>();
  const [differed, setDiffered] = createSignal(false);
  const second = (pin: string) => {
    const same = pin === first();
    setFirst(undefined);
    setDiffered(!same);
    if (same) props.onPin(pin);
  };
  return (
    <Show
      when={first() !== undefined}
      fallback={
        <PinPad
          label={say`${props.name} chooses a PIN: 4 to 8 digits`}
          isBusy={props.isBusy}
          said={differed() ? say`The two were not the same. Choose again.` : props.said}
          onPin={(pin) => {
            setDiffered(false);
            setFirst(pin);
          }}
        />
      }
    >
      <PinPad
        label={say`The same PIN again, ${props.name}`}
        digits={first()?.length}
        onPin={second}
      />
    </Show>
  );
}
