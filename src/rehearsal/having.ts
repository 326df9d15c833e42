import { at } from '#engine/ledger.ts';
import { inSite } from '#engine/places.ts';
import type { Line } from '#engine/sheet.ts';
import { type Acted, act, type Play } from './play.ts';

/** The case with at least one piece of a line on the table. */
export function onTable(play: Play, line: Line): Acted {
  const there = at(play.current.ledger, line.id, 'table');
  if (there > 0) return { ok: true, play };
  const n = line.pack ?? 1;
  const said = line.pack === undefined ? 'n: 1' : `packs: [${n}]`;
  return act(play, { type: 'add', line: line.id, n }, `add: { line: ${line.id}, ${said} }`);
}

/** The case with one piece of a line in a site, tapped in or there from the start. */
export function inside(play: Play, line: Line, site: string): Acted {
  if (line.startsIn !== undefined) {
    const from = line.startsIn;
    const words = `carriedIn: { line: ${line.id}, n: 1, site: ${site}, from: ${from} }`;
    return act(play, { type: 'carriedIn', line: line.id, n: 1, site, from }, words);
  }
  const ready = onTable(play, line);
  if (!ready.ok) return ready;
  const to = inSite(site);
  const words = `move: { line: ${line.id}, from: table, to: ${to}, n: 1 }`;
  return act(ready.play, { type: 'move', line: line.id, from: 'table', to, n: 1 }, words);
}
