/** What the plain page and the React page share: the rows they were given, and the same durable entries. */
import { openTabletJournal } from '#journal/openTabletJournal.ts';
import '#styles/base.css';
import '#styles/tokens.css';
import '#styles/screens.css';
import '#parts/Band.css';
import '#parts/Beads.css';
import '#parts/Button.css';
import '#parts/Foot.css';
import '#parts/Frame.css';
import '#parts/HoldList.css';
import '#parts/Mark.css';
import '#parts/Notice.css';
import '#parts/Scroller.css';
import '#parts/Shell.css';
import '#parts/Spine.css';
import '#parts/Stretch.css';
import '#parts/Wire.css';
import '#parts/WireActions.css';
import '#parts/WireGroup.css';

export const inside = 'patient/abdomen';
export const places = ['table', inside, 'off', 'stays'] as const;
export type Place = (typeof places)[number];
export type Balances = Readonly<Record<Place, number>>;
export type Row = { readonly id: string; readonly name: string; readonly at: Balances };

export const placeWords: Readonly<Record<Place, string>> = {
  table: 'on the table',
  [inside]: 'in the patient',
  off: 'off the field',
  stays: 'stays',
};
export const tones = { table: 'table', [inside]: 'inside', off: 'off', stays: 'stays' } as const;

/** Where a tap moves a piece; undefined where it does nothing. */
export const goesTo = (from: Place): Place | undefined => {
  if (from === 'table') return inside;
  return from === inside ? 'table' : undefined;
};

export const labelOf = (row: Row, place: Place): string => {
  const words = `${row.name}, ${placeWords[place]}: ${row.at[place]}`;
  if (row.at[place] === 0 || !goesTo(place)) return words;
  return `${words}. moves one to ${place === 'table' ? 'the patient' : 'the table'}`;
};

export const moved = (row: Row, from: Place, to: Place): Row => ({
  ...row,
  at: { ...row.at, [from]: row.at[from] - 1, [to]: row.at[to] + 1 },
});

/** The card of what is inside: its title and its second line. */
export function insideWords(rows: readonly Row[]): {
  readonly title: string;
  readonly detail: string;
} {
  const there = rows.filter((row) => row.at[inside] > 0);
  const sum = there.reduce((total, row) => total + row.at[inside], 0);
  return {
    title: sum === 1 ? '1 piece in the patient' : `${sum} pieces in the patient`,
    detail: there.map((row) => `${row.at[inside]} ${row.name}`).join(', '),
  };
}

export const numberAt = (wire: Element, place: Place): number => {
  const number = wire.querySelector(`[data-place="${place}"] .stretch-number`);
  return Number(number?.textContent ?? 0);
};

/** Reads the rows of the screen that was copied. */
export const rowsIn = (root: ParentNode): readonly Row[] =>
  [...root.querySelectorAll('.wire')].map((wire) => ({
    id: wire.getAttribute('data-line') ?? '',
    name: wire.querySelector('.wire-title')?.textContent ?? '',
    at: {
      table: numberAt(wire, 'table'),
      [inside]: numberAt(wire, inside),
      off: numberAt(wire, 'off'),
      stays: numberAt(wire, 'stays'),
    },
  }));

/** Puts the copied screen on the page. Throws: an error where a part of it is not there. */
export function show(html: string) {
  document.body.innerHTML = html;
  const part = (selector: string): Element => {
    const found = document.querySelector(selector);
    if (!found) throw new Error(`The copied screen has no ${selector}.`);
    return found;
  };
  // The clock of the band goes on, as on the tablet.
  const clock = part('.band-clock-time, .clock-time, .band time, .band .digits-type');
  setInterval(() => {
    clock.textContent = new Date().toISOString().slice(11, 19);
  }, 1000);
  return { wires: part('.frame-wires'), holds: part('.holds-list'), foot: part('.foot-last') };
}

/** Opens the journal of the tablet, and answers what writes one move into both its homes. */
export async function openEntries(): Promise<
  (row: Row, from: Place, to: Place) => Promise<number>
> {
  const opened = await openTabletJournal({ cipherOf: async () => 'plain' });
  if (!opened.ok) throw new Error(opened.failure.sentence);
  const caseId = crypto.randomUUID(); // the two pages share an origin, and so its journal
  let entry = 0;
  return async (row, from, to) => {
    entry += 1;
    const own = entry;
    const at = new Date().toISOString();
    const id = crypto.randomUUID();
    const postings = [
      { line: row.id, place: from, by: -1 },
      { line: row.id, place: to, by: 1 },
    ];
    const stamp = { entry: own, at, by: 'theatre tablet', id };
    const event = { type: 'moved', line: row.id, from, to, n: 1, postings, ...stamp };
    const saved = await opened.journal.append(caseId, {
      ...{ id, at, by: 'theatre tablet', epoch: 1, app: 'bench' },
      events: [event],
    });
    if (!saved.ok) throw new Error(saved.failure.sentence);
    return own;
  };
}
