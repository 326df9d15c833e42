import { closuresOf } from '#engine/applies.ts';
import { holdsOf } from '#engine/closures/holdsOf.ts';
import type { Closure, Line, Sheet, Site } from '#engine/sheet.ts';
import { type Finding, linePath, type Played } from './finding.ts';
import { inside, onTable } from './having.ts';
import { act, type Play } from './play.ts';

/**
 * Whether one piece of any line can be closed on. Twice for each site: tapped in, where the places must hold the
 * closure; and not tapped by anybody, where a count must ask for it.
 */
export function insideFindings(sheet: Sheet, played: Played): readonly Finding[] {
  const [first] = played.before;
  if (first === undefined) return [];
  const closures = closuresOf(first.current);
  return sheet.lines.flatMap((line) =>
    sheet.sites.flatMap((site) => {
      const own = closures.findIndex(({ sites }) => sites.includes(site.id));
      const ready = played.before[own];
      if (ready === undefined) return [];
      const { before, open } = played;
      const trying = { sheet, line, site, ready, closures, own, before, open };
      const found = line.tracked ? unheld(trying) : undefined;
      return [found, unasked(trying)].filter((finding) => finding !== undefined);
    }),
  );
}

type Trying = {
  readonly sheet: Sheet;
  readonly line: Line;
  readonly site: Site;
  /** Just before the closure of the site, with nothing that holds it. */
  readonly ready: Play;
  readonly closures: readonly Closure[];
  /** Which closure closes the site first. */
  readonly own: number;
  readonly before: readonly Play[];
  readonly open: Play;
};

/** Tapped in: the first closure that does not say that it may be in use inside must be held by it. */
function unheld({ sheet, line, site, ready, closures, own }: Trying): Finding | undefined {
  const put = inside(ready, line, site.id);
  if (!put.ok) return undefined;
  const gate = closures.slice(own).find(({ inUse }) => !inUse.includes(line.id));
  const holds = gate ? holdsOf(put.play.current, gate.id) : [];
  const isHeld = holds.some(({ code, about }) => code === 'piece-inside' && about === line.id);
  if (isHeld) return undefined;
  return {
    code: 'closes-on',
    path: linePath(sheet, line.id),
    found: `one ${line.name} in the ${site.name.toLowerCase()} that holds no closure`,
    expected: 'be held by the closure of that site or a later one',
    way: put.play.way,
  };
}

/** Not tapped by anybody: a count before the site is closed, or a later one, must ask for it. */
function unasked(trying: Trying): Finding | undefined {
  const { sheet, line, site, closures, own, before } = trying;
  if (line.tracked && !line.counted) return undefined;
  // Of a wound that is closed after the cavity, the cavity's count is the one that asks for everything.
  const from = site.kind === 'wound' ? 0 : own;
  const asking = closures.slice(from);
  for (const [index, { count }] of asking.entries()) {
    const play = before[from + index];
    const ready = play && onTable(play, line);
    if (ready?.ok !== true) continue;
    const begun = act(ready.play, { type: 'beginCount', moment: count });
    // A count that cannot be begun was found by playing; nothing follows from it here.
    if (!begun.ok || begun.play.current.counts.running?.lines.includes(line.id)) return undefined;
  }
  const counts = [...new Set(asking.map(({ count }) => count))].join(' and ');
  return {
    code: 'closes-on',
    path: linePath(sheet, line.id),
    found: `one ${line.name} left in the ${site.name.toLowerCase()}, for which no count asks (${counts})`,
    expected: line.counted
      ? `be asked for, by the class ${line.class} under moments`
      : 'be counted or tracked',
    way: unnoticed(trying),
  };
}

/** A whole case without trouble, in which the piece goes in just after the incision and nothing notices. */
function unnoticed({ line, site, before, closures, open }: Trying): readonly string[] {
  const whole = before[closures.length - 1]?.way ?? [];
  const opened = onTable(open, line);
  const begun = opened.ok ? opened.play.way : open.way;
  const lost = `# one ${line.name} goes into the ${site.name.toLowerCase()}, and nobody taps it in`;
  const last = `close: { closure: ${closures.at(-1)?.id ?? ''} }`;
  return [...begun, lost, ...whole.slice(open.way.length), last];
}
