import { Show } from 'solid-js';
import { say } from '#words/say.ts';
import { Button } from './Button.tsx';
import { Mark } from './Mark.tsx';
import './Notice.css';

export type NoticeProps = {
  /** `refused`: the rules say no. `failed`: the device says no. `said`: worth knowing. */
  readonly kind: 'refused' | 'failed' | 'said';
  /** What is so. */
  readonly sentence: string;
  /** What to do about it. */
  readonly whatToDo?: string | undefined;
  readonly onDismiss: () => void;
};

const words = () =>
  ({ refused: say`Not entered.`, failed: say`Not saved.`, said: say`Note.` }) as const;

/** Says why an entry was not made. It stays until it is dismissed or the next entry is made. */
export function Notice(props: NoticeProps) {
  return (
    <div class="notice" data-kind={props.kind} role="alert">
      <span class="notice-mark">
        <Mark shape={props.kind === 'failed' ? 'missing' : 'held'} />
      </span>
      <p class="notice-words">
        <strong>{words()[props.kind]}</strong> {props.sentence}{' '}
        <Show when={props.whatToDo}>
          <span class="notice-do">{props.whatToDo}</span>
        </Show>
      </p>
      <Button kind="plain" onPress={() => props.onDismiss()}>
        {say`Understood`}
      </Button>
    </div>
  );
}
