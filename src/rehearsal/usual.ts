import { checkpointOf, closureOf, isAsked, isInUse } from '#engine/applies.ts';
import type { Command } from '#engine/case/events.ts';
import { usualAnswer } from '#engine/case/usualAnswer.ts';
import { computedOf } from '#engine/checkpoints/computedOf.ts';
import { openSteps } from '#engine/checkpoints/openSteps.ts';
import { isLookAnswered, lookSteps } from '#engine/closures/isLookOpen.ts';
import { usualFound } from '#engine/counts/usualFound.ts';
import { at, insideOf } from '#engine/ledger.ts';
import { inSite } from '#engine/places.ts';
import type { MomentId, Step } from '#engine/sheet.ts';
import { labelOf } from '#engine/specimens/labelOf.ts';
import type { Case } from '#engine/state.ts';
import { act, actAll, now, type Play } from './play.ts';

/** What a case without trouble does next: each of these makes one step of a drill, or says why it cannot. */

/** Answers given in place of the usual ones: `<checkpoint or closure>.<step>` to the answer. */
export type Instead = Readonly<Record<string, string>>;

/** A step made, or what is in the way: the part of the sheet, and why in words. */
export type Stepped = { readonly ok: true; readonly play: Play } | Blocked;
export type Blocked = {
  readonly ok: false;
  readonly play: Play;
  readonly part: Part;
  readonly why: string;
};
/** The part of a sheet that is in the way. */
export type Part =
  | { readonly kind: 'step'; readonly checkpoint: string; readonly step: string }
  | { readonly kind: 'checkpoint'; readonly checkpoint: string; readonly waitsFor: string }
  | { readonly kind: 'count'; readonly moment: MomentId }
  | { readonly kind: 'look'; readonly closure: string; readonly step: string }
  | { readonly kind: 'specimen'; readonly specimen: string }
  | { readonly kind: 'line'; readonly line: string }
  | { readonly kind: 'gate'; readonly gate: string };

/** A count in which two see what a true count would see. What can come out is taken out before it. */
export function counted(before: Play, moment: MomentId): Stepped {
  let play = before;
  for (const line of before.current.sheet.lines) {
    if (isInUse(before.current, line.id) || insideOf(before.current.ledger, line.id) === 0)
      continue;
    const out = takenOut(play, line.id);
    if (!out.ok) return out;
    play = out.play;
  }
  const words = `count: { moment: ${moment}, found: usual }`;
  const begun = act(play, { type: 'beginCount', moment });
  const part = { kind: 'count', moment } as const;
  if (!begun.ok) return { ok: false, play, part, why: begun.refusal.sentence };
  const lines = begun.play.current.counts.running?.lines ?? [];
  const entered = lines.map((line): Command => {
    return { type: 'enter', line, ...usualFound(play.current, moment, line) };
  });
  const made = actAll(begun.play, words, [...entered, { type: 'agree' }]);
  return made.ok ? made : { ok: false, play, part, why: made.refusal.sentence };
}

/** A checkpoint, read aloud and answered as usual. What the case answers itself is seen to first where it can be. */
export function checked(play: Play, id: string, instead: Instead): Stepped {
  let current = play;
  if (!play.current.checkpoints[id]?.begun) {
    const begun = act(play, { type: 'beginCheckpoint', id });
    if (!begun.ok) return blockedBegin(play, id, begun.refusal);
    current = begun.play;
  }
  const checkpoint = checkpointOf(play.current, id);
  const steps = checkpoint?.steps ?? [];
  for (const step of steps) {
    if (!isAsked(current.current, id, steps, step)) continue;
    const value = instead[`${id}.${step.id}`] ?? usualAnswer(step, now);
    const part = { kind: 'step', checkpoint: id, step: step.id } as const;
    if (value === undefined) {
      current = seenTo(current, step);
      continue;
    }
    const answered = act(current, { type: 'answer', checkpoint: id, step: step.id, value });
    if (!answered.ok) return { ok: false, play, part, why: answered.refusal.sentence };
    current = answered.play;
  }
  const answers = Object.entries(instead).filter(([key]) => key.startsWith(`${id}.`));
  const except = answers.map(([key, value]) => `${key.slice(id.length + 1)}: ${value}`);
  const said = except.length === 0 ? '' : `, except: { ${except.join(', ')} }`;
  const words = `checkpoint: { id: ${id}, answers: usual${said} }`;
  const finished = act(current, { type: 'finishCheckpoint', id }, words);
  if (finished.ok) return finished;
  const open = checkpoint && openSteps(current.current, checkpoint, now)[0];
  const part: Part = open
    ? { kind: 'step', checkpoint: id, step: open.id }
    : { kind: 'gate', gate: id };
  return { ok: false, play: current, part, why: whyOpen(current.current, open) };
}

function blockedBegin(
  play: Play,
  id: string,
  refusal: { readonly code: string; readonly sentence: string; readonly detail?: string },
): Blocked {
  const earlier = play.current.sheet.checkpoints.find(({ name }) => name === refusal.detail);
  const part: Part =
    refusal.code === 'checkpoint-order' && earlier
      ? { kind: 'checkpoint', checkpoint: id, waitsFor: earlier.id }
      : { kind: 'gate', gate: id };
  return { ok: false, play, part, why: refusal.sentence };
}

