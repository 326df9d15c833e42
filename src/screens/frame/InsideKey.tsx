import { createMemo } from 'solid-js';
import { say } from '#words/say.ts';
import { useCase } from '../useSession.ts';
import { linesInside } from './wires.ts';

export type InsideKeyProps = {
  /** The lines that are shown; undefined: all. */
  readonly only: readonly string[] | undefined;
  readonly onOnly: (lines: readonly string[] | undefined) => void;
};

/** Shows only the lines that have pieces in the patient, and all of them again. */
export function InsideKey(props: InsideKeyProps) {
  const current = useCase();
  const inside = createMemo(() => linesInside(current()));
  const isOff = () => props.only === undefined && inside().length === 0;
  return (
    <button
      type="button"
      class="scroller-key inside-key"
      aria-pressed={props.only ? 'true' : 'false'}
      aria-disabled={isOff() ? 'true' : undefined}
      onClick={() => !isOff() && props.onOnly(props.only ? undefined : inside())}
    >
      {props.only ? say`All lines` : say`Only what is inside`}
    </button>
  );
}
