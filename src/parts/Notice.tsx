import { createComputed, on, Show } from 'solid-js';
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
      <HeedKey sentence={props.sentence} onPress={() => props.onDismiss()} />
    </div>
  );
}

/** A finger on its way when a notice comes is meant for what lay there. Units: milliseconds. Our choice, no source. */
const unreadMs = 600;

/** Puts a notice away, but not before anybody can have seen that it is there, or that it says something else. */
export function HeedKey(props: { readonly sentence: string; readonly onPress: () => void }) {
  let cameAt = 0;
  createComputed(
    on(
      () => props.sentence,
      () => {
        cameAt = performance.now();
      },
    ),
  );
  const heed = () => {
    if (performance.now() - cameAt >= unreadMs) props.onPress();
  };
  return (
    <Button kind="plain" onPress={heed}>
      {say`Understood`}
    </Button>
  );
}
