import type {
  Answering,
  Checkpoint,
  ChildDose,
  Closure,
  Line,
  LocalChange,
  Medicine,
  PlannedSpecimen,
  Sheet,
  Stay,
  Step,
  Turn,
  Variant,
  When,
} from '#engine/sheet.ts';
import { either, listed } from './issues.ts';

/** One part of a sheet in words: what it is called, and what is said of it, by the word of the format. */
export type SheetPart = {
  /** The same part in another version of the sheet has the same key. */
  readonly key: string;
  readonly name: string;
  readonly facts: Readonly<Record<string, string>>;
};

/** Every part of a sheet in words, in the order of the sheet, under the heading of its kind. */
export function partsOf(sheet: Sheet): ReadonlyMap<string, readonly SheetPart[]> {
  const sectionName = (id: string) => sheet.sections.find((one) => one.id === id)?.name ?? id;
  return new Map([
    ['The sheet', [{ key: sheet.id, name: sheet.title, facts: headFacts(sheet) }]],
    ['Sites', sheet.sites.map(({ id, name, kind }) => part(id, name, { kind }))],
    ['Variants', sheet.variants.map((one) => part(one.id, one.name, variantFacts(sheet, one)))],
    [
      'Lines',
      sheet.lines.map((one) =>
        part(one.id, one.name, { section: sectionName(one.section), ...lineFacts(sheet, one) }),
      ),
    ],
    [
      'Counts',
      sheet.moments.map(({ id, name, classes }) => part(id, name, { covers: listed(classes) })),
    ],
    ['Checkpoints', sheet.checkpoints.map((one) => part(one.id, one.name, pointFacts(one)))],
    ['Questions', questionsOf(sheet)],
    ['Specimens', sheet.specimens.map((one) => part(one.id, one.name, specimenFacts(one)))],
    ['Closures', sheet.closures.map((one) => part(keyOf(one), one.name, closureFacts(sheet, one)))],
    ['Medicines', sheet.medicines.map((one) => part(one.id, one.name, medicineFacts(one)))],
    ['Numbers of the house', [part('policy', 'Numbers of the house', policyFacts(sheet))]],
    ['Local changes', sheet.changes.map((one) => part(changeKey(one), one.what, changeFacts(one)))],
  ]);
}

type Said = Readonly<Record<string, string | number | boolean | undefined>>;

/** Leaves out what is not said, so that two sheets that say the same are the same. */
function part(key: string, name: string, said: Said): SheetPart {
  const facts = Object.entries(said).flatMap(([word, value]) =>
    value === undefined || value === '' ? [] : [[word, inWords(value)] as const],
  );
  return { key, name, facts: { name, ...Object.fromEntries(facts) } };
}

const inWords = (value: string | number | boolean): string =>
  typeof value === 'boolean' ? (value ? 'yes' : 'no') : String(value);

const headFacts = ({ title, version, aims, briefing = [], sources }: Sheet) => ({
  title,
  version,
  aims: aims.join(' '),
  briefing: briefing.join(' '),
  sources: sources.join('; '),
});

const nameOf = (sheet: Sheet, line: string): string =>
  sheet.lines.find(({ id }) => id === line)?.name ?? line;

const opensInWords = (sheet: Sheet, opens: Readonly<Record<string, number>>): string =>
  Object.entries(opens)
    .map(([line, n]) => `${n} ${nameOf(sheet, line)}`)
    .join(', ');

const variantFacts = (
  sheet: Sheet,
  { group, opens, without = {}, note, choose }: Variant,
): Said => ({
  group,
  opens: opensInWords(sheet, opens),
  without: opensInWords(sheet, without),
  note,
  choose,
});

const lineFacts = (sheet: Sheet, line: Line): Said => ({
  detail: line.detail,
  group: line.group,
  class: line.class,
  opening: line.opening,
  pack: line.pack,
  tracked: line.tracked,
  counted: line.counted,
  stay: stayInWords(line.stay),
  'starts-in': line.startsIn,
  film: line.film,
  'size-mm': line.sizeMm,
  'length-mm': line.lengthMm,
  cuttable: line.cuttable,
  brings: line.brings.map((one) => `${one.n} ${nameOf(sheet, one.line)}`).join(', '),
  'dry-g': line.dryG,
  codes: line.codes?.join(', '),
  turns: line.turns.map((turn) => turnInWords(sheet, turn)).join('; '),
  source: line.source,
});

const stayInWords = (stay: Stay): string =>
  stay.may === 'reason' ? `with ${listed(stay.needs)}` : stay.may;

const turnInWords = (sheet: Sheet, { name, at, asks, gives }: Turn): string => {
  const given = gives.map(({ line, n, place }) => {
    const pieces = n === 'asked' ? `as many ${asks ?? 'pieces'} as said` : String(n);
    return `${pieces} ${nameOf(sheet, line)} (${place})`;
  });
  return `${name}, at ${at}, gives ${listed(given)}`;
};

