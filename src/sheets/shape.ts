import { lineClasses, sides, variantChoices } from '#engine/sheet.ts';
import { pieces, sentence, words } from './commonShapes.ts';
import { line, section } from './lineShapes.ts';
import type { Reader } from './reader.ts';
import { byId, eitherOf, fields, list, mapped, needed, optional, orShared } from './readers.ts';
import { form, id, number, oneOf, text, yesNo } from './scalarReaders.ts';
import { checkpoint, step, steps, when } from './stepShapes.ts';
import { media } from './words.ts';

/** The format of a sheet, once: the check, the JSON Schema and the tables of the README are made from it. */

const day = form(/^\d{4}-\d\d-\d\d$/, 'a day such as 2026-01-05');
const hours: Reader<number | null> = number(0.5, 48, false, ' or none');
const none: Reader<number | null> = mapped(oneOf(['none']), () => null);

const specimenShape = {
  letter: needed(
    form(/^[A-Z]$/, 'one capital letter'),
    'The letter on the pot. Specimens of different variants of a group may share one.',
  ),
  name: needed(words, 'What it is called on the label.'),
  site: needed(id, 'The site that it comes out of.'),
  'site-words': optional(words, 'The site as the label says it.'),
  side: optional(oneOf(sides), 'The side. "not applicable" if left out.'),
  'side-by': optional(
    byId(oneOf(sides), 'variants, each with its side', 10),
    'In place of side and when: variants of one group, each with its side.',
  ),
  test: needed(words, 'What is to be done with it.'),
  media: needed(list(oneOf(media), 8), 'What it may go into.'),
  bag: optional(yesNo, 'Whether it comes out in a retrieval bag, to be looked at. No if left out.'),
  planned: optional(yesNo, 'Whether it is owed from the start. Yes if left out.'),
  when: optional(when, 'When it applies. Always if left out.'),
} as const;
/** What is removed and kept. */
export const specimen = fields('a specimen, with its letter and name', specimenShape);

const closureShape = {
  id: optional(id, 'Its short name, where two closures share one for different variants.'),
  name: needed(words, 'What is closed.'),
  sites: needed(list(id, 10), 'The sites that it closes.'),
  count: needed(oneOf(['cavity', 'closing', 'final']), 'The count that it needs.'),
  'in-use': optional(
    list(id, 60, 0),
    'Lines that may still be inside while it is made (port parts).',
  ),
  source: optional(sentence, 'Where its last look comes from, where the steps do not say.'),
  look: optional(steps, 'What the surgeon answers before it.'),
  when: optional(when, 'When it applies. Always if left out.'),
} as const;
/** What is closed, and what that needs. */
export const closure = fields('a closure, with its sites', closureShape);

const milligrams = number(1, 100_000, false);
const perKilogram = number(0.01, 1000, false);
const months = number(0, 240, true);
const kilograms = number(0.1, 500, false);

/** What a table gives a child. */
export const childDose = fields("a child's dose, with mg-per-kg", {
  'mg-per-kg': needed(perKilogram, 'Milligrams per kilogram.'),
  'up-to-mg-per-kg': optional(perKilogram, 'The upper end, where the table gives a range.'),
  'from-months': optional(months, 'For children of this age and older.'),
  'over-months': optional(months, 'For children older than this.'),
  'under-kg': optional(kilograms, 'For children lighter than this.'),
  once: optional(yesNo, 'Whether it is given only once. No if left out.'),
});

