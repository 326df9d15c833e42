import type { Sheet, Variant } from '#engine/sheet.ts';
import { appliesTo, choicesOf } from '#sheets/checkClosures.ts';
import { type Finding, findingOf, type Played } from './finding.ts';
import { begunWith, toEnd } from './finish.ts';
import { insideFindings } from './insideFindings.ts';
import { act } from './play.ts';
import { shrunk } from './shrunk.ts';
import { turnFindings } from './turnFindings.ts';
import type { Blocked, Instead } from './usual.ts';

/**
 * Plays a sheet with the engine before anybody uses it: every choice of variants that matters, every conversion,
 * every turn, every answer that other steps depend on, and a piece left inside each site.
 *
 * The sheet must be without a mistake already. Bounded: one line of each kind, and only choices that differ.
 */
export function rehearse(whole: Sheet): readonly Finding[] {
  const sheet = shrunk(whole);
  const findings: Finding[] = [];
  const tried = new Set<string>();
  let first: Played | undefined;
  for (const chosen of choicesToPlay(sheet)) {
    const played = playedThrough(sheet, chosen, {});
    if ('part' in played) {
      findings.push(findingOf(sheet, played, chosen));
      continue;
    }
    first ??= { ...played, chosen };
    // A piece inside is held by places and closures: choices with the same closures hold it alike.
    const closures = sheet.closures.filter(({ when }) => appliesTo(chosen, when));
    const key = closures.map(({ name }) => name).join('\n');
    if (!tried.has(key)) findings.push(...insideFindings(sheet, played));
    tried.add(key);
  }
  if (first === undefined) return distinct(findings);
  findings.push(...conversions(sheet, first), ...branches(sheet, first.chosen));
  findings.push(...turnFindings(sheet, first));
  return distinct(findings);
}

function playedThrough(
  sheet: Sheet,
  chosen: readonly string[],
  instead: Instead,
): Played | Blocked {
  const begun = begunWith(sheet, chosen, instead);
  if (!begun.ok) return begun;
  const finished = toEnd(begun.play, instead);
  return finished.ok ? { open: begun.play, before: finished.before, chosen } : finished;
}

/** More plays than this add time and find nothing more. */
const choicesMax = 40;

/**
 * Every choice of variants that decides which closures and checkpoints there are, and each variant that a step or a
 * specimen depends on at least once.
 */
function choicesToPlay(sheet: Sheet): readonly (readonly string[])[] {
  const gates = choicesOf(sheet, [...sheet.closures, ...sheet.checkpoints]) ?? [];
  const usual = usualChoice(sheet);
  const named = [
    ...sheet.specimens,
    ...sheet.checkpoints.flatMap(({ steps }) => steps),
    ...sheet.closures.flatMap(({ look }) => look),
  ].flatMap(({ when }) => when?.variant ?? []);
  const single = [...new Set(named)].map((id) => withVariant(sheet, usual, id));
  const all = [usual, ...gates.slice(0, choicesMax), ...single];
  return [...new Map(all.map((chosen) => [chosen.join(' '), chosen])).values()];
}

/** The first variant of each group, as a case has them when nothing is chosen. */
function usualChoice({ variants }: Sheet): readonly string[] {
  const isFirst = ({ group }: Variant, index: number): boolean =>
    variants.findIndex((known) => known.group === group) === index;
  return variants.filter(isFirst).map(({ id }) => id);
}

/** A choice with one variant in place of the one of its group. */
function withVariant({ variants }: Sheet, usual: readonly string[], id: string): readonly string[] {
  const groupOf = (one: string) => variants.find((known) => known.id === one)?.group;
  return usual.map((one) => (groupOf(one) === groupOf(id) ? id : one));
}

/** Each other variant, chosen just after the incision and again when the first closure is about to be made. */
function conversions(sheet: Sheet, { open, before, chosen }: Played): readonly Finding[] {
  const [late] = before;
  return sheet.variants
    .filter(({ id }) => !chosen.includes(id))
    .flatMap(({ id }) =>
      [open, ...(late ? [late] : [])].flatMap((play) => {
        const words = `variant: { to: ${id} }`;
        const made = act(play, { type: 'variant', to: id }, words);
        if (!made.ok) return [];
        const finished = toEnd(made.play, {});
        return finished.ok ? [] : [findingOf(sheet, finished, [...chosen, id])];
      }),
    );
}

/** Each answer that a later step depends on, and a number that opens something inside. */
function branches(sheet: Sheet, chosen: readonly string[]): readonly Finding[] {
  const lists = [
    ...sheet.checkpoints.map(({ id, steps }) => ({ id, steps })),
    ...sheet.closures.map(({ id, look }) => ({ id, steps: look })),
  ];
  return lists.flatMap(({ id, steps }) =>
    steps.flatMap((step) => {
      const asked = steps.flatMap(({ when }) => (when?.step === step.id ? (when.is ?? []) : []));
      const isOpening = step.answering.kind === 'number' && step.answering.opens !== undefined;
      const answers = [...new Set([...asked, ...(isOpening ? ['2'] : [])])].filter(
        (answer) => answer !== step.usual && !step.stopOn.includes(answer),
      );
      return answers.flatMap((answer) => {
        const played = playedThrough(sheet, chosen, { [`${id}.${step.id}`]: answer });
        return 'part' in played ? [findingOf(sheet, played, chosen)] : [];
      });
    }),
  );
}

/** One fault is told once, with the shortest way to it. */
function distinct(findings: readonly Finding[]): readonly Finding[] {
  const shortest = new Map<string, Finding>();
  for (const finding of findings) {
    const key = `${finding.code} ${finding.path.join('.')}`;
    const known = shortest.get(key);
    if (known === undefined || finding.way.length < known.way.length) shortest.set(key, finding);
  }
  return [...shortest.values()];
}
