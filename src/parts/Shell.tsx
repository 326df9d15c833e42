import { children, type JSX, Show } from 'solid-js';
import { say } from '#words/say.ts';
import './Shell.css';

export type ShellProps = {
  /** Who the patient is, and the clocks. */
  readonly band: JSX.Element;
  /** The stations of the case. */
  readonly spine: JSX.Element;
  /** What stands between now and the next act that cannot be taken back. Without it, main is wider. */
  readonly aside?: JSX.Element;
  /** What the side is about, for a screen reader. */
  readonly asideLabel?: string | undefined;
  /** The last entry and the actions of the moment, or the digits of a count. */
  readonly foot: JSX.Element;
  /** Stands above the foot and over what is there, so that nothing moves under a finger. */
  readonly notice?: JSX.Element;
  readonly children: JSX.Element;
};

/** The frame of the screens of a case: band, spine, main, side and foot, in both directions of the tablet. */
export function Shell(props: ShellProps) {
  const aside = children(() => props.aside);
  const hasAside = () => aside.toArray().some((one) => one !== null && one !== undefined);
  return (
    <div class="shell" data-aside={hasAside() ? 'yes' : 'no'}>
      <header class="shell-band">{props.band}</header>
      <nav class="shell-spine" aria-label={say`Stations of the case`}>
        {props.spine}
      </nav>
      <main class="shell-main">{props.children}</main>
      <Show when={hasAside()}>
        <aside class="shell-aside" aria-label={props.asideLabel ?? say`What is open`}>
          {aside()}
        </aside>
      </Show>
      <footer class="shell-foot">
        <div class="shell-notice">{props.notice}</div>
        {props.foot}
      </footer>
    </div>
  );
}
