import { closureOf } from '#engine/applies.ts';
import type { CaseEvent } from '#engine/case/events.ts';
import { isLookOpen } from '#engine/closures/isLookOpen.ts';
import { isCountDue } from '#engine/counts/countsDue.ts';
import { isInside } from '#engine/places.ts';
import type { Case, SpecimenStage } from '#engine/state.ts';
import type { Condition, Scene, Script } from './script.ts';

export type SceneNow = {
  /** Undefined when all is done. */
  readonly scene: Scene | undefined;
  /** From 0; the number of scenes when all is done. */
  readonly index: number;
};

/** The first scene whose end the record does not have. Another order is as good, as long as it is lawful. */
export function sceneNow(script: Script, current: Case, live: readonly CaseEvent[]): SceneNow {
  const index = script.scenes.findIndex(({ until }) => !holds(until, current, live));
  if (index < 0) return { scene: undefined, index: script.scenes.length };
  return { scene: script.scenes[index], index };
}

type Tally = (event: CaseEvent, line: string) => number;

const tallies = {
  added: (event, line) => (event.type === 'added' && event.line === line ? event.n : 0),
  into: (event, line) =>
    event.type === 'moved' && event.line === line && isInside(event.to) && !isInside(event.from)
      ? event.n
      : 0,
  out: (event, line) =>
    (event.type === 'moved' || event.type === 'found') && event.line === line ? outOf(event) : 0,
  turned: (event, line) => (event.type === 'turned' && event.line === line ? event.n : 0),
} as const satisfies Readonly<Record<string, Tally>>;

function outOf(event: Extract<CaseEvent, { readonly type: 'moved' | 'found' }>): number {
  const to = event.type === 'moved' ? event.to : event.place;
  return isInside(event.from) && !isInside(to) ? event.n : 0;
}

function holds(until: Condition, current: Case, live: readonly CaseEvent[]): boolean {
  if (current.finishedAt !== undefined) return true;
  const isTallied = (['added', 'into', 'out', 'turned'] as const).every((key) =>
    Object.entries(until[key] ?? {}).every(
      ([line, n]) => live.reduce((sum, event) => sum + tallies[key](event, line), 0) >= n,
    ),
  );
  return isTallied && areStates(until, current) && areClosures(until, current);
}

function areStates(until: Condition, current: Case): boolean {
  const { checkpoint, incised, specimen, finished } = until;
  if (finished) return false; // a finished case has answered already
  if (checkpoint && current.checkpoints[checkpoint]?.finishedAt === undefined) return false;
  if (incised && current.incisionAt === undefined) return false;
  return Object.entries(specimen ?? {}).every(([id, stage]) => isAtLeast(current, id, stage));
}

const stages: readonly SpecimenStage[] = [
  'planned',
  'taken',
  'contained',
  'labelled',
  'readBack',
  'handedOver',
];

function isAtLeast(current: Case, id: string, stage: SpecimenStage): boolean {
  const now = current.specimens[id]?.stage ?? 'planned';
  return now === 'notTaken' || stages.indexOf(now) >= stages.indexOf(stage);
}

function areClosures(until: Condition, current: Case): boolean {
  const { looked, closed, counted } = until;
  const isClosed = (id: string) => current.closures[id]?.closedAt !== undefined;
  if (closed && !isClosed(closed)) return false;
  const look = looked ? closureOf(current, looked) : undefined;
  if (look && !isClosed(look.id) && isLookOpen(current, look)) return false;
  if (!counted) return true;
  if (current.counts.done[counted] === undefined) return false;
  const serves = current.sheet.closures.filter(({ count }) => count === counted);
  const isOver = serves.length > 0 && serves.every(({ id }) => isClosed(id));
  return isOver || counted === 'first' || !isCountDue(current, counted);
}
