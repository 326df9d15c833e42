import type { Entered, Found, RunningCount } from '../countState.ts';

/** What was seen of each line so far, in the order in which the lines were first entered. */
export function foundIn({ entered }: RunningCount): Readonly<Record<string, Found>> {
  const entries: Entered[] = [];
  for (let at = entered; at !== undefined; at = at.before) entries.unshift(at);
  return Object.fromEntries(entries.map(({ line, seen }) => [line, seen]));
}

/** What was last seen of one line in this count. */
export function seenOf({ entered }: RunningCount, line: string): Found | undefined {
  for (let at = entered; at !== undefined; at = at.before) if (at.line === line) return at.seen;
  return undefined;
}