const pointFacts = ({ before, leader, present, when, steps }: Checkpoint): Said => ({
  before,
  leader,
  present: listed(present),
  when: whenInWords(when),
  order: steps.map(({ short }) => short).join(', '),
});

const questionsOf = (sheet: Sheet): readonly SheetPart[] => [
  ...sheet.checkpoints.flatMap(({ id, name, steps }) =>
    steps.map((step) => part(`${id} ${step.id}`, `${name}, ${step.short}`, stepFacts(step))),
  ),
  ...sheet.closures.flatMap((closure) =>
    closure.look.map((step) =>
      part(
        `${keyOf(closure)} ${step.id}`,
        `Last look before ${closure.name}, ${step.short}`,
        stepFacts(step),
      ),
    ),
  ),
];

const stepFacts = (step: Step): Said => ({
  who: step.who,
  ask: step.ask,
  answer: answeringInWords(step.answering),
  usual: step.usual,
  'stop-on': step.stopOn.length > 0 ? either(step.stopOn) : undefined,
  'may-not-apply': step.mayNotApply,
  when: whenInWords(step.when),
  'who-item': step.whoItem,
  source: step.source,
});

function answeringInWords(answering: Answering): string {
  switch (answering.kind) {
    case 'choice':
      return either(answering.options.map(({ name }) => name));
    case 'number':
      return ['a number', answering.unit, answering.flag, answering.opens?.line]
        .filter((word) => word !== undefined)
        .join(', ');
    case 'computed':
      return `from the case: ${answering.from}`;
    default:
      return answering.kind;
  }
}

function whenInWords(when: When | undefined): string | undefined {
  if (when === undefined) return undefined;
  const parts = [
    ...(when.variant ? [`with ${either(when.variant)}`] : []),
    ...(when.step ? [`after ${when.step}`] : []),
    ...(when.is ? [`answered ${either(when.is)}`] : []),
    ...(when.flagged === undefined ? [] : [when.flagged ? 'over its limit' : 'within its limit']),
  ];
  return parts.join(' ');
}

const specimenFacts = (one: PlannedSpecimen): Said => ({
  letter: one.letter,
  site: one.site,
  'site-words': one.siteWords,
  side: one.side,
  test: one.test,
  media: either(one.media),
  bag: one.bag,
  planned: one.planned,
  when: whenInWords(one.when),
});

/** Two closures may share an id for different variants. */
const keyOf = ({ id, when }: Closure): string => [id, ...(when?.variant ?? [])].join(' ');

const closureFacts = (sheet: Sheet, one: Closure): Said => ({
  sites: listed(one.sites),
  count: one.count,
  'in-use': one.inUse.map((line) => nameOf(sheet, line)).join(', '),
  when: whenInWords(one.when),
  look: one.look.map(({ short }) => short).join(', '),
});

const medicineFacts = (one: Medicine): Said => ({
  'dose-mg': one.doseMg,
  heavy: one.heavy && `${one.heavy.doseMg} mg from ${one.heavy.fromKg} kg`,
  'mg-per-kg': one.mgPerKg,
  'by-dosing-weight': one.isByDosingWeight,
  part: one.part && `${one.part.name}, ${one.part.doseMg} mg`,
  child: one.child?.map(childInWords).join('; '),
  'window-minutes': one.windowMinutes,
  'redose-hours': one.redoseHours ?? 'none',
  source: one.source,
});

function childInWords(one: ChildDose): string {
  const upTo = one.upToMgPerKg === undefined ? '' : ` to ${one.upToMgPerKg}`;
  const limits = [
    ...(one.fromMonths === undefined ? [] : [`from ${one.fromMonths} months`]),
    ...(one.overMonths === undefined ? [] : [`over ${one.overMonths} months`]),
    ...(one.underKg === undefined ? [] : [`under ${one.underKg} kg`]),
    ...(one.isOnce ? ['once'] : []),
  ];
  return [`${one.mgPerKg}${upTo} mg/kg`, ...limits].join(' ');
}

const policyFacts = ({ policy }: Sheet): Said => ({
  'child-under-years': policy.childUnderYears,
  'blood-loss-ml': policy.bloodLossMl,
  'child-blood-loss-ml-per-kg': policy.childBloodLossMlPerKg,
  'film-reliable-mm': policy.filmReliableMm,
  'film-poor-mm': policy.filmPoorMm,
  'interrupted-count': policy.interruptedCount,
  'redose-blood-loss-ml': policy.redoseBloodLossMl,
  'seconds-per-step': policy.secondsPerStep,
});

const changeKey = ({ what, approvedOn }: LocalChange): string => `${what} ${approvedOn}`;

const changeFacts = ({ from, to, reason, approvedBy, approvedOn }: LocalChange): Said => ({
  from,
  to,
  reason,
  'approved-by': approvedBy,
  'approved-on': approvedOn,
});
