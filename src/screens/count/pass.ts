import { listedOf } from '#engine/applies.ts';
import type { RunningCount } from '#engine/countState.ts';
import { rowOf } from '#engine/ledger.ts';
import type { Case } from '#engine/state.ts';
import { say } from '#words/say.ts';

/** Two places a count goes through: what lies in the field and on the table, then what was counted off. */
export type Pass = 'field' | 'off';

/** One thing that gets a number: a line, or one pack of it at the first count. */
export type Asked = {
  readonly id: string;
  readonly line: string;
  readonly name: string;
  /** Which pack, from 0, where each pack has a number of its own. */
  readonly pack?: number;
};

/**
 * What a pass asks, in order.
 *
 * At the first count each pack is asked by itself: a number copied from a label is not a number seen.
 */
export function askedIn(current: Case, running: RunningCount, pass: Pass): readonly Asked[] {
  if (pass === 'off') return offLines(current, running).map((line) => whole(current, line));
  if (running.moment !== 'first') return running.lines.map((line) => whole(current, line));
  return running.lines.flatMap((line) => byPack(current, line));
}

/** Lines of the second pass. Says nothing about how much is off the field. */
export function offLines(current: Case, running: RunningCount): readonly string[] {
  return running.moment === 'first' ? [] : running.lines.filter((line) => canBeOff(current, line));
}

/**
 * Whether a line is asked off the field too: swabs are bagged and sharps boxed, also where nobody tapped it;
 * of other lines those that the record has there.
 */
export function canBeOff(current: Case, id: string): boolean {
  const line = current.lines.get(id);
  if (!line) return false;
  const { class: kind } = line;
  return kind === 'swab' || kind === 'sharp' || rowOf(current.ledger, id).off > 0;
}

/** How many packs of a line the tray list has; 0 for a line that comes in none. */
export function packsListed(current: Case, id: string): number {
  const line = current.lines.get(id);
  return line?.pack === undefined ? 0 : Math.ceil(listedOf(current, line) / line.pack);
}

const whole = (current: Case, line: string): Asked => ({
  id: line,
  line,
  name: current.lines.get(line)?.name ?? line,
});

function byPack(current: Case, line: string): readonly Asked[] {
  const packs = packsListed(current, line);
  const one = whole(current, line);
  if (packs < 2) return [one];
  return Array.from({ length: packs }, (_, pack) => ({
    ...one,
    id: `${line}#${pack + 1}`,
    name: say`${one.name}, pack ${pack + 1} of ${packs}`,
    pack,
  }));
}

/**
 * So many pieces stand on the tray list that the number has two digits. The list is on paper in the room: this says
 * nothing of what the record expects.
 */
export function isLargeOnList(current: Case, asked: Asked | undefined): boolean {
  const line = asked && current.lines.get(asked.line);
  return line !== undefined && asked?.pack === undefined && listedOf(current, line) >= 20;
}
