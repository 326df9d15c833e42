import { listedOf } from '#engine/applies.ts';
import type { RunningCount } from '#engine/countState.ts';
import { seenOf } from '#engine/counts/foundIn.ts';
import { rowOf } from '#engine/ledger.ts';
import type { Case } from '#engine/state.ts';
import { say } from '#words/say.ts';

/** Two places a count goes through: what lies in the field and on the table, then what was counted off. */
export type Pass = 'field' | 'off';

/** One thing that gets a number: a line, one pack of it at the first count, or parts of a group, so many of each. */
export type Asked = {
  readonly id: string;
  readonly line: string;
  readonly name: string;
  /** Which pack, from 0, where each pack has a number of its own. */
  readonly pack?: number;
  /** The lines that get the number together, and what they are called. */
  readonly parts?: readonly string[];
  readonly detail?: string;
};

/**
 * What a pass asks, in order.
 *
 * At the first count each pack is asked by itself: a number copied from a label is not a number seen. Groups in
 * `apart` are asked part by part.
 */
export function askedIn(
  current: Case,
  running: RunningCount,
  pass: Pass,
  apart: readonly string[] = [],
): readonly Asked[] {
  if (pass === 'off') return offLines(current, running).map((line) => whole(current, line));
  const isFirst = running.moment === 'first';
  return running.lines.flatMap((line) => {
    const parts = partsWith(current, running, line, apart);
    if (parts.length > 1) return parts[0] === line ? [together(current, parts)] : [];
    return isFirst ? byPack(current, line) : [whole(current, line)];
  });
}

/**
 * The lines that are asked with this one: so many of each. Only what the sheet lists alike and nobody has counted off
 * is asked so, and no longer when the parts were given different numbers.
 */
function partsWith(
  current: Case,
  running: RunningCount,
  id: string,
  apart: readonly string[],
): readonly string[] {
  const line = current.lines.get(id);
  const { group } = line ?? {};
  if (line?.together !== true || group === undefined || apart.includes(group)) return [];
  const parts = running.lines.filter((other) => {
    const known = current.lines.get(other);
    return known?.group === group && known.together === true;
  });
  const listed = parts.map((part) => {
    const known = current.lines.get(part);
    return known && listedOf(current, known);
  });
  const seen = parts.map((part) => seenOf(running, part)?.field).filter((n) => n !== undefined);
  const isAlike = new Set(listed).size === 1 && new Set(seen).size < 2;
  return isAlike && !parts.some((part) => canBeOff(current, part)) ? parts : [];
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

const nameOf = (current: Case, line: string): string => current.lines.get(line)?.name ?? line;

const whole = (current: Case, line: string): Asked => ({
  id: line,
  line,
  name: nameOf(current, line),
});

function together(current: Case, parts: readonly string[]): Asked {
  const [line = ''] = parts;
  const group = current.lines.get(line)?.group ?? line;
  const names = parts.map((part) => nameOf(current, part).replaceAll(' ', '\u00a0'));
  return { id: `${line}+`, line, parts, name: group, detail: say`Of each: ${names.join(' · ')}` };
}

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
