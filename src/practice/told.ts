import type { Case, Differing, DiscrepancyStep } from '#engine/state.ts';
import { discrepancySteps } from '#engine/state.ts';
import { say, sayOf } from '#words/say.ts';
import type { Followed } from './followed.ts';
import { sceneNow } from './sceneNow.ts';
import type { LostPieces } from './script.ts';
import { wrongLabelOf } from './slips.ts';
import { inSight, pieces } from './world.ts';

/** What is said to the person now, and what is in the hand. */
export type Told = {
  /** The same for as long as the same is said, for announcing it once. */
  readonly id: string;
  readonly do: string;
  readonly why: string | undefined;
  readonly hand: Hand | undefined;
  /** How far it is. Units: scenes done, of all. */
  readonly done: number;
  readonly of: number;
  readonly isOver: boolean;
};

/** What is in the hand. `says` is what stands on the label, line by line. */
export type Hand =
  | {
      readonly kind: 'pack';
      readonly name: string;
      readonly size: number | undefined;
      readonly pieces: number;
    }
  | { readonly kind: 'label'; readonly says: readonly string[] };

/** What to do next, as the record has it. */
export function told(now: Followed): Told {
  const { script, current } = now;
  const of = script.scenes.length;
  if (!current) return words(now, { id: 'start', do: say`The case is being opened.` }, 0);
  const { scene, index } = sceneNow(script, current, now.live);
  if (!scene) return { ...words(now, over(), of), isOver: true };
  const between = inBetween(now, current);
  if (between) return words(now, between, index);
  return { ...words(now, scene, index), hand: handOf(now, current) };
}

type Said = { readonly id: string; readonly do: string; readonly why?: string };

const words = (now: Followed, said: Said, done: number): Told => ({
  id: said.id,
  do: sayOf(said.do),
  why: said.why && sayOf(said.why),
  hand: undefined,
  done,
  of: now.script.scenes.length,
  isOver: false,
});

const over = (): Said => ({
  id: 'over',
  do: say`The case has ended. See what was caught, and what was missed.`,
});

/** What comes before the story goes on: a count that runs, something just found, a line that does not agree. */
function inBetween(now: Followed, current: Case): Said | undefined {
  if (current.counts.running)
    return {
      id: 'counting',
      do: say`Count what lies there, and tap that number.`,
      why: say`Piece by piece, and not from memory.`,
    };
  return justFound(now, current) ?? differs(now, current);
}

const lostOf = ({ script }: Followed): readonly LostPieces[] =>
  script.slips.filter((slip) => slip.kind === 'lost');

function justFound(now: Followed, current: Case): Said | undefined {
  const slip = lostOf(now).find(
    ({ line }) => pieces(now.world, line, 'in hand') + pieces(now.world, line, 'in hand, off') > 0,
  );
  if (!slip) return undefined;
  const isOpen = current.differing[slip.line]?.stage === 'discrepancy';
  return {
    id: `found/${slip.id}`,
    do: slip.found,
    why: isOpen
      ? say`Say so on the tablet: Found it, and where it is now.`
      : say`Say so on the tablet: it leaves the patient, off the field.`,
  };
}

function differs(now: Followed, current: Case): Said | undefined {
  const open = Object.values(current.differing);
  const one = open.find(({ stage }) => stage === 'discrepancy') ?? open[0];
  if (!one) return undefined;
  const name = current.lines.get(one.line)?.name ?? one.line;
  if (one.stage === 'recount')
    return {
      id: `recount/${one.line}/${one.recounts}`,
      do: say`${name} does not agree. Count again what lies there, together.`,
      why: say`The number stays hidden, so that you look and do not remember.`,
    };
  if (one.streak > 0 || wasSettled(now, one))
    return {
      id: `again/${one.line}/${one.streak}`,
      do: say`Count ${name} again. It takes two recounts in a row that agree.`,
      why: say`The first match may be luck.`,
    };
  return searchSaid(one, name);
}

