import { For, Show } from 'solid-js';
import { Facts } from '#parts/Facts.tsx';
import type { Pack } from '#scan/packOf.ts';
import { say } from '#words/say.ts';
import '../scans.css';

export type SeenPacksProps = {
  readonly packs: readonly Pack[];
  /** What the last scan said. */
  readonly said: string | undefined;
  /** Nobody knows yet which line it is. */
  readonly isAsked: boolean;
};

/** The packs that were scanned, as their codes say it: compared with the packs in hand by two people. */
export function SeenPacks(props: SeenPacksProps) {
  return (
    <>
      <Show when={props.said}>
        {(said) => (
          <p class="start-report" role="alert">
            ▲ {said()}
          </p>
        )}
      </Show>
      <For each={props.packs}>
        {(pack) => (
          <div class="seen-pack">
            <Facts facts={factsOf(pack)} />
            <p class="seen-pack-code digits-type">{pack.words}</p>
          </div>
        )}
      </For>
      <Show when={props.packs.length > 0 && props.isAsked}>
        <p class="dialog-warning">
          {say`◆ The sheet does not know the number of this pack. Which line is it? That is remembered for this case.`}
        </p>
      </Show>
    </>
  );
}

function factsOf({ lot, serial, expires }: Pack) {
  const facts = [
    { name: say`Lot`, value: lot ?? say`not said in the code` },
    ...(serial === undefined ? [] : [{ name: say`Serial number`, value: serial }]),
  ];
  if (!expires)
    return [...facts, { name: say`Expires`, value: say`not said in the code: read the pack` }];
  const month = expires.isMonthOnly ? say` (the end of the month)` : '';
  return [...facts, { name: say`Expires`, value: `${expires.date}${month}` }];
}
