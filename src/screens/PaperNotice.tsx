import { createSignal, Show } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { Field } from '#parts/Field.tsx';
import { Mark } from '#parts/Mark.tsx';
import { say } from '#words/say.ts';
import '#parts/Notice.css';
import { isFromPaper } from '#session/core.ts';
import './PaperNotice.css';
import { useSession } from './useSession.ts';

/** The paper of this case is being typed in, until somebody says that this was all. It asks for the time on it. */
export function PaperNotice() {
  const { session, state } = useSession();
  return (
    <Show when={isFromPaper(state())}>
      <div class="notice paper-notice" data-kind="said">
        <span class="notice-mark">
          <Mark shape="held" />
        </span>
        <TimeOnPaper />
        <Button kind="plain" onPress={() => session.markFromPaper(false)}>
          {say`That was all`}
        </Button>
      </div>
    </Show>
  );
}

function TimeOnPaper() {
  const { session, state } = useSession();
  const [typed, setTyped] = createSignal('');
  const time = () => state().paperTime;
  const said = () => {
    if (time() === 'none') return say`Entries say “from paper”, with the time of typing alone.`;
    const at = time()?.slice(11, 16);
    return at
      ? say`Entries now carry ${at} of the paper beside the time of typing.`
      : say`Each entry needs the time that stands beside it on the paper.`;
  };
  const write = (text: string) => {
    setTyped(text);
    session.sayPaperTime(text);
  };
  const sayNone = () => {
    setTyped('');
    session.sayPaperTime('none');
  };
  return (
    <>
      <p class="notice-words" role="status">
        <strong>{say`From paper.`}</strong> {said()}
      </p>
      <Field kind="time" label={say`Time on the paper`} value={typed()} onInput={write} />
      <Button kind="plain" isPressed={time() === 'none'} onPress={sayNone}>
        {say`It has no time`}
      </Button>
    </>
  );
}
