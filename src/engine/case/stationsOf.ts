import { say } from '#words/say.ts';
import { checkpointsOf, closuresOf, signOut } from '../applies.ts';
import { momentName } from '../counts/countsDue.ts';
import type { Case } from '../state.ts';

/** One station of a case: passed at a time, the one it is in, or ahead. */
export type Station = {
  readonly id: string;
  readonly name: string;
  readonly state: 'passed' | 'here' | 'ahead';
  readonly at: string | undefined;
  readonly kind: 'prepare' | 'checkpoint' | 'first-count' | 'operating' | 'closing' | 'record';
};

type Stop = Omit<Station, 'state'>;

/** The way of a case, from preparing to the record; `here` is the first station that is not passed. */
export function stationsOf(current: Case): readonly Station[] {
  const stops = stopsOf(current);
  const here = stops.findIndex((stop) => stop.at === undefined);
  return stops.map((stop, index) => {
    if (index === here) return { ...stop, state: 'here' };
    return { ...stop, state: stop.at === undefined ? 'ahead' : 'passed' };
  });
}

/** The station that the case is in. */
export function stationOf(current: Case): Station | undefined {
  return stationsOf(current).find((station) => station.state === 'here');
}

function stopsOf(current: Case): readonly Stop[] {
  const { counts } = current;
  const checkpoints = checkpointsOf(current).map((one) => ({
    id: one.id,
    name: one.name,
    at: current.checkpoints[one.id]?.finishedAt,
    kind: 'checkpoint' as const,
    before: one.before,
  }));
  const early = checkpoints.filter((one) => one.before === 'anaesthesia');
  const timeOuts = checkpoints.filter((one) => one.before === 'incision');
  const first: Stop = {
    id: 'first',
    name: momentName(current, 'first'),
    at: counts.done.first?.at,
    kind: 'first-count',
  };
  const closures = closuresOf(current);
  const gates = ['anaesthesia', 'incision', ...closures.map(({ id }) => id)];
  const late = checkpoints.filter(({ before }) => !gates.includes(before));
  // A pause before a closure stands before it, as it is made.
  const closings = closures.flatMap((closure): readonly Stop[] => [
    ...checkpoints.filter(({ before }) => before === closure.id),
    {
      id: closure.id,
      name: closure.name,
      at: current.closures[closure.id]?.closedAt,
      kind: 'closing',
    },
  ]);
  const innermost = closures[0]?.id ?? signOut;
  const operating: Stop = {
    id: 'operating',
    name: say`Operating`,
    at: current.closures[innermost]?.closedAt ?? current.checkpoints[signOut]?.finishedAt,
    kind: 'operating',
  };
  return [
    { id: 'prepare', name: say`Prepare`, at: current.startedAt, kind: 'prepare' },
    ...early,
    first,
    ...timeOuts,
    operating,
    ...closings,
    ...late,
    { id: 'record', name: say`Record`, at: current.finishedAt, kind: 'record' },
  ];
}
