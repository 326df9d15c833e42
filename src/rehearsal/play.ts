import { decide } from '#engine/case/decide.ts';
import type { Command } from '#engine/case/events.ts';
import { evolve } from '#engine/case/evolve.ts';
import { openCase } from '#engine/case/open.ts';
import type { Refusal } from '#engine/refusals.ts';
import type { Sheet } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';

/** A case that is played to try a sheet: how it is now, and the way there as steps of a drill. */
export type Play = { readonly current: Case; readonly way: readonly string[] };

/** A command made, or why the engine refused it. */
export type Acted =
  | { readonly ok: true; readonly play: Play }
  | { readonly ok: false; readonly refusal: Refusal };

/** The people of a rehearsal, obviously invented. */
const team = {
  scrub: 'Testa',
  circulator: 'Prueba',
  surgeon: 'Ensayo',
  anaesthetist: 'Probe',
} as const;
const patient = { name: 'Testcase, Ash', number: 'TR-100', born: '1970-01-31', weightKg: 70 };

/** The clock of a rehearsal stands still: nothing that it tries depends on minutes. */
export const now = '2026-01-05T08:00:00+00:00';

/** Opens a case of a sheet. Undefined where the engine does not open it, which the checks before tell. */
export function opened(sheet: Sheet, variants: readonly string[]): Play | undefined {
  const command = { type: 'open', caseId: 'rehearsal', sheet, patient, team, variants } as const;
  const decision = openCase(command, { at: now, by: team.circulator, id: 'open' });
  if (!decision.ok) return undefined;
  const current = decision.events.reduce<Case | undefined>(evolve, undefined);
  return current && { current, way: [] };
}

/** Makes one command. `words` is the step of the drill that it ends, where it ends one. */
export function act(play: Play, command: Command, words?: string): Acted {
  const { current, way } = play;
  const id = `entry-${current.entry + 1}`;
  const decision = decide(current, command, { at: now, by: team.circulator, id });
  if (!decision.ok) return decision;
  const next = decision.events.reduce<Case>(evolve, current);
  return { ok: true, play: { current: next, way: words === undefined ? way : [...way, words] } };
}

/** Makes commands one after another, each told the case as it then is; the first refusal ends it. */
export function actAll(
  play: Play,
  words: string,
  commands: readonly (Command | ((current: Case) => Command))[],
): Acted {
  let last = play;
  for (const command of commands) {
    const made = act(last, typeof command === 'function' ? command(last.current) : command);
    if (!made.ok) return made;
    last = made.play;
  }
  return { ok: true, play: { current: last.current, way: [...play.way, words] } };
}
