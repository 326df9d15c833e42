import { Show } from 'solid-js';
import './Headline.css';

export type HeadlineProps = {
  /** A few words before it: which closure, asked by whom and when. */
  readonly before?: string | undefined;
  /** Do not close. One seal is missing. A line break in it is kept. */
  readonly words: string;
  readonly tone: 'plain' | 'missing' | 'held' | 'agreed';
};

/** The one thing that a screen says. */
export function Headline(props: HeadlineProps) {
  return (
    <div class="headline" data-tone={props.tone}>
      <Show when={props.before}>
        <p class="headline-before">{props.before}</p>
      </Show>
      <h1 class="headline-words">{props.words}</h1>
    </div>
  );
}
