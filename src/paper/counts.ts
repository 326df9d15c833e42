import { type Line, lineClasses, type Sheet } from '#engine/sheet.ts';
import { say } from '#words/say.ts';
import type { Printed } from './printed.ts';
import { across, cell, type Element, el, field, row, table } from './tree.ts';

/** The count sheet, and what was counted by whom. */
export function countPages({ sheet }: Printed): readonly Element[] {
  return [
    el(
      'section.count',
      el(
        'h2',
        say`Count sheet`,
        el('small', say`swabs, sharps, small items, instruments; field, table, off`),
      ),
      el(
        'p',
        say`Two people, together and aloud, see every piece. Write what you see, not what should be there; cover the
          earlier columns. In and out: one stroke a piece, at once. A pack with a wrong number is set aside whole.`,
      ),
      countTable(sheet),
    ),
    el('section.agreed', el('h2', say`Counts made`), countsMade(sheet)),
  ];
}

const countNames = () => ({
  swab: say`Swabs`,
  sharp: say`Sharps`,
  small: say`Small items`,
  instrument: say`Instruments`,
});

function countTable(sheet: Sheet): Element {
  const later = laterCounts(sheet);
  const head = [
    say`Line`,
    say`Listed`,
    say`First`,
    say`Added`,
    say`In`,
    say`Out`,
    ...later.map(({ short }) => short),
  ];
  const columns = head.length;
  const rows = lineClasses.flatMap((lineClass) => {
    const lines = sheet.lines.filter((line) => line.class === lineClass);
    if (lines.length === 0) return [];
    const spare = new Array<Element>(2).fill(row(...new Array<Element>(columns).fill(cell())));
    return [
      el('tr.class', across(el('th', countNames()[lineClass]), columns)),
      ...lines.map((line) => lineRow(sheet, line, later.length)),
      ...spare,
    ];
  });
  return table('lines', head, rows);
}

/** The counts after the first that a sheet has, by the name that fits into a narrow column. */
function laterCounts({ moments }: Sheet): readonly { readonly short: string }[] {
  const named = {
    cavity: say`Cavity`,
    closing: say`Closing`,
    final: say`Final`,
    relief: say`Relief`,
  } as const;
  return (['relief', 'cavity', 'closing', 'final'] as const).flatMap((id) =>
    moments.some((moment) => moment.id === id) ? [{ short: named[id] }] : [],
  );
}

function lineRow(sheet: Sheet, line: Line, later: number): Element {
  const shut = el('td.shut', '×');
  const isFollowed = line.tracked ? cell() : shut;
  const counted = line.counted ? cell() : shut;
  return row(
    cell(
      el('strong', line.name),
      el('small', marks(line)),
      ...line.turns.map((turn) => el('small', turnInWords(sheet, turn))),
    ),
    el('td.number', line.opening > 0 ? String(line.opening) : '–'),
    counted,
    cell(),
    isFollowed,
    isFollowed,
    ...new Array<Element>(later).fill(counted),
  );
}

/** What whoever counts must know of a line, in few words. */
function marks({ pack, film, stay, counted, cuttable, class: lineClass, detail }: Line): string {
  const words = [
    ...(pack === undefined ? [] : [say`packs of ${pack}`]),
    ...(film === 'no' ? [say`no X-ray shows it`] : []),
    ...(stay.may === 'yes' ? [say`may stay`] : []),
    ...(stay.may === 'reason'
      ? [say`may stay: say ${stay.needs.map((need) => needs()[need]).join(', ')}`]
      : []),
    ...(counted ? [] : [say`followed, not counted`]),
    ...(lineClass !== 'swab' && !cuttable ? [say`never cut`] : []),
    ...(detail === undefined ? [] : [detail]),
  ];
  return words.join('; ');
}

function turnInWords(sheet: Sheet, { name, gives, asks }: Line['turns'][number]): string {
  const given = gives.map(({ line, n, place }) => {
    const called = sheet.lines.find(({ id }) => id === line)?.name ?? line;
    return `${n === 'asked' ? (asks ?? 'n') : n} ${called} ${places()[place]}`;
  });
  return say`${name}: write ${given.join(', ')}`;
}

/** What must be said of a piece that stays. */
const needs = () => ({ reason: say`why`, where: say`where`, lot: say`the lot number` }) as const;

const places = () =>
  ({
    here: say`there`,
    patient: say`inside`,
    table: say`on the table`,
    off: say`off the field`,
    stays: say`stays on purpose`,
  }) as const;

function countsMade({ moments }: Sheet): Element {
  const made = moments.flatMap(({ id, name }) => {
    const times = id === 'added' || id === 'relief' || id === 'extra' ? 2 : 1;
    return new Array<string>(times).fill(name);
  });
  return table(
    'made',
    [say`Count`, say`At`, say`Scrub`, say`Circulator`, say`Agrees in every line?`],
    made.map((name) => row(cell(name), cell(), cell(), cell(), cell(say`yes / no, which:`))),
  );
}

/** What is done when a line does not agree, in the order in which the tablet leads it (rules D1 to D4). */
export function discrepancyPage(): Element {
  const steps = [
    say`Counted again, roles swapped; agrees twice in a row: settled`,
    say`Surgeon told`,
    say`This paper read back, entry by entry`,
    say`Wound and field searched: ports, suction, bags`,
    say`Room searched: linen, bins, floor, needle box, pots`,
    say`X-ray of the whole field before the patient leaves, read by`,
    say`Found (where), or declared missing by the surgeon and one other (why)`,
  ];
  return el(
    'section.discrepancy',
    el('h2', say`A line does not agree`),
    el(
      'div.signatures',
      field(say`Line`, 'long'),
      field(say`Expected`, 'short'),
      field(say`Seen`, 'short'),
      field(say`Count`, 'middle'),
    ),
    table(
      'steps',
      ['', say`What is done, in this order`, say`By`, say`At`, say`What came of it`],
      steps.map((step, index) => row(cell(String(index + 1)), cell(step), cell(), cell(), cell())),
    ),
    el('p', say`A film that shows nothing proves nothing of a line that no X-ray shows.`),
  );
}
