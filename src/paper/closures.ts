import type { Closure, PlannedSpecimen, Sheet } from '#engine/sheet.ts';
import type { Case, Specimen } from '#engine/state.ts';
import { say, sayInside, sayOf } from '#words/say.ts';
import { questions } from './checkpoints.ts';
import type { Printed } from './printed.ts';
import { box, cell, type Element, el, field, row, table } from './tree.ts';

/** Specimens, what is asked before each closure, what stays, and medicines and blood. */
export function closurePages({ sheet, current }: Printed): readonly Element[] {
  return [
    el('section.specimens', el('h2', say`Specimens`), specimenTable(sheet, current)),
    ...sheet.closures.map((closure) => closurePage(sheet, closure, current)),
    el('section.stays', el('h2', say`What stays inside on purpose`), staysTable()),
    el('section.given', el('h2', say`Antibiotics and blood`), ...given(sheet, current)),
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
      say`Specimen`,
      say`Out: at, pieces, whole`,
      say`Pot, contents seen by two`,
      say`Label read back by`,
      say`Given to, at`,
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
      el(
        'small',
        say`${planned.test}; into ${planned.media.map((one) => sayOf(one.replaceAll('-', ' '))).join(say` or `)}`,
      ),
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
    say`${count} agreed in every line, and nothing entered since`,
    say`every piece that went into: ${sites} – out, staying on purpose${inUse === '' ? '' : say`, or in use`}`,
    say`every specimen out and whole`,
  ];
  return el(
    'section.closure',
    el('h2', say`Before closing: ${sayInside(closure.name)}`),
    el('ul.needs', ...needs.map((words) => el('li', box(closedAt !== undefined), words))),
    inUse !== '' && el('p.in-use', say`May still be in use inside: ${inUse}.`),
    closure.look.length > 0 &&
      questions(
        sheet,
        closure.look,
        (id) => current?.looks[closure.id]?.[id],
        () => undefined,
      ),
    el(
      'div.signatures',
      field(say`Surgeon: nothing open that we know of`, 'long'),
      field(say`Scrub`, 'middle'),
      field(say`Closed at`, 'short', closedAt?.slice(11, 16)),
    ),
  );
}

const staysTable = (): Element =>
  table(
    'stays',
    [
      say`What`,
      say`How many`,
      say`Where`,
      say`Why, lot number`,
      say`To come out: when, told to whom`,
    ],
    new Array<Element>(4).fill(row(...new Array<Element>(5).fill(cell()))),
  );

function given(sheet: Sheet, current: Case | undefined): readonly Element[] {
  const doses = (current?.doses ?? []).map(({ agent, mg, at }) =>
    row(
      cell(at.slice(11, 16)),
      cell(sheet.medicines.find(({ id }) => id === agent)?.name ?? agent),
      cell(mg === undefined ? '' : say`${mg} mg`),
      cell(),
    ),
  );
  const spare = new Array<Element>(3).fill(row(...new Array<Element>(4).fill(cell())));
  return [
    table('doses', [say`At`, say`What`, say`How much`, say`By`], [...doses, ...spare]),
    el(
      'div.signatures',
      field(say`Suction, mL`, 'short'),
      field(say`Irrigation, mL`, 'short'),
      field(say`Swabs weighed wet, g`, 'middle'),
      field(say`Blood loss, mL`, 'short'),
    ),
  ];
}
