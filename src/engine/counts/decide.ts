import { unreachable } from '../assert.ts';
import type { Found } from '../countState.ts';
import { accept, type Context, type Decision, refuse } from '../decision.ts';
import { isRole, otherCounter, personFrom, samePerson } from '../people.ts';
import { isSeen, isText } from '../quantities.ts';
import type { Line } from '../sheet.ts';
import type { Case } from '../state.ts';
import { decideAgree } from './decideAgree.ts';
import { decideRecount } from './decideRecount.ts';
import { decideWaive } from './decideWaive.ts';
import type { BeginCount, CountsCommand, CountsEvent, Enter, Relief } from './events.ts';
import { takenOver } from './keptOf.ts';
import { hasMoment, linesOf } from './linesOf.ts';

/** Answers everything about counts, reliefs and waivers. */
export function decideCounts(
  current: Case,
  command: CountsCommand,
  context: Context,
): Decision<CountsEvent> {
  switch (command.type) {
    case 'beginCount':
      return decideBegin(current, command);
    case 'enter':
      return decideEnter(current, command);
    case 'agree':
      return decideAgree(current, command);
    case 'abandon':
      if (!isText(command.reason)) return refuse('reason-missing');
      if (!current.counts.running) return refuse('no-count');
      return accept<CountsEvent>({ type: 'countAbandoned', reason: command.reason });
    case 'recount':
      return decideRecount(current, command);
    case 'relief':
      return decideRelief(current, command);
    case 'waive':
      return decideWaive(current, command, context);
    default:
      return unreachable(command);
  }
}

/**
 * Begins a count. From now on what the ledger expects is not shown. It starts from nothing, unless the policy lets
 * only the interrupted class start again.
 *
 * Refuses, first match wins: unknown-moment, name-missing, same-person, count-running, already-counted,
 * count-waived, baseline-open, nothing-to-count, no-relief.
 * Rules: C1, C2, C3.
 */
function decideBegin(current: Case, command: BeginCount): Decision<CountsEvent> {
  const { moment } = command;
  const { counts } = current;
  if (!hasMoment(current, moment)) return refuse('unknown-moment', moment);
  const scrub = personFrom(current.team, command.scrub ?? 'scrub');
  const circulator = personFrom(current.team, command.circulator ?? 'circulator');
  if (!scrub || !circulator) return refuse('name-missing');
  if (samePerson(scrub, circulator)) return refuse('same-person', scrub);
  if (moment === 'relief' && !isInRoles(current, scrub, circulator)) return refuse('two-people');
  if (counts.running) return refuse('count-running');
  if (moment === 'first' && counts.first === 'agreed') return refuse('already-counted');
  if (moment === 'first' && counts.first === 'waived') return refuse('count-waived');
  if (moment !== 'first' && counts.first === 'open') return refuse('baseline-open');
  const lines = linesOf(current, moment);
  if (moment === 'added' && lines.length === 0) return refuse('nothing-to-count');
  if (moment === 'relief' && counts.reliefDue.length === 0) return refuse('no-relief');
  const begun = { type: 'countBegun', moment, scrub, circulator, lines } as const;
  const found = takenOver(current, begun);
  const others = Object.keys(found).filter((line) => !lines.includes(line));
  if (Object.keys(found).length === 0) return accept<CountsEvent>(begun);
  return accept<CountsEvent>({ ...begun, lines: [...lines, ...others], found });
}

/** A relief count is made by whoever came and the one who stayed: the two now in the roles. */
function isInRoles({ team }: Case, one: string, other: string): boolean {
  const counting = [one, other];
  return [team.scrub, team.circulator].every((name) =>
    counting.some((person) => samePerson(person, name)),
  );
}

/**
 * Says what was seen of one line, or of each part of a group that the sheet lets be counted together.
 *
 * Refuses, first match wins: unknown-line, not-a-count, no-count, not-in-count, counted-apart.
 * Rules: C14.
 */
function decideEnter(current: Case, command: Enter): Decision<CountsEvent> {
  const { running } = current.counts;
  const found = foundFrom(command);
  const lines: Line[] = [];
  for (const id of [command.line, ...(command.together ?? [])]) {
    const line = current.lines.get(id);
    if (!line) return refuse('unknown-line', id);
    lines.push(line);
  }
  const [first] = lines;
  if (!found) return refuse('not-a-count', first?.name);
  if (!running) return refuse('no-count');
  const shut = lines.find(({ id, counted }) => !counted || !isOpened(current, running.lines, id));
  if (shut) return refuse('not-in-count', shut.name);
  if (command.together === undefined)
    return accept<CountsEvent>({ type: 'entered', line: command.line, found });
  const single = lines.find(({ group, together }) => group !== first?.group || !together);
  if (single || command.packs !== undefined) return refuse('counted-apart', single?.name);
  const each = lines.map(
    ({ id }) => ({ type: 'entered', line: id, found, together: true }) as const,
  );
  return accept<CountsEvent>(...each);
}

/** A line outside the pass may be added to it: something was seen that the record did not ask for. */
function isOpened(current: Case, asked: readonly string[], line: string): boolean {
  return asked.includes(line) || current.counts.uncounted[line] === undefined;
}

function foundFrom(command: Enter): Found | undefined {
  const { packs, off = 0 } = command;
  if (packs !== undefined) {
    if (!packs.every(isSeen) || packs.length > 99) return undefined;
    const field = packs.reduce((sum, pieces) => sum + pieces, 0);
    return isSeen(field) && isSeen(off) ? { field, off, packs } : undefined;
  }
  const { field = 0 } = command;
  if (command.field === undefined && command.off === undefined) return undefined;
  return isSeen(field) && isSeen(off) ? { field, off } : undefined;
}

/**
 * Somebody takes over a role. A relief of scrub or circulator owes a relief count and voids a running one.
 *
 * Refuses, first match wins: unknown-role, name-missing, same-person.
 * Rules: C9, C10.
 */
function decideRelief(current: Case, command: Relief): Decision<CountsEvent> {
  const { role } = command;
  if (!isRole(role)) return refuse('unknown-role', role);
  if (!isText(command.to)) return refuse('name-missing', 'to');
  const to = personFrom(current.team, command.to);
  const from = current.team[role];
  if (samePerson(to, from)) return refuse('same-person', to);
  const other = otherCounter(role);
  if (other && samePerson(to, current.team[other])) return refuse('same-person', to);
  return accept<CountsEvent>({ type: 'relieved', role, from, to, short: command.short === true });
}