const whyOpen = (current: Case, step: Step | undefined): string =>
  step?.answering.kind === 'computed'
    ? computedOf(current, step.answering.from, now).words
    : 'It cannot be finished';

/** What a case without trouble has done by then, where the sheet lets the case answer. */
function seenTo(play: Play, { answering }: Step): Play {
  if (answering.kind !== 'computed') return play;
  if (computedOf(play.current, answering.from, now).ok) return play;
  if (answering.from === 'first-count') {
    const made = counted(play, 'first');
    return made.ok ? made.play : play;
  }
  const [medicine] = play.current.sheet.medicines;
  if (answering.from !== 'prophylaxis' || medicine === undefined) return play;
  const dose = act(play, { type: 'dose', agent: medicine.id }, `dose: { agent: ${medicine.id} }`);
  return dose.ok ? dose.play : play;
}

/** The surgeon's last look, answered as usual. */
export function looked(play: Play, id: string, instead: Instead): Stepped {
  let current = play;
  const closure = closureOf(play.current, id);
  if (!closure)
    return { ok: false, play, part: { kind: 'gate', gate: id }, why: 'It is not there' };
  // A step may be asked only after the answer of another, so they are answered one after the other.
  for (const step of closure.look) {
    if (!lookSteps(current.current, closure).includes(step)) continue;
    const value = instead[`${id}.${step.id}`] ?? usualAnswer(step, now);
    const part = { kind: 'look', closure: id, step: step.id } as const;
    if (value === undefined)
      return { ok: false, play, part, why: 'Nobody can answer it: the case does not' };
    const made = act(current, { type: 'look', closure: id, answers: { [step.id]: value } });
    if (!made.ok) return { ok: false, play, part, why: made.refusal.sentence };
    const answer = made.play.current.looks[id]?.[step.id];
    if (!isLookAnswered(step, answer))
      return { ok: false, play, part, why: `The answer ${value} stops` };
    current = made.play;
  }
  const way = [...play.way, `look: { closure: ${id}, answers: usual }`];
  return { ok: true, play: { current: current.current, way } };
}

/** The next step of a specimen: out, in its pot, labelled, read back, handed over. */
export function specimenStepped(play: Play, id: string): Stepped {
  const part = { kind: 'specimen', specimen: id } as const;
  const specimen = play.current.specimens[id];
  const bare = { type: 'specimen', id } as const;
  const made = ((): ReturnType<typeof act> | undefined => {
    switch (specimen?.stage) {
      case 'planned':
        return act(
          play,
          { ...bare, step: 'taken', pieces: 1, whole: true, bag: 'intact' },
          `specimen: { id: ${id}, step: taken, pieces: 1, whole: true, bag: intact }`,
        );
      case 'taken':
        return act(
          play,
          { ...bare, step: 'contained', pot: `pot ${specimen.letter}` },
          `specimen: { id: ${id}, step: contained, pot: "pot ${specimen.letter}" }`,
        );
      case 'contained':
        return act(
          play,
          { ...bare, step: 'labelled', label: labelOf(play.current, specimen) },
          `specimen: { id: ${id}, step: labelled, label: usual }`,
        );
      case 'labelled':
        return act(
          play,
          { ...bare, step: 'readBack', by: 'scrub' },
          `specimen: { id: ${id}, step: readBack, by: scrub }`,
        );
      case 'readBack':
        return act(
          play,
          { ...bare, step: 'handedOver', to: 'porter' },
          `specimen: { id: ${id}, step: handedOver, to: porter }`,
        );
      default:
        return undefined;
    }
  })();
  if (made?.ok) return made;
  return { ok: false, play, part, why: made?.refusal.sentence ?? 'Nothing is left to do for it' };
}

/** Everything of a line that is inside comes out. */
export function takenOut(play: Play, line: string): Stepped {
  let current = play;
  for (const { id } of play.current.sheet.sites) {
    const n = at(current.current.ledger, line, inSite(id));
    if (n === 0) continue;
    const from = inSite(id);
    const words = `move: { line: ${line}, from: ${from}, to: off, n: ${n} }`;
    const made = act(current, { type: 'move', line, from, to: 'off', n }, words);
    const part = { kind: 'line', line } as const;
    if (!made.ok) return { ok: false, play, part, why: made.refusal.sentence };
    current = made.play;
  }
  return { ok: true, play: current };
}

/** What must be said of what stays. */
export function explained(play: Play, line: string): Stepped {
  const command = { type: 'explain', line, reason: 'left on purpose', where: 'there', lot: '1' };
  const words = `explain: { line: ${line}, reason: left on purpose, where: there, lot: "1" }`;
  const made = act(play, { ...command, type: 'explain', by: ['surgeon', 'circulator'] }, words);
  if (made.ok) return made;
  return { ok: false, play, part: { kind: 'line', line }, why: made.refusal.sentence };
}

/** What stays is told to whoever looks after the patient next. */
export function handedOver(play: Play, line: string): Stepped {
  const words = `handover: { line: ${line}, to: the ward, plan: comes out tomorrow }`;
  const made = act(play, { type: 'handover', line, to: 'the ward', plan: 'tomorrow' }, words);
  if (made.ok) return made;
  return { ok: false, play, part: { kind: 'line', line }, why: made.refusal.sentence };
}
