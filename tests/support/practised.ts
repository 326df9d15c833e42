import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { drillsOf } from '#drill/drillFile.ts';
import { runDrill } from '#drill/runDrill.ts';
import { followed } from '#practice/follow.ts';
import type { Followed } from '#practice/followed.ts';
import { loadPractice } from '#practice/loadPractice.ts';
import type { Script } from '#practice/script.ts';
import { checklists, sheets } from './drillSheets.ts';

const loaded = loadPractice(checklists);
if (!loaded.ok) throw new Error(JSON.stringify(loaded.issues));
export const { scripts } = loaded;

export function scriptOf(level: number): Script {
  const script = scripts.find((one) => one.level === level);
  if (!script) throw new Error(`There is no practice case of level ${level}.`);
  return script;
}

/** A part of the worked solution, and what a person does instead of it. */
export type Instead = readonly [part: string, instead: string];

/**
 * A practice case gone through as its drill does it, but for what is done instead.
 *
 * Throws: an error, when a part is not in the drill, or a step does not go as it says: the test is then wrong.
 */
export function practised(level: number, ...instead: readonly Instead[]): Followed {
  const script = scriptOf(level);
  let text = readFileSync(join(checklists, 'practice', `${script.id}.yaml`), 'utf8');
  for (const [part, other] of instead) {
    if (!text.includes(part)) throw new Error(`The drill has no ${part}`);
    text = text.replace(part, other);
  }
  const read = drillsOf(text, sheets);
  const ready = read.ok ? read.drills[0] : undefined;
  if (!ready) throw new Error(JSON.stringify(read));
  const outcome = runDrill(ready.drill, ready.sheet);
  if (outcome.failures.length > 0) throw new Error(JSON.stringify(outcome.failures));
  return followed(script, outcome.events);
}

/** The drill up to a part of it, and nothing after. */
export const until = (level: number, part: string, more = ''): Instead => {
  const text = readFileSync(join(checklists, 'practice', `${scriptOf(level).id}.yaml`), 'utf8');
  const at = text.indexOf(part);
  if (at < 0) throw new Error(`The drill has no ${part}`);
  return [text.slice(at), more];
};
