import { Match, Switch } from 'solid-js';
import './Mark.css';

export type MarkKind =
  | 'tick'
  | 'held'
  | 'missing'
  | 'stays'
  | 'left'
  | 'right'
  | 'up'
  | 'down'
  | 'lights-up'
  | 'lights-down';

type MarkProps = { readonly kind: MarkKind };

/** A drawn sign that goes with a colour, so that no meaning hangs on the colour. Silent: words stand beside it. */
export function Mark(props: MarkProps) {
  return (
    <svg class="mark" data-kind={props.kind} viewBox="0 0 24 24" aria-hidden="true">
      <Switch>
        <Match when={props.kind === 'tick'}>
          <path d="M4 13l5.5 5.5L20 6.5" />
        </Match>
        <Match when={props.kind === 'held'}>
          <path d="M8 4v16M16 4v16" />
        </Match>
        <Match when={props.kind === 'missing'}>
          <path d="M12 3v11M12 18.5v2.5" />
        </Match>
        <Match when={props.kind === 'stays'}>
          <path d="M12 4l8 8-8 8-8-8z" />
        </Match>
        <Match when={props.kind === 'left'}>
          <path d="M15 5l-7 7 7 7" />
        </Match>
        <Match when={props.kind === 'right'}>
          <path d="M9 5l7 7-7 7" />
        </Match>
        <Match when={props.kind === 'up'}>
          <path d="M5 15l7-7 7 7" />
        </Match>
        <Match when={props.kind === 'down'}>
          <path d="M5 9l7 7 7-7" />
        </Match>
        <Match when={props.kind === 'lights-up'}>
          <circle cx="12" cy="12" r="4" />
          <path d="M12 2v3M12 19v3M2 12h3M19 12h3M5 5l2 2M17 17l2 2M5 19l2-2M17 7l2-2" />
        </Match>
        <Match when={props.kind === 'lights-down'}>
          <path d="M19 14.5A8 8 0 1 1 9.5 5a6.3 6.3 0 0 0 9.5 9.5z" />
        </Match>
      </Switch>
    </svg>
  );
}
