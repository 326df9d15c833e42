import { fitsVariant } from '#engine/applies.ts';
import { allergiesOf } from '#engine/checkpoints/allergiesOf.ts';
import type { Sheet } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import { dateWords } from '#words/dates.ts';
import { say } from '#words/say.ts';
import { changesOf } from './changesOf.ts';
import { checkpointPages } from './checkpoints.ts';
import { closurePages } from './closures.ts';
import { countPages, discrepancyPage } from './counts.ts';
import type { Printed } from './printed.ts';
import { statePage } from './statePage.ts';
import { blank, choice, type Element, el, field, type Inner } from './tree.ts';

/**
 * The paper form of a sheet: checkpoints, count sheet, specimens, closures and what is left, to go on with when the
 * tablet cannot be used. With a running case it is filled with what is known, on a page of its own: the count sheet
 * stays blank, since whoever counts writes what is seen and not what is expected.
 */
export function paperForm(printed: Printed): Element {
  const shown = applying(printed);
  const { early, late } = checkpointPages(shown);
  return el(
    'article.form',
    el(
      'table.pages',
      el('thead', el('tr', el('th', runningHead(shown)))),
      el(
        'tbody',
        el(
          'tr',
          el(
            'td',
            headPage(shown),
            printed.current && statePage(printed.current, printed.at ?? ''),
            ...early,
            ...countPages(shown),
            ...closurePages(shown),
            ...late,
            discrepancyPage(),
            notesPage(),
          ),
        ),
      ),
    ),
  );
}

/** Stands on every page: a page that comes loose still says whose it is. */
function runningHead({ sheet, current }: Printed): Element {
  const { patient } = current ?? {};
  return el(
    'div.running',
    el('strong', `${current?.practice ? say`PRACTICE, not a patient · ` : ''}${sheet.title}`),
    el('span.running-who', say`Patient `, blank('long', patient?.name)),
    el('span.running-who', say`Number `, blank('middle', patient?.number)),
  );
}

/** Of a running case only what applies to its variants is printed; a blank form has everything. */
function applying({ sheet, current, at }: Printed): Printed {
  if (current === undefined) return { sheet, at };
  const fits = ({ when }: { readonly when?: Sheet['closures'][number]['when'] }): boolean =>
    fitsVariant(current, when?.variant === undefined ? undefined : { variant: when.variant });
  return {
    at,
    current,
    sheet: {
      ...sheet,
      checkpoints: sheet.checkpoints.filter(fits).map((one) => ({
        ...one,
        steps: one.steps.filter(fits),
      })),
      closures: sheet.closures.filter(fits).map((one) => ({ ...one, look: one.look.filter(fits) })),
      specimens: sheet.specimens.filter(fits),
    },
  };
}

/** Left empty where nobody has asked, or said which: it is written on the paper then. */
function allergyWords(current: Case): string | undefined {
  const allergies = allergiesOf(current);
  if (allergies === undefined || allergies === 'unwritten') return undefined;
  return allergies.length === 0 ? say`none known` : allergies.join(', ');
}

function headPage({ sheet, current, at }: Printed): Element {
  const { patient, team } = current ?? {};
  return el(
    'header.head',
    el('p.kind', say`Paper sheet, for when the tablet cannot be used`),
    el('h1', sheet.title),
    el(
      'p.version',
      say`Lastlook sheet ${sheet.id}, revised ${sheet.version}`,
      at !== undefined && say`, printed ${instant(at)}`,
    ),
    el(
      'div.patient',
      field(say`Patient`, 'long', patient?.name),
      field(say`Number`, 'middle', patient?.number),
      field(say`Born`, 'middle', patient?.born),
      field(
        say`Weight`,
        'short',
        patient?.weightKg === undefined ? '' : say`${patient.weightKg} kg`,
      ),
      field(say`Allergies`, 'long', current && allergyWords(current)),
    ),
    el(
      'div.team',
      field(say`Scrub`, 'middle', team?.scrub),
      field(say`Circulator`, 'middle', team?.circulator),
      field(say`Surgeon`, 'middle', team?.surgeon),
      field(say`Anaesthetist`, 'middle', team?.anaesthetist),
      field(say`Date`, 'middle', current && dateWords(current.startedAt)),
      field(say`Theatre`, 'middle'),
      field(say`Incision at`, 'middle', current?.incisionAt?.slice(11, 16)),
    ),
    ...variantChoices(sheet, current),
    el(
      'p.caution',
      say`An aid. Local policy, manufacturers’ instructions and licensed practitioners decide. Two people see and
        say every piece. Write at once, in ink; strike out so that it can still be read, with a name and a time.`,
    ),
    localChanges(sheet),
    current?.incisionAt === undefined && brief(sheet),
  );
}

const instant = (at: string): string => at.slice(0, 16).replace('T', ' ');

function variantChoices(sheet: Sheet, current: Case | undefined): readonly Element[] {
  const groups = [...new Set(sheet.variants.map(({ group }) => group))];
  return groups.map((group) => {
    const words = `${group.charAt(0).toUpperCase()}${group.slice(1).replaceAll('-', ' ')}`;
    const ways = sheet.variants.filter((variant) => variant.group === group);
    return el(
      'p.ways',
      el('strong', words),
      ...ways.map(({ id, name }) => choice(name, current?.variants[group] === id)),
    );
  });
}

function localChanges(sheet: Sheet): Inner {
  const groups = changesOf(sheet);
  if (groups.length === 0) return undefined;
  return el(
    'div.changes',
    el('h3', say`Changed here`),
    ...groups.map(({ changes, approval }) =>
      el('p', `${changes.join('; ')}. `, el('strong', approval)),
    ),
  );
}

/** What the team says before the patient comes: read, not ticked. */
function brief({ briefing = [] }: Sheet): Inner {
  if (briefing.length === 0) return undefined;
  return el(
    'section.brief',
    el('h3', say`Team brief, read aloud before the patient comes`),
    el('ul', ...briefing.map((sentence) => el('li', sentence))),
  );
}

/** What nobody foresaw, and how the paper comes back into the record. */
function notesPage(): Element {
  const lines = new Array<Element>(7).fill(el('p.line'));
  return el(
    'section.notes',
    el('h2', say`Notes and corrections, with time and name`),
    ...lines,
    afterwards(),
  );
}

const afterwards = (): Element =>
  el(
    'div.afterwards',
    el('h3', say`Afterwards`),
    el(
      'p',
      say`When the tablet works again: More, On paper, Type in what is on paper. What was counted, taken and closed
        is entered again, and each entry says "from paper". This paper stays with the notes of the patient.`,
    ),
    el('p.signed', say`Taken back by `, blank('long'), say` at `, blank('middle')),
  );