/** Found or amended since it differed, so that only the recounts are left. */
function wasSettled(now: Followed, { line, entry }: Differing): boolean {
  return now.live.some(
    (event) =>
      event.entry > entry &&
      (event.type === 'found' || event.type === 'amended') &&
      event.line === line,
  );
}

const searchWords = (): Readonly<Record<DiscrepancyStep, readonly [string, string]>> => ({
  'surgeon-told': [
    say`Say it aloud to the surgeon, now. Then tap that it was said.`,
    say`Nothing is closed while something is unaccounted for.`,
  ],
  'record-read': [
    say`Read the record back, entry by entry. Then tap that it was read.`,
    say`Most of what is missing was put down somewhere, or written down wrongly.`,
  ],
  'field-searched': [
    say`Ask the surgeon and the scrub to search the wound and the field. Then tap it.`,
    say`Inside first: it is the only place where it can do harm.`,
  ],
  'room-searched': [
    say`It is not in the field. Search linen, bins, floor, needle box and pots. Then tap it.`,
    say`Nothing leaves the room before it is found.`,
  ],
  xray: [
    say`It is not in the room either. Ask for an X-ray of the whole field.`,
    say`A film that shows nothing settles nothing.`,
  ],
});

function searchSaid(open: Differing, name: string): Said {
  const step = discrepancySteps.find((one) => open.steps[one] === undefined);
  const isOver = open.difference > 0;
  if (isOver && (step === undefined || discrepancySteps.indexOf(step) > 1))
    return {
      id: `amend/${open.line}`,
      do: say`There is more of ${name} than the record knows. Amend it: scrub, circulator and surgeon.`,
      why: say`One too many hides one that is missing. Say which pack nobody looked into.`,
    };
  if (!step)
    return {
      id: `declare/${open.line}`,
      do: say`${name} is nowhere. Count it once more, or declare it with the surgeon.`,
      why: say`What is declared stays in the record, on every page.`,
    };
  const [what, why] = searchWords()[step];
  return { id: `search/${open.line}/${step}`, do: what, why };
}

function handOf(now: Followed, current: Case): Hand | undefined {
  const { scene } = sceneNow(now.script, current, now.live);
  if (scene?.opens) return packIn(now, current, scene.opens);
  return scene?.label ? labelIn(now, current, scene.label) : undefined;
}

function packIn(now: Followed, current: Case, id: string): Hand {
  const line = current.lines.get(id);
  const odd = now.script.slips.find(
    (slip) => slip.kind === 'pack' && slip.line === id && now.slips[slip.id] === 'waiting',
  );
  const held = odd?.kind === 'pack' ? odd.holds : (line?.pack ?? 1);
  return { kind: 'pack', name: line?.name ?? id, size: line?.pack, pieces: held };
}

/** What stands on the label, read from the case as it must be, but for what is wrong on it. */
function labelIn(now: Followed, current: Case, id: string): Hand | undefined {
  const specimen = current.specimens[id];
  if (!specimen) return undefined;
  const wrong = wrongLabelOf(now, id);
  const slip = now.script.slips.find((one) => one.id === wrong);
  const right = {
    patientName: current.patient.name,
    patientNumber: current.patient.number,
    born: current.patient.born,
    letter: specimen.letter,
    specimenName: specimen.name,
  };
  const says = { ...right, ...(slip?.kind === 'label' ? slip.says : {}) };
  return {
    kind: 'label',
    says: [
      says.patientName,
      `${says.patientNumber}  ${says.born}`,
      `${says.letter}  ${says.specimenName}`,
    ],
  };
}

/**
 * How many pieces of a line lie in front of the two people, in the part of the count that runs. A pack of the
 * first count is one of several on the table.
 *
 * Units: whole pieces.
 */
export function liesThere(
  now: Followed,
  asked: { readonly line: string; readonly part: 'field' | 'off'; readonly pack?: number },
): number {
  const { current, world } = now;
  if (!current) return 0;
  const there = inSight(world, current, asked.line)[asked.part];
  const size = current.lines.get(asked.line)?.pack;
  if (asked.pack === undefined || size === undefined) return there;
  return Math.max(0, Math.min(size, there - asked.pack * size));
}
