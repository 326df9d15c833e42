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
  // Which they are is asked when the key is tapped, and not with each entry.
  const hasInside = createMemo(() => linesInside(current()).length > 0);
  const isOff = () => props.only === undefined && !hasInside();
  return (
    <button
      type="button"
      class="scroller-key inside-key"
      aria-pressed={props.only ? 'true' : 'false'}
      aria-disabled={isOff() ? 'true' : undefined}
      onClick={() => !isOff() && props.onOnly(props.only ? undefined : linesInside(current()))}
    >
      {props.only ? say`All lines` : say`Only what is inside`}
    </button>
  );
}