const medicineShape = {
  name: needed(words, 'Its name.'),
  'dose-mg': optional(milligrams, 'The usual dose of an adult, and the most for a child.'),
  heavy: optional(
    fields('another dose of heavy adults', {
      'from-kg': needed(kilograms, 'From this weight on.'),
      'dose-mg': needed(milligrams, 'The dose then.'),
    }),
    'Another dose for heavy adults: from-kg and dose-mg.',
  ),
  'mg-per-kg': optional(perKilogram, 'The dose of an adult, where it goes by weight.'),
  'by-dosing-weight': optional(
    yesNo,
    'Whether weight means dosing weight: over 120 % of the ideal weight, that and 0.4 of the rest.',
  ),
  part: optional(
    fields('the part of a mixture', {
      name: needed(words, "The part that a child's dose counts."),
      'dose-mg': needed(milligrams, "How much of it an adult's dose holds."),
    }),
    "Of a mixture, the part that a child's dose counts: name and dose-mg.",
  ),
  child: optional(list(childDose, 6), "A child's doses; the first that fits."),
  'window-minutes': needed(number(1, 600, true), 'How long before incision it may be started.'),
  'redose-hours': needed(
    eitherOf<number | null>(
      (tree) => (tree.kind === 'scalar' && tree.value === 'none' ? none : hours),
      [hours, none],
      hours.expected,
    ),
    'Hours from its start to the next dose, or none.',
  ),
  'at-hand': optional(
    yesNo,
    'Whether it has a key of its own where the antibiotic is asked. No if left out.',
  ),
  source: needed(sentence, 'Where the numbers come from.'),
} as const;
/** An antibiotic and its times. */
export const medicine = fields('a medicine, with its window', medicineShape);

const policyShape = {
  'child-under-years': optional(number(1, 30, true), 'Who counts as a child.'),
  'blood-loss-ml': optional(number(1, 10_000, true), 'Blood loss for which the team prepares.'),
  'child-blood-loss-ml-per-kg': optional(number(0.1, 100, false), 'The same for a child, per kg.'),
  'film-reliable-mm': optional(number(0.1, 100, false), 'Needles below it may not show on a film.'),
  'film-poor-mm': optional(number(0.1, 100, false), 'At or below it a film is not worth taking.'),
  'interrupted-count': optional(oneOf(['whole', 'class']), 'What starts again.'),
  'redose-blood-loss-ml': optional(
    number(1, 10_000, true),
    'Blood loss since a dose above which it is given again.',
  ),
  'seconds-per-step': optional(number(0, 60, false), 'A step answered faster is marked.'),
} as const;
/** Numbers of the house. */
export const policy = fields('policy numbers', policyShape);

/** One way of doing the operation. */
export const variant = fields('a variant, with its name', {
  name: needed(words, 'What it is called.'),
  opens: optional(
    byId(pieces, 'lines that it opens', 60),
    'What is opened for it beyond the sheet.',
  ),
  without: optional(
    byId(pieces, 'lines that it leaves out', 60),
    'What the first count then has less of (a port that another takes the place of).',
  ),
  note: optional(sentence, 'What the team should know.'),
  choose: optional(
    oneOf(variantChoices),
    'mid-case for a conversion; never for what stands until another is chosen. At any time if left out.',
  ),
});

/** What a theatre changed, who approved it and when. */
export const change = fields('a local change, with who approved it', {
  line: optional(id, 'The line that is changed.'),
  checkpoint: optional(id, 'The checkpoint of the step that is changed.'),
  closure: optional(id, 'The closure of the last-look step that is changed.'),
  step: optional(id, 'The step that is changed.'),
  section: optional(id, 'The section that a new line is added to.'),
  medicine: optional(id, 'The medicine that is changed.'),
  policy: optional(id, 'The policy number that is changed; set it with to.'),
  'who-items': optional(list(number(1, 19, true), 19), 'Items of the WHO list that are left out.'),
  set: optional(
    fields('the new words or numbers', {
      name: optional(words, 'New name of a line.'),
      detail: optional(sentence, 'New detail of a line.'),
      opening: optional(pieces, 'New opening quantity of a line.'),
      pack: optional(number(1, 100, true), 'New pack size of a line.'),
      together: optional(yesNo, 'Whether a count asks once for it and such other parts.'),
      'dry-g': optional(number(0, 1000, false), 'New dry weight of a line.'),
      ask: optional(sentence, 'New words of a step.'),
      short: optional(text(48), 'New short words of a step.'),
      'dose-mg': optional(number(1, 100_000, false), 'New dose of a medicine.'),
      'window-minutes': optional(number(1, 600, true), 'New window of a medicine.'),
      'redose-hours': optional(number(0.5, 48, false), 'New hours to the next dose.'),
      'at-hand': optional(yesNo, 'Whether a medicine has a key of its own.'),
    }),
    'The new words or numbers.',
  ),
  to: optional(number(0, 10_000, false), 'The new policy number.'),
  drop: optional(yesNo, 'Whether the line or step is left out.'),
  'new-line': optional(line, 'A line that is added, under the short name that line says.'),
  'new-step': optional(
    step,
    'A step that is added at the end, under the short name that step says.',
  ),
  reason: needed(sentence, 'Why.'),
  'approved-by': needed(words, 'Who approved it.'),
  'approved-on': needed(day, 'When.'),
});

