import { say, sayOf } from '#words/say.ts';
import { checkpointsOf, closuresOf, gatesOf, signOut } from '../applies.ts';
import { countsDue, dueWords } from '../counts/countsDue.ts';
import { isXrayOwed } from '../discrepancies/isXrayOwed.ts';
import { isExplained } from '../moves/isExplained.ts';
import type { Closure, Line } from '../sheet.ts';
import type { Case, Differing } from '../state.ts';
import { handoverOf } from './handoverOf.ts';
import type { Hold } from './holds.ts';
import { insideHolds } from './insideHolds.ts';
import { isLookOpen } from './isLookOpen.ts';
import { specimenHolds } from './specimenHolds.ts';

/**
 * What stands between now and a gate: a closure of the sheet or `sign-out`. Empty: nothing open that is known of.
 *
 * A hold belongs to the gate whose sites, lines or count it concerns and to every later one. One cause gives one
 * hold, the earliest in its chain. Made closures no longer owe their own count and look.
 * Rules: X1, X2, X3.
 */
export function holdsOf(current: Case, gate: string): readonly Hold[] {
  const gates = gatesOf(current);
  const index = gates.indexOf(gate);
  if (index < 0) return [];
  const closures = closuresOf(current);
  const upTo = closures.slice(0, index + 1);
  const isLast = index >= closures.length - 1;
  return checkpointHolds(current, upTo, gate).concat(
    baselineHolds(current),
    reliefHolds(current),
    differingHolds(current, gates, index),
    countHolds(current, upTo, gate),
    insideHolds(current, upTo, gate),
    stayHolds(current, upTo, isLast),
    specimenHolds(current, upTo, { isLast, isSignOut: gate === signOut }),
    lookHolds(current, upTo),
    orderHolds(current, closures.slice(0, index)),
    gate === signOut ? leavingHolds(current) : [],
  );
}

/** Whether a closure is made, or sign out finished. */
export const isGateDone = (current: Case, gate: string): boolean =>
  gate === signOut
    ? current.checkpoints[signOut]?.finishedAt !== undefined
    : current.closures[gate]?.closedAt !== undefined;

/** Whether a gate is done, held or open to be passed. */
export function gateState(current: Case, gate: string): 'done' | 'held' | 'clear' {
  if (isGateDone(current, gate)) return 'done';
  return holdsOf(current, gate).length > 0 ? 'held' : 'clear';
}

function checkpointHolds(current: Case, upTo: readonly Closure[], gate: string): readonly Hold[] {
  return checkpointsOf(current)
    .filter((checkpoint) => {
      if (checkpoint.id === signOut || current.checkpoints[checkpoint.id]?.finishedAt) return false;
      const { before } = checkpoint;
      if (before === 'anaesthesia' || before === 'incision' || gate === signOut) return true;
      return upTo.some((closure) => closure.id === before);
    })
    .map((checkpoint) => ({
      code: 'checkpoint-open',
      about: checkpoint.id,
      title: say`${checkpoint.name} not finished`,
      detail: say`Read it aloud together`,
      who: sayOf(checkpoint.leader),
      screen: 'checkpoint',
    }));
}

function baselineHolds(current: Case): readonly Hold[] {
  const { first, uncounted } = current.counts;
  const bare = { code: 'baseline-open', who: say`scrub and circulator`, screen: 'count' } as const;
  if (first === 'open')
    return [
      {
        ...bare,
        about: 'first',
        title: say`First count not agreed`,
        detail: say`Count everything that is open`,
      },
    ];
  const lines = Object.keys(uncounted).map((line) => current.lines.get(line)?.name ?? line);
  if (lines.length === 0) return [];
  return [
    { ...bare, about: 'added', title: say`Opened and not counted in`, detail: lines.join(', ') },
  ];
}

function reliefHolds(current: Case): readonly Hold[] {
  return current.counts.reliefDue.map((role) => ({
    code: 'relief-due',
    about: role,
    title: say`Relief count not done`,
    detail: say`${current.team[role]} has taken over as ${sayOf(role)}`,
    who: say`scrub and circulator`,
    screen: 'count',
  }));
}

function differingHolds(current: Case, gates: readonly string[], index: number): readonly Hold[] {
  return Object.values(current.differing)
    .filter((open) => {
      const from = gates.indexOf(open.gate);
      return from <= index;
    })
    .map((open) => differingHold(current, open));
}

