import type {
  Answering,
  Checkpoint,
  ChildDose,
  Closure,
  Line,
  LocalChange,
  Medicine,
  Moment,
  PlannedSpecimen,
  Policy,
  Section,
  Sheet,
  Stay,
  Step,
  Turn,
  Variant,
  When,
} from '#engine/sheet.ts';
import { lineClasses, momentIds } from '#engine/sheet.ts';
import type { SheetWritten } from './shape.ts';
import {
  classDefaults,
  momentNames,
  momentsAlways,
  policyDefaults,
  standardCheckpoints,
} from './words.ts';

type Part<K extends keyof SheetWritten> =
  NonNullable<SheetWritten[K]> extends ReadonlyMap<string, infer T> ? T : never;
type SectionWritten = Part<'sections'>;
type LineWritten = SectionWritten['lines'] extends ReadonlyMap<string, infer T> ? T : never;
type CheckpointWritten = Part<'checkpoints'>;
type StepWritten = CheckpointWritten['steps'] extends ReadonlyMap<string, infer T> ? T : never;
type WhenWritten = NonNullable<StepWritten['when']>;

/** Fills in what the sheet leaves out, so that the engine has nothing to guess. */
export function resolved(written: SheetWritten, changes: readonly LocalChange[]): Sheet {
  return {
    id: written.sheet,
    title: written.title,
    version: written.version,
    aims: written.aims ?? [],
    ...(written.briefing === undefined ? {} : { briefing: written.briefing }),
    sites: entriesOf(written.sites).map(([id, site]) => ({ id, ...site })),
    variants: variantsOf(written),
    sections: entriesOf(written.sections).map(sectionOf),
    lines: entriesOf(written.sections).flatMap(([section, one]) =>
      entriesOf(one.lines).map(([id, line]) => lineOf(id, line, section, one)),
    ),
    moments: momentsOf(written),
    checkpoints: entriesOf(written.checkpoints).map(([id, one]) => checkpointOf(id, one)),
    specimens: specimensOf(written),
    closures: entriesOf(written.closures).map(([key, one]) => closureOf(key, one)),
    medicines: entriesOf(written.medicines).map(([id, one]) => medicineOf(id, one)),
    policy: policyOf(written),
    sources: written.sources,
    changes,
  };
}

const entriesOf = <T>(
  map: ReadonlyMap<string, T> | undefined,
): readonly (readonly [string, T])[] => (map === undefined ? [] : [...map]);

function variantsOf(written: SheetWritten): readonly Variant[] {
  return entriesOf(written.variants).flatMap(([group, variants]) =>
    entriesOf(variants).map(([id, { name, opens, without, note, choose }]) => ({
      id,
      name,
      group,
      opens: Object.fromEntries(opens ?? []),
      ...(without === undefined ? {} : { without: Object.fromEntries(without) }),
      ...(note === undefined ? {} : { note }),
      ...(choose === undefined ? {} : { choose }),
    })),
  );
}

function sectionOf([id, written]: readonly [string, SectionWritten]): Section {
  const { name, short, instruments } = written;
  return {
    id,
    name,
    ...(short === undefined ? {} : { short }),
    ...(instruments === undefined ? {} : { instruments }),
  };
}

function lineOf(id: string, line: LineWritten, section: string, within: SectionWritten): Line {
  const lineClass = line.class ?? within.class ?? 'small';
  const defaults = classDefaults[lineClass];
  return {
    id,
    name: line.name,
    ...(line.detail === undefined ? {} : { detail: line.detail }),
    section,
    ...(line.group === undefined ? {} : { group: line.group }),
    ...(line.together === true ? { together: true } : {}),
    class: lineClass,
    opening: line.opening ?? 0,
    ...(line.pack === undefined ? {} : { pack: line.pack }),
    tracked: line.tracked ?? defaults.tracked,
    counted: line.counted ?? true,
    stay: stayOf(line.stay),
    ...(line['starts-in'] === undefined ? {} : { startsIn: line['starts-in'] }),
    film: line.film ?? defaults.film,
    ...(line['size-mm'] === undefined ? {} : { sizeMm: line['size-mm'] }),
    ...(line['length-mm'] === undefined ? {} : { lengthMm: line['length-mm'] }),
    cuttable: line.cuttable ?? lineClass !== 'swab',
    brings: entriesOf(line.brings).map(([other, n]) => ({ line: other, n })),
    ...(line['dry-g'] === undefined ? {} : { dryG: line['dry-g'] }),
    ...(line.codes === undefined ? {} : { codes: line.codes }),
    turns: entriesOf(line.turns).map(turnOf),
    source: line.source ?? within.source ?? '',
  };
}

