import { For, Show } from 'solid-js';

export type BarsProps = {
  /** The bars as 1 and 0; undefined until the encoder is there. */
  readonly bars: string | undefined;
  readonly class: string;
  /** On a screen: whole dots a module. Without it the bars have their true width on paper. */
  readonly modulePx?: number | undefined;
};

/** Units: a module is a quarter of a millimetre, which is two dots of a printer with 203 dots an inch. */
const moduleMm = 0.25;
const quietModules = 10;

/** Bars in their true width on paper, with ten modules of quiet on both sides (ISO/IEC 15417). */
export function Bars(props: BarsProps) {
  const runs = () => runsOf(props.bars ?? '');
  const modules = () => (props.bars?.length ?? 0) + 2 * quietModules;
  const width = () =>
    props.modulePx === undefined ? `${modules() * moduleMm}mm` : `${modules() * props.modulePx}px`;
  return (
    <Show when={props.bars}>
      <svg
        class={props.class}
        width={width()}
        viewBox={`0 0 ${modules()} 10`}
        preserveAspectRatio="none"
        shape-rendering="crispEdges"
        aria-hidden="true"
      >
        <For each={runs()}>
          {(run) => <rect x={run.at + quietModules} y="0" width={run.width} height="10" />}
        </For>
      </svg>
    </Show>
  );
}

const runsOf = (bars: string): readonly { readonly at: number; readonly width: number }[] =>
  [...bars.matchAll(/1+/g)].map((run) => ({ at: run.index, width: run[0].length }));
