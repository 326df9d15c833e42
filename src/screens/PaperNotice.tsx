import { Show } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { Mark } from '#parts/Mark.tsx';
import '#parts/Notice.css';
import { isFromPaper } from '#session/core.ts';
import { useSession } from './useSession.ts';

/** The paper of this case is being typed in, until somebody says that this was all. */
export function PaperNotice() {
  const { session, state } = useSession();
  return (
    <Show when={isFromPaper(state())}>
      <div class="notice" data-kind="said" role="status">
        <span class="notice-mark">
          <Mark shape="held" />
        </span>
        <p class="notice-words">
          <strong>From paper.</strong> Every entry is now marked so, with the time of typing.{' '}
          <span class="notice-do">Write a time that is on the paper into a note.</span>
        </p>
        <Button kind="plain" onPress={() => session.markFromPaper(false)}>
          That was all
        </Button>
      </div>
    </Show>
  );
}