/** A place in the patient with a gate of its own. */
export const site = fields('a site, with its name', {
  name: needed(words, 'What it is called.'),
  kind: needed(oneOf(['cavity', 'wound', 'orifice']), 'An orifice is open before any incision.'),
});

type Classes = readonly (typeof lineClasses)[number][];
const allClasses: Reader<Classes> = mapped(oneOf(['all']), () => lineClasses);
const someClasses: Reader<Classes> = list(oneOf(lineClasses), 4);
const covered = eitherOf<Classes>(
  (tree) => (tree.kind === 'list' ? someClasses : allClasses),
  [allClasses, someClasses],
  `all, or a list of ${oneOf(lineClasses).expected}`,
);

/** The whole of a sheet. */
export const sheetShape = fields('a sheet, with its title', {
  sheet: needed(id, 'The short name of the sheet: that of its file.'),
  title: needed(words, 'The procedure, as the trade names it.'),
  version: needed(
    form(/^\d{4}-\d\d$/, 'a year and month such as 2026-01'),
    'When it was last revised.',
  ),
  aims: optional(list(sentence, 20), 'What the sheet is for.'),
  briefing: optional(list(sentence, 40), 'What the team says before the patient comes. Not gated.'),
  include: optional(list(id, 20), 'Shared files from which the word "shared" takes.'),
  sites: needed(byId(site, 'sites', 12), 'The places in the patient, each with its own gate.'),
  variants: optional(
    byId(byId(variant, 'variants', 30), 'groups of variants', 10),
    'Ways of doing it, in groups. A case has one of each group, the first if none is chosen.',
  ),
  sections: needed(
    byId(orShared(section), 'sections', 40),
    'The count sheet: trays and packs, with lines.',
  ),
  opens: optional(
    byId(pieces, 'lines that it opens', 100),
    'What the first count has of lines that say no opening of their own, such as shared ones.',
  ),
  moments: optional(
    byId(covered, 'counts', 7),
    'Which counts there are and what each covers. All but the cavity count if left out.',
  ),
  checkpoints: needed(
    byId(orShared(checkpoint), 'checkpoints', 12),
    'When the team stops, in order.',
  ),
  specimens: optional(byId(orShared(specimen), 'specimens', 26), 'What is removed and kept.'),
  closures: needed(byId(closure, 'closures', 20), 'What is closed, in order.'),
  medicines: optional(orShared(byId(medicine, 'medicines', 60)), 'Antibiotics and their times.'),
  policy: optional(orShared(policy), 'Numbers of the house.'),
  changes: optional(list(change, 100), 'What the theatre changed, who approved it and when.'),
  sources: needed(list(sentence, 60), 'What the sheet as a whole rests on.'),
});
/** A sheet as it is written, before what it leaves out is filled in. */
export type SheetWritten = typeof sheetShape.blank;

/** A shared file: parts that sheets take by name. */
export const sharedShape = fields('a shared file', {
  shared: needed(id, 'The short name of the file.'),
  sections: optional(byId(orShared(section), 'sections', 40), 'Trays and packs.'),
  checkpoints: optional(byId(orShared(checkpoint), 'checkpoints', 12), 'Whole checkpoints.'),
  steps: optional(byId(orShared(step), 'steps', 100), 'Steps of checkpoints and last looks.'),
  specimens: optional(byId(orShared(specimen), 'specimens', 26), 'Specimens.'),
  medicines: optional(byId(medicine, 'medicines', 60), 'Medicines.'),
  policy: optional(policy, 'Numbers of the house.'),
});
