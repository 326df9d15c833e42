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
import { say, sayOf } from '#words/say.ts';

/** One part of a sheet in words: what it is called, and what is said of it, by the word of the format. */
export type SheetPart = {
  /** The same part in another version of the sheet has the same key. */
  readonly key: string;
  readonly name: string;
  readonly facts: Facts;
};

/** The words of the format under which something is said of a part. */
export const factWords = [
  ...['name', 'title', 'version', 'aims', 'briefing', 'sources', 'kind', 'section', 'group'],
  'together',
  ...['opens', 'without', 'note', 'choose', 'detail', 'class', 'opening', 'pack', 'tracked'],
  ...['counted', 'stay', 'starts-in', 'film', 'size-mm', 'length-mm', 'cuttable', 'brings'],
  ...['dry-g', 'codes', 'turns', 'source', 'covers', 'before', 'leader', 'present', 'when'],
  ...['order', 'who', 'ask', 'answer', 'usual', 'stop-on', 'may-not-apply', 'who-item', 'letter'],
  ...['site', 'site-words', 'side', 'test', 'media', 'bag', 'planned', 'sites', 'count', 'in-use'],
  ...['look', 'dose-mg', 'heavy', 'mg-per-kg', 'by-dosing-weight', 'part', 'child'],
  ...['window-minutes', 'redose-hours', 'at-hand', 'child-under-years', 'blood-loss-ml'],
  ...['child-blood-loss-ml-per-kg', 'film-reliable-mm', 'film-poor-mm', 'interrupted-count'],
  ...['redose-blood-loss-ml', 'seconds-per-step', 'from', 'to', 'reason', 'approved-by'],
  'approved-on',
] as const;

export type FactWord = (typeof factWords)[number];
export type Facts = Readonly<Partial<Record<FactWord, string>>>;

/** Every part of a sheet in words, in the order of the sheet, under the heading of its kind. */
export function partsOf(sheet: Sheet): ReadonlyMap<string, readonly SheetPart[]> {
  const sectionName = (id: string) => sheet.sections.find((one) => one.id === id)?.name ?? id;
  return new Map([
    [say`The sheet`, [{ key: sheet.id, name: sheet.title, facts: headFacts(sheet) }]],
    [say`Sites`, sheet.sites.map(({ id, name, kind }) => part(id, name, { kind }))],
    [say`Variants`, sheet.variants.map((one) => part(one.id, one.name, variantFacts(sheet, one)))],
    [
      say`Lines`,
      sheet.lines.map((one) =>
        part(one.id, one.name, { section: sectionName(one.section), ...lineFacts(sheet, one) }),
      ),
    ],
    [
      'Counts',
      sheet.moments.map(({ id, name, classes }) => part(id, name, { covers: listed(classes) })),
    ],
    [say`Checkpoints`, sheet.checkpoints.map((one) => part(one.id, one.name, pointFacts(one)))],
    [say`Questions`, questionsOf(sheet)],
    [say`Specimens`, sheet.specimens.map((one) => part(one.id, one.name, specimenFacts(one)))],
    [
      say`Closures`,
      sheet.closures.map((one) => part(keyOf(one), one.name, closureFacts(sheet, one))),
    ],
    [say`Medicines`, sheet.medicines.map((one) => part(one.id, one.name, medicineFacts(one)))],
    [say`Numbers of the house`, [part('policy', say`Numbers of the house`, policyFacts(sheet))]],
    [
      say`Local changes`,
      sheet.changes.map((one) => part(changeKey(one), one.what, changeFacts(one))),
    ],
  ]);
}

type Value = string | number | boolean | undefined;
type Said = Readonly<Partial<Record<FactWord, Value>>>;

const listed = (words: readonly string[]): string => [...new Set(words)].map(sayOf).join(', ');
const either = (words: readonly string[]): string => words.map(sayOf).join(' / ');

/** Leaves out what is not said, so that two sheets that say the same are the same. */
function part(key: string, name: string, said: Said): SheetPart {
  const facts = Object.entries(said).flatMap(([word, value]) =>
    value === undefined || value === '' ? [] : [[word, inWords(value)] as const],
  );
  return { key, name, facts: { name, ...Object.fromEntries(facts) } };
}

const inWords = (value: string | number | boolean): string =>
  typeof value === 'boolean' ? (value ? say`yes` : say`no`) : sayOf(String(value));

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
  together: line.together,
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
  stay.may === 'reason' ? say`with ${listed(stay.needs)}` : stay.may;

const turnInWords = (sheet: Sheet, { name, at, asks, gives }: Turn): string => {
  const given = gives.map(({ line, n, place }) => {
    const pieces = n === 'asked' ? say`as many ${asks ?? say`pieces`} as said` : String(n);
    return `${pieces} ${nameOf(sheet, line)} (${sayOf(place)})`;
  });
  return say`${name}, at ${sayOf(at)}, gives ${given.join(', ')}`;
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
        say`Last look before ${closure.name}, ${step.short}`,
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
      return [say`a number`, answering.unit, answering.flag, answering.opens?.line]
        .filter((word) => word !== undefined)
        .join(', ');
    case 'computed':
      return say`from the case: ${sayOf(answering.from)}`;
    default:
      return answering.kind;
  }
}

function whenInWords(when: When | undefined): string | undefined {
  if (when === undefined) return undefined;
  const parts = [
    ...(when.variant ? [say`with ${either(when.variant)}`] : []),
    ...(when.step ? [say`after ${when.step}`] : []),
    ...(when.is ? [say`answered ${either(when.is)}`] : []),
    ...(when.flagged === undefined
      ? []
      : [when.flagged ? say`over its limit` : say`within its limit`]),
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
  heavy: one.heavy && say`${one.heavy.doseMg} mg from ${one.heavy.fromKg} kg`,
  'mg-per-kg': one.mgPerKg,
  'by-dosing-weight': one.isByDosingWeight,
  part: one.part && `${one.part.name}, ${one.part.doseMg} mg`,
  child: one.child?.map(childInWords).join('; '),
  'window-minutes': one.windowMinutes,
  'redose-hours': one.redoseHours ?? say`none`,
  'at-hand': one.isAtHand,
  source: one.source,
});

function childInWords(one: ChildDose): string {
  const upTo = one.upToMgPerKg === undefined ? '' : `–${one.upToMgPerKg}`;
  const limits = [
    ...(one.fromMonths === undefined ? [] : [say`from ${one.fromMonths} months`]),
    ...(one.overMonths === undefined ? [] : [say`over ${one.overMonths} months`]),
    ...(one.underKg === undefined ? [] : [say`under ${one.underKg} kg`]),
    ...(one.isOnce ? [say`once`] : []),
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
