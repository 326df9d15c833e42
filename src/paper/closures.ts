import type { Closure, PlannedSpecimen, Sheet } from '#engine/sheet.ts';
import type { Case, Specimen } from '#engine/state.ts';
import { questions } from './checkpoints.ts';
import type { Printed } from './printed.ts';
import { box, cell, type Element, el, field, row, table } from './tree.ts';

/** Specimens, what is asked before each closure, what stays, and medicines and blood. */
export function closurePages({ sheet, current }: Printed): readonly Element[] {
  return [
    el('section.specimens', el('h2', 'Specimens'), specimenTable(sheet, current)),
    ...sheet.closures.map((closure) => closurePage(sheet, closure, current)),
    el('section.stays', el('h2', 'What stays inside on purpose'), staysTable()),
    el('section.given', el('h2', 'Antibiotics and blood'), ...given(sheet, current)),
  ];
}

function specimenTable(sheet: Sheet, current: Case | undefined): Element {
  const known = sheet.specimens.map((one) => specimenRow(one, current?.specimens[one.id]));
  const added = Object.values(current?.specimens ?? {})
    .filter(({ id }) => !sheet.specimens.some((one) => one.id === id))
    .map((one) => specimenRow(one, one));
  const spare = new Array<Element>(2).fill(row(...new Array<Element>(6).fill(cell())));
  return table(
    'specimens',
    [
      '',
      'Specimen',
      'Out: at, pieces, whole',
      'Pot, contents seen by two',
      'Label read back by',
      'Given to, at',
    ],
    [...known, ...added, ...spare],
  );
}

function specimenRow(
  planned: Pick<PlannedSpecimen, 'letter' | 'name' | 'side' | 'test' | 'media'>,
  now: Specimen | undefined,
): Element {
  const side = planned.side === 'not applicable' ? '' : `, ${planned.side}`;
  const out = now?.takenAt === undefined ? '' : `${now.takenAt.slice(11, 16)}, ${now.pieces ?? 1}`;
  return row(
    el('td.number', planned.letter),
    cell(
      el('strong', `${planned.name}${side}`),
      el('small', `${planned.test}; into ${planned.media.join(' or ').replaceAll('-', ' ')}`),
    ),
    cell(out),
    cell(now?.pot === undefined ? '' : `${now.pot}, ${now.seenBy?.join(', ') ?? ''}`),
    cell(now?.readBackBy ?? ''),
    cell(now?.handedTo ?? ''),
  );
}

function closurePage(sheet: Sheet, closure: Closure, current: Case | undefined): Element {
  const nameOf = (id: string) => sheet.lines.find((line) => line.id === id)?.name ?? id;
  const siteOf = (id: string) => sheet.sites.find((site) => site.id === id)?.name ?? id;
  const count = sheet.moments.find(({ id }) => id === closure.count)?.name ?? closure.count;
  const closedAt = current?.closures[closure.id]?.closedAt;
  const inUse = closure.inUse.map(nameOf).join(', ');
  const sites = closure.sites.map(siteOf).join(', ');
  const needs = [
    `${count} agreed in every line, and nothing entered since`,
    `every piece that went into: ${sites} – out, staying on purpose${inUse === '' ? '' : ', or in use'}`,
    'every specimen out and whole',
  ];
  return el(
    'section.closure',
    el('h2', `Before closing: ${closure.name.toLowerCase()}`),
    el('ul.needs', ...needs.map((words) => el('li', box(closedAt !== undefined), words))),
    inUse !== '' && el('p.in-use', `May still be in use inside: ${inUse}.`),
    closure.look.length > 0 &&
      questions(
        'questions',
        closure.look,
        (id) => current?.looks[closure.id]?.[id],
        () => undefined,
      ),
    el(
      'div.signatures',
      field('Surgeon: nothing open that we know of', 'long'),
      field('Scrub', 'middle'),
      field('Closed at', 'short', closedAt?.slice(11, 16)),
    ),
  );
}

const staysTable = (): Element =>
  table(
    'stays',
    ['What', 'How many', 'Where', 'Why, lot number', 'To come out: when, told to whom'],
    new Array<Element>(4).fill(row(...new Array<Element>(5).fill(cell()))),
  );

function given(sheet: Sheet, current: Case | undefined): readonly Element[] {
  const doses = (current?.doses ?? []).map(({ agent, mg, at }) =>
    row(
      cell(at.slice(11, 16)),
      cell(sheet.medicines.find(({ id }) => id === agent)?.name ?? agent),
      cell(mg === undefined ? '' : `${mg} mg`),
      cell(),
    ),
  );
  const spare = new Array<Element>(3).fill(row(...new Array<Element>(4).fill(cell())));
  return [
    table('doses', ['At', 'What', 'How much', 'By'], [...doses, ...spare]),
    el(
      'div.signatures',
      field('Suction, mL', 'short'),
      field('Irrigation, mL', 'short'),
      field('Swabs weighed wet, g', 'middle'),
      field('Blood loss, mL', 'short'),
    ),
  ];
}
