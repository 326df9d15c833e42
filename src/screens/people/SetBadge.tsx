import { createSignal, Show } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { badgeIn } from '#scan/badgeIn.ts';
import { readScan } from '#scan/readScan.ts';
import { say } from '#words/say.ts';
import { useSession } from '../useSession.ts';
import '../scans.css';

export type SetBadgeProps = {
  readonly person: string;
  readonly name: string;
  readonly onClose: () => void;
};

/** A badge is scanned once, so that it says who somebody is from then on. It never stands for a PIN. */
export function SetBadge(props: SetBadgeProps) {
  const { session, scans } = useSession();
  const [badge, setBadge] = createSignal<string>();
  const [said, setSaid] = createSignal<string>();
  scans.take((text) => {
    const read = badgeIn(readScan(text, session.now()));
    setBadge(read);
    setSaid(read === undefined ? say`That is no badge that can be read here.` : undefined);
    return true;
  });
  const keep = async (number: string) => {
    const done = await session.people.setBadge(props.person, number);
    if (done.ok) props.onClose();
    else setSaid(done.sentence);
  };
  return (
    <Dialog
      title={say`Badge of ${props.name}`}
      sentence={say`Scan it. It says who somebody is; the PIN is still asked where it matters.`}
      onClose={props.onClose}
      actions={
        <Show when={badge()}>
          {(number) => (
            <Button kind="primary" onPress={() => void keep(number())}>
              {say`Keep it for ${props.name}`}
            </Button>
          )}
        </Show>
      }
    >
      <p class="scan-said" role="status">
        {badge() ?? say`Nothing was scanned yet.`}
      </p>
      <Show when={said()}>
        {(sentence) => (
          <p class="start-report" role="alert">
            ▲ {sentence()}
          </p>
        )}
      </Show>
    </Dialog>
  );
}