/** While a line waits for its recounts, the hold says no more than that it does not agree. */
function differingHold(current: Case, open: Differing): Hold {
  const name = current.lines.get(open.line)?.name ?? open.line;
  if (open.stage === 'recount')
    return {
      code: 'count-differs',
      about: open.line,
      title: say`${name} does not agree`,
      detail: open.streak > 0 ? say`Count it once more` : say`Count it again, roles swapped`,
      who: say`scrub and circulator`,
      screen: 'recount',
    };
  const pieces = Math.abs(open.difference);
  const isShort = open.difference < 0;
  return {
    code: isShort ? 'line-short' : 'line-over',
    about: open.line,
    title: say`${name} ${isShort ? say`short` : say`over`} by ${pieces}`,
    detail: isShort
      ? say`Find it, or X-ray and declare`
      : say`Find what was not recorded, and amend`,
    who: say`surgeon, scrub and circulator`,
    screen: 'discrepancy',
  };
}

function countHolds(current: Case, upTo: readonly Closure[], gate: string): readonly Hold[] {
  return countsDue(current, upTo, gate === signOut).map((moment) => ({
    code: 'count-due',
    about: moment,
    title: dueWords(current, moment),
    detail:
      current.counts.running?.moment === moment ? say`It is running` : say`Count together, aloud`,
    who: say`scrub and circulator`,
    screen: 'count',
  }));
}

/** What stays holds the closure of its site and later ones; what has no site (from the table) holds every gate. */
function stayHolds(current: Case, upTo: readonly Closure[], isLast: boolean): readonly Hold[] {
  const concerns = (site: string | undefined): boolean =>
    isLast || site === undefined || upTo.some((closure) => closure.sites.includes(site));
  return Object.entries(current.left).flatMap(([id, left]): readonly Hold[] => {
    const line = current.lines.get(id);
    const open = line && left.find((pieces) => concerns(pieces.site) && !isExplained(line, pieces));
    if (!line || !open) return [];
    return [
      {
        code: 'stays-unexplained',
        about: id,
        title: say`${line.name} stays without a reason`,
        detail:
          line.stay.may === 'no'
            ? say`It may not stay: surgeon and one other`
            : say`Say why and where`,
        who: say`surgeon`,
        screen: 'frame',
      },
    ];
  });
}

function lookHolds(current: Case, upTo: readonly Closure[]): readonly Hold[] {
  return upTo
    .filter((closure) => !current.closures[closure.id]?.closedAt && isLookOpen(current, closure))
    .map((closure) => ({
      code: 'look-open',
      about: closure.id,
      title: say`Surgeon's last look`,
      detail: closure.name,
      who: say`surgeon`,
      screen: 'look',
    }));
}

function orderHolds(current: Case, inner: readonly Closure[]): readonly Hold[] {
  return inner
    .filter((closure) => !current.closures[closure.id]?.closedAt)
    .map((closure) => ({
      code: 'closure-order',
      about: closure.id,
      title: say`${closure.name} is still open`,
      detail: say`Close it first`,
      who: say`surgeon`,
      screen: 'closure',
    }));
}

/** Packing, a drain, a part left by decision; not a knot or a clip, nor an implant that needs only its lot number. */
function staysForAReason({ stay }: Line): boolean {
  return stay.may === 'no' || (stay.may === 'reason' && stay.needs.includes('reason'));
}

/** What holds only the patient's leaving. */
function leavingHolds(current: Case): readonly Hold[] {
  const holds: Hold[] = [];
  if (isXrayOwed(current) && !current.deferral)
    holds.push({
      code: 'xray-owed',
      about: 'xray',
      title: say`An X-ray is owed`,
      detail: say`Read before the patient leaves, whole field shown`,
      who: say`surgeon`,
      screen: 'xray',
    });
  for (const [id, left] of Object.entries(current.left)) {
    const line = current.lines.get(id);
    const isOwed = left.length > 0 && line !== undefined && staysForAReason(line);
    if (isOwed && !handoverOf(current, id))
      holds.push({
        code: 'handover-open',
        about: id,
        title: say`${line.name} not handed over`,
        detail: say`To whom, and when it comes out`,
        who: say`surgeon and circulator`,
        screen: 'handover',
      });
  }
  return holds;
}
