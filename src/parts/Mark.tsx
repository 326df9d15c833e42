import { createMemo, type JSX, Match, Switch } from 'solid-js';
import './Mark.css';

/** A shape for each meaning, so that no colour stands alone. */
export type MarkShape =
  | 'agreed'
  | 'held'
  | 'missing'
  | 'inside'
  | 'stays'
  | 'open'
  | 'due'
  | 'none';

/** The shape of a meaning, in the colour of the words around it. It says nothing by itself. */
export function Mark(props: { readonly shape: MarkShape }) {
  const shape = createMemo(() => props.shape); // the hold that it stands for has other words more often
  return (
    <svg class="mark" data-shape={shape()} viewBox="0 0 20 20" aria-hidden="true">
      <Switch>
        <Match when={shape() === 'agreed'}>
          <path d="M3.5 10.5 8 15 16.5 5" class="mark-line" />
        </Match>
        <Match when={shape() === 'held'}>
          <path d="M6.5 4v12M13.5 4v12" class="mark-line" />
        </Match>
        <Match when={shape() === 'missing'}>
          <path d="M10 1.5 19 18H1Z" class="mark-fill" />
          <Cut d="M10 7v5.2M10 14.6v1.2" />
        </Match>
        <Match when={shape() === 'inside'}>
          <rect x="6" y="2" width="8" height="16" rx="4" class="mark-fill" />
        </Match>
        <Match when={shape() === 'stays'}>
          <path d="M10 2v12M4 18h12" class="mark-line" />
        </Match>
        <Match when={shape() === 'due'}>
          <path d="M10 2.5a7.5 7.5 0 1 0 0 15a7.5 7.5 0 1 0 0-15M10 6v4.5l3 2" class="mark-line" />
        </Match>
        <Match when={shape() === 'open'}>
          <path d="M10 2.5 17.5 10 10 17.5 2.5 10Z" class="mark-line" />
        </Match>
      </Switch>
    </svg>
  );
}

/** A line cut out of a filled shape, in the colour of the ground. */
const Cut = (props: { readonly d: string }): JSX.Element => <path d={props.d} class="mark-cut" />;
