import { createMemo, createSignal } from 'solid-js';
import { WireActions } from '#parts/WireActions.tsx';
import { say } from '#words/say.ts';
import { useCase, useSession } from '../useSession.ts';
import { type LineAct, lineActs } from './lineActions.ts';

export type InHandProps = {
  readonly line: string;
  /** Opens the line's own sheet: what needs words, a number, or is seldom done. */
  readonly onMore: () => void;
};

/**
 * The acts of the line in hand, in the foot. They come by themselves with the first piece that can turn, and so
 * take no tap before they have stood a moment: a finger may have been on its way to what was there before.
 */
export function InHand(props: InHandProps) {
  const { session, can } = useSession();
  const current = useCase();
  const [since] = createSignal(performance.now());
  const line = createMemo(() => current().lines.get(props.line));
  const press = (act: LineAct) => {
    if (performance.now() - since() < calmMs) return;
    if (act.command) void session.send(act.command);
    else props.onMore();
  };
  const actions = createMemo(() => {
    const known = line();
    return (known ? lineActs(current(), known) : []).slice(0, most).map((act) => ({
      ...act,
      whyNot: act.command && !can(act.command) ? say`Not possible now` : undefined,
      onDo: () => press(act),
    }));
  });
  return (
    <WireActions name={line()?.name ?? props.line} actions={actions()} onMore={props.onMore} />
  );
}

/** Acts that find room in the foot; the others are on the line's own sheet. */
const most = 3;

/** How long new buttons take no tap. Units: milliseconds. Common practice, no source. */
const calmMs = 300;
