import { type JSX, Show } from 'solid-js';
import './Shell.css';

type ShellProps = {
  readonly band: JSX.Element;
  /** Left out where a screen is not part of a case's stations. */
  readonly spine?: JSX.Element;
  readonly children: JSX.Element;
  /** What the main part is called by a screen reader, e.g. "Counting frame". */
  readonly mainName: string;
  /** The holds, mostly. Left out, the main part takes the room. */
  readonly aside?: JSX.Element;
  readonly foot?: JSX.Element;
  /** Lies above the foot and moves nothing. */
  readonly notice?: JSX.Element;
};

/** The frame of the case screens: band on top, spine on the left, holds on the right, foot below. */
export function Shell(props: ShellProps) {
  return (
    <div
      class="shell"
      data-spine={props.spine === undefined ? undefined : ''}
      data-aside={props.aside === undefined ? undefined : ''}
    >
      <header class="shell-band">{props.band}</header>
      <Show when={props.spine}>
        <nav class="shell-spine" aria-label="Stations of the case">
          {props.spine}
        </nav>
      </Show>
      <main class="shell-main" aria-label={props.mainName}>
        {props.children}
      </main>
      <Show when={props.aside}>
        <aside class="shell-aside">{props.aside}</aside>
      </Show>
      <div class="shell-notice">{props.notice}</div>
      <footer class="shell-foot">{props.foot}</footer>
    </div>
  );
}
