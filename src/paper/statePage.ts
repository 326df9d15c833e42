import { closuresOf, signOut } from '#engine/applies.ts';
import { holdsOf } from '#engine/closures/holdsOf.ts';
import { introducedOf, type Row, rowOf } from '#engine/ledger.ts';
import type { Line } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import { say, sayInside } from '#words/say.ts';
import { cell, type Element, el, row, table } from './tree.ts';

/** How a running case stood when it was printed: on a page of its own, which nobody who counts is to read. */
export function statePage(current: Case, at: string): Element {
  const lines = [...current.lines.values()].filter(
    ({ id }) => introducedOf(current.ledger, id) > 0,
  );
  const time = at.slice(11, 16);
  return el(
    'section.state',
    el('h2', say`How the case stood at ${time}`, el('small', say`after entry ${current.entry}`)),
    el(
      'p.apart',
      say`Keep this page apart. Whoever counts does not read it: people see what they expect to see. Compare after
        the count.`,
    ),
    el('h3', say`Inside the patient`),
    ...insideList(current, lines),
    el('h3', say`Still open`),
    ...openList(current),
    el('h3', say`Where everything is`),
    table(
      'places',
      [
        say`Line`,
        say`Opened`,
        say`Table`,
        ...current.sheet.sites.map(({ name }) => say`In: ${name}`),
        say`Off`,
        say`Stays`,
        say`Elsewhere`,
      ],
      lines.map((line) => placesRow(current, line)),
    ),
    el('p', countsInWords(current)),
  );
}

/** Lines whose numbers a count must not be told: all while one runs, else those that wait for a recount. */
function isHidden({ counts, differing }: Case, line: string): boolean {
  return counts.running !== undefined || differing[line]?.stage === 'recount';
}

function insideList(current: Case, lines: readonly Line[]): readonly Element[] {
  if (current.counts.running)
    return [el('p.inside', say`A count was running: no number is printed.`)];
  const words = lines.flatMap((line) => {
    const { inside } = rowOf(current.ledger, line.id);
    return current.sheet.sites.flatMap(({ name }, index) => {
      const n = inside[index] ?? 0;
      if (n === 0) return [];
      const pieces = isHidden(current, line.id) ? '?' : n;
      return [el('li', `${pieces} × ${line.name}, ${sayInside(name)}`)];
    });
  });
  if (words.length === 0) return [el('p.inside', say`Nothing that the record knows of.`)];
  return [el('ul.inside', ...words)];
}

function openList(current: Case): readonly Element[] {
  const gates = [...closuresOf(current).map(({ id }) => id), signOut];
  const holds = new Map(
    gates.flatMap((gate) =>
      holdsOf(current, gate).map(({ title, who }) => [title, `${title} (${who})`] as const),
    ),
  );
  if (holds.size === 0) return [el('p', say`Nothing open that the record knows of.`)];
  return [el('ul.open', ...[...holds.values()].map((words) => el('li', words)))];
}

function placesRow(current: Case, line: Line): Element {
  const known = rowOf(current.ledger, line.id);
  const opened = introducedOf(current.ledger, line.id);
  const number = (n: number): Element => el('td.number', n === 0 ? '–' : String(n));
  if (isHidden(current, line.id))
    return row(
      cell(line.name),
      ...new Array<Element>(5 + known.inside.length).fill(el('td.number', '?')),
    );
  return row(
    cell(line.name),
    number(opened),
    number(known.table),
    ...known.inside.map(number),
    number(known.off),
    number(known.stays),
    cell(elsewhere(known)),
  );
}

function elsewhere({ specimen, away, missing }: Row): string {
  const words = [
    ...(specimen > 0 ? [say`${specimen} with a specimen`] : []),
    ...(away > 0 ? [say`${away} away`] : []),
    ...(missing > 0 ? [say`${missing} missing`] : []),
  ];
  return words.join(', ');
}

function countsInWords({ counts, sheet }: Case): string {
  const made = counts.history.map(({ moment, at, waived, differing }) => {
    const name = sheet.moments.find(({ id }) => id === moment)?.name ?? moment;
    const how = waived ? say`waived` : differing.length > 0 ? say`did not agree` : say`agreed`;
    return say`${name} at ${at.slice(11, 16)}: ${how}.`;
  });
  return made.length === 0 ? say`No count was made.` : made.join(' ');
}
