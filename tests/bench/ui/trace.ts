/** Reads a trace of Chromium: what its main thread did while somebody tapped. */

type TraceEvent = {
  readonly name: string;
  readonly ph: string;
  readonly pid: number;
  readonly tid: number;
  readonly ts: number;
  /** Microseconds on the clock, and of the thread's own time, which others on the machine do not add to. */
  readonly dur?: number;
  readonly tdur?: number;
  readonly args?: { readonly data?: { readonly type?: string } };
};

export const traceCategories = ['devtools.timeline', 'disabled-by-default-devtools.timeline'];

/** From the event to the frame: what is drawn for a tap, without what follows when the entry is saved. */
const drawing = new Set([
  'EventDispatch',
  'UpdateLayoutTree',
  'Layout',
  'PrePaint',
  'Paint',
  'Layerize',
  'Commit',
]);

export type Work = {
  /** Taps that the trace has seen. */
  readonly taps: number;
  /** Everything the main thread did. Units: milliseconds. */
  readonly allMs: number;
  /** Of that, the events that draw. Units: milliseconds. */
  readonly drawingMs: number;
  /** Every task, longest first. Units: milliseconds. */
  readonly tasksMs: readonly number[];
  /** What the main thread spent most on, by the name of the trace event. Units: milliseconds. */
  readonly most: readonly (readonly [string, number])[];
};

const sum = (times: readonly number[]): number => times.reduce((all, one) => all + one, 0);

/** Throws: an error where nobody tapped. */
export function workIn(trace: Buffer): Work {
  const { traceEvents }: { readonly traceEvents: readonly TraceEvent[] } = JSON.parse(
    trace.toString('utf8'),
  );
  const clicks = traceEvents.filter(
    ({ name, args }) => name === 'EventDispatch' && args?.data?.type === 'pointerup',
  );
  const [first] = clicks;
  if (!first) throw new Error('Nobody tapped while the trace was taken.');
  const own = traceEvents.filter(
    ({ ph, pid, tid }) => ph === 'X' && pid === first.pid && tid === first.tid,
  );
  const timesOf = (isMeant: (name: string) => boolean): readonly number[] =>
    own.flatMap(({ name, dur, tdur = dur }) =>
      isMeant(name) && tdur !== undefined ? [tdur / 1000] : [],
    );
  const tasks = timesOf((name) => name === 'RunTask');
  const names = [...new Set(own.map(({ name }) => name))].filter((name) => name !== 'RunTask');
  const most = names
    .map((name): readonly [string, number] => [name, sum(timesOf((one) => one === name))])
    .toSorted((one, other) => other[1] - one[1])
    .slice(0, 12);
  return {
    taps: clicks.length,
    allMs: sum(tasks),
    drawingMs: sum(timesOf((name) => drawing.has(name))),
    tasksMs: tasks.toSorted((one, other) => other - one),
    most,
  };
}