function stayOf(stay: LineWritten['stay']): Stay {
  if (stay === undefined || stay === 'no') return { may: 'no' };
  return stay === 'yes' ? { may: 'yes' } : { may: 'reason', needs: stay };
}

type TurnWritten =
  NonNullable<LineWritten['turns']> extends ReadonlyMap<string, infer T> ? T : never;

function turnOf([id, { name, at, asks, gives }]: readonly [string, TurnWritten]): Turn {
  return {
    id,
    name,
    at: at ?? 'any',
    ...(asks === undefined ? {} : { asks }),
    gives: gives.map(({ line, n, place }) => ({ line, n: n ?? 1, place })),
  };
}

function momentsOf({ moments }: SheetWritten): readonly Moment[] {
  const always: readonly string[] = momentsAlways;
  return momentIds
    .filter((id) => moments?.has(id) || always.includes(id) || (!moments && id === 'closing'))
    .map((id) => ({ id, name: momentNames[id], classes: moments?.get(id) ?? lineClasses }));
}

function checkpointOf(id: string, one: CheckpointWritten): Checkpoint {
  const known = Object.hasOwn(standardCheckpoints, id) ? standardCheckpoints[id] : undefined;
  return {
    id,
    name: one.name ?? known?.name ?? id,
    before: one.before ?? known?.before ?? '',
    leader: one.leader ?? known?.leader ?? 'circulator',
    present: one.present ?? known?.present ?? [],
    steps: stepsOf(one.steps, one.source),
    ...whenOf(one.when),
  };
}

const stepsOf = (
  steps: ReadonlyMap<string, StepWritten> | undefined,
  source: string | undefined,
): readonly Step[] => entriesOf(steps).map(([id, step]) => stepOf(id, step, source));

function stepOf(id: string, step: StepWritten, source: string | undefined): Step {
  const isConfirm = step.answer === undefined || step.answer === 'confirm';
  const usual = step.usual ?? (isConfirm ? 'yes' : undefined);
  return {
    id,
    who: step.who,
    ask: step.ask,
    short: step.short,
    answering: answeringOf(step),
    ...(usual === undefined ? {} : { usual }),
    stopOn: step['stop-on'] ?? (isConfirm ? ['no'] : []),
    mayNotApply: step['may-not-apply'] ?? false,
    ...whenOf(step.when),
    ...(step['who-item'] === undefined ? {} : { whoItem: step['who-item'] }),
    source: step.source ?? source ?? '',
  };
}

function answeringOf({ answer = 'confirm', unit, flag, opens }: StepWritten): Answering {
  if (typeof answer !== 'string')
    return { kind: 'choice', options: [...answer].map(([id, name]) => ({ id, name })) };
  if (answer === 'number')
    return {
      kind: 'number',
      ...(unit === undefined ? {} : { unit }),
      ...(opens === undefined ? {} : { opens }),
      ...(flag === undefined ? {} : { flag }),
    };
  if (answer === 'confirm' || answer === 'time' || answer === 'text') return { kind: answer };
  return { kind: 'computed', from: answer };
}

function whenOf(when: WhenWritten | undefined): { readonly when?: When } {
  if (when === undefined) return {};
  const { variant, step, is, flagged } = when;
  return {
    when: {
      ...(variant === undefined ? {} : { variant }),
      ...(step === undefined ? {} : { step }),
      ...(is === undefined ? {} : { is }),
      ...(flagged === undefined ? {} : { flagged }),
    },
  };
}

