import { Show } from 'solid-js';
import { Mark } from '#parts/Mark.tsx';
import { HeedKey } from '#parts/Notice.tsx';
import { say } from '#words/say.ts';
import { useSession } from './useSession.ts';

/** What the tablet says of itself: it will sleep, its battery is low, its clock was set back. One at a time. */
export function DeviceNotice() {
  const { session, state } = useSession();
  return (
    <Show when={state().device[0]} keyed>
      {({ code, sentence }) => (
        <div class="notice" data-kind="said" data-device={code} role="status">
          <span class="notice-mark">
            <Mark shape="held" />
          </span>
          <p class="notice-words">
            <strong>{say`Note.`}</strong> {sentence}
          </p>
          <HeedKey sentence={sentence} onPress={() => session.heed(code)} />
        </div>
      )}
    </Show>
  );
}