/** One for each side, where the side is that of a variant: `node` with two sides is `node-left` and `node-right`. */
function specimensOf(written: SheetWritten): Sheet['specimens'] {
  return entriesOf(written.specimens).flatMap(([id, one]) => {
    const sides = one['side-by'];
    if (sides === undefined) return [specimenOf(id, one, one.side, whenOf(one.when))];
    return [...sides].map(([variant, side]) => {
      const when = { when: { variant: [variant] } };
      return specimenOf(sidedId(id, side), one, side, when);
    });
  });
}

/** The name of a specimen that is written once for several sides. */
export const sidedId = (id: string, side: string): string => `${id}-${side.replaceAll(' ', '-')}`;

type SpecimenWritten = Part<'specimens'>;

function specimenOf(
  id: string,
  one: SpecimenWritten,
  side: SpecimenWritten['side'],
  when: { readonly when?: When },
): PlannedSpecimen {
  return {
    id,
    letter: one.letter,
    name: one.name,
    site: one.site,
    ...(one['site-words'] === undefined ? {} : { siteWords: one['site-words'] }),
    side: side ?? 'not applicable',
    test: one.test,
    media: one.media,
    bag: one.bag ?? false,
    planned: one.planned ?? true,
    ...when,
  };
}

function closureOf(key: string, one: Part<'closures'>): Closure {
  return {
    id: one.id ?? key,
    name: one.name,
    sites: one.sites,
    count: one.count,
    inUse: one['in-use'] ?? [],
    look: stepsOf(one.look, one.source),
    ...whenOf(one.when),
  };
}

function medicineOf(id: string, one: Part<'medicines'>): Medicine {
  return {
    id,
    name: one.name,
    ...(one['dose-mg'] === undefined ? {} : { doseMg: one['dose-mg'] }),
    ...dosesByWeight(one),
    windowMinutes: one['window-minutes'],
    redoseHours: one['redose-hours'],
    ...(one['at-hand'] ? { isAtHand: true } : {}),
    source: one.source,
  };
}

function dosesByWeight(one: Part<'medicines'>): Partial<Medicine> {
  const { heavy, part, child } = one;
  return {
    ...(heavy && { heavy: { fromKg: heavy['from-kg'], doseMg: heavy['dose-mg'] } }),
    ...(one['mg-per-kg'] !== undefined && { mgPerKg: one['mg-per-kg'] }),
    ...(one['by-dosing-weight'] && { isByDosingWeight: true }),
    ...(part && { part: { name: part.name, doseMg: part['dose-mg'] } }),
    ...(child && { child: child.map(childDoseOf) }),
  };
}

type ChildDoseWritten = NonNullable<Part<'medicines'>['child']>[number];

function childDoseOf(one: ChildDoseWritten): ChildDose {
  return {
    mgPerKg: one['mg-per-kg'],
    ...(one['up-to-mg-per-kg'] !== undefined && { upToMgPerKg: one['up-to-mg-per-kg'] }),
    ...(one['from-months'] !== undefined && { fromMonths: one['from-months'] }),
    ...(one['over-months'] !== undefined && { overMonths: one['over-months'] }),
    ...(one['under-kg'] !== undefined && { underKg: one['under-kg'] }),
    ...(one.once && { isOnce: true }),
  };
}

function policyOf({ policy }: SheetWritten): Policy {
  const d = policyDefaults;
  return {
    childUnderYears: policy?.['child-under-years'] ?? d.childUnderYears,
    bloodLossMl: policy?.['blood-loss-ml'] ?? d.bloodLossMl,
    childBloodLossMlPerKg: policy?.['child-blood-loss-ml-per-kg'] ?? d.childBloodLossMlPerKg,
    filmReliableMm: policy?.['film-reliable-mm'] ?? d.filmReliableMm,
    filmPoorMm: policy?.['film-poor-mm'] ?? d.filmPoorMm,
    interruptedCount: policy?.['interrupted-count'] ?? d.interruptedCount,
    redoseBloodLossMl: policy?.['redose-blood-loss-ml'] ?? d.redoseBloodLossMl,
    secondsPerStep: policy?.['seconds-per-step'] ?? d.secondsPerStep,
  };
}
