import { say, sayOf } from '#words/say.ts';
import { isXrayOwed } from '../discrepancies/isXrayOwed.ts';
import { insideOf } from '../ledger.ts';
import type { Answer, Case } from '../state.ts';
import type { Verdict } from './verdictWords.ts';

/** A lasting exception, said in words on the record. */
export type Exception = { readonly weighs: 'record' | 'not-reconciled'; readonly sentence: string };

/**
 * How a case ends. The bare word "correct" is never used.
 *
 * Rules: X8.
 */
export function verdictOf(current: Case): Verdict {
  if (current.finishedAt === undefined) return 'open';
  const exceptions = exceptionsOf(current);
  if (exceptions.some((one) => one.weighs === 'not-reconciled')) return 'not-reconciled';
  return exceptions.length > 0 ? 'reconciled-with-record' : 'reconciled';
}

/** Every lasting exception of the case so far. */
export function exceptionsOf(current: Case): readonly Exception[] {
  const name = (line: string) => current.lines.get(line)?.name ?? line;
  const worst = (sentence: string): Exception => ({ weighs: 'not-reconciled', sentence });
  const record = (sentence: string): Exception => ({ weighs: 'record', sentence });
  const { counts } = current;
  return [
    ...current.missing
      .filter((mark) => mark.why === 'declared')
      .map((mark) =>
        worst(say`${mark.n} ${name(mark.line)} declared unaccounted for: ${mark.reason}`),
      ),
    ...counts.waivers.map((waiver) =>
      worst(say`The ${sayOf(waiver.moment)} count was waived: ${waiver.reason}`),
    ),
    ...(isXrayOwed(current) ? [worst(say`An X-ray is owed and has not been read.`)] : []),
    ...current.missing
      .filter((mark) => mark.why === 'searched-none')
      .map((mark) =>
        record(say`${name(mark.line)}, ${mark.n}: searched, none found: ${mark.reason}`),
      ),
    ...(counts.isLate ? [record(say`A tray was counted in late.`)] : []),
    ...counts.amendments.map((one) =>
      record(say`${name(one.line)} amended by ${one.n}: ${one.reason}`),
    ),
    ...leftExceptions(current).map(record),
    ...current.away
      .filter(({ line }) => current.lines.get(line)?.class !== 'small')
      .map((one) => record(say`${one.n} ${name(one.line)} left with ${one.with}.`)),
    ...current.fragments
      .filter((set) => set.explained !== undefined)
      .map((set) => record(say`${name(set.line)}: lengths do not add up: ${set.explained}`)),
    ...Object.values(current.specimens)
      .filter((one) => one.partReason !== undefined && one.stage !== 'notTaken')
      .map((one) => record(say`${one.letter} ${one.name} not whole: ${one.partReason}`)),
    ...openAnswers(current).map(record),
  ];
}

/** Packing, and whatever was left by decision. A drain or an implant left as the sheet foresees is none. */
function leftExceptions(current: Case): readonly string[] {
  return Object.entries(current.left).flatMap(([id, left]) => {
    const line = current.lines.get(id);
    return left
      .filter((pieces) => line?.class === 'swab' || pieces.decidedBy !== undefined)
      .map(
        (pieces) => say`${pieces.n} ${line?.name ?? id} left on purpose: ${pieces.reason ?? ''}`,
      );
  });
}

function openAnswers(current: Case): readonly string[] {
  const checked = Object.values(current.checkpoints).map((state) => state.answers);
  const answers = [...checked, ...Object.values(current.looks)].flatMap((given) =>
    Object.entries(given),
  );
  return answers.flatMap(([step, answer]: readonly [string, Answer]) =>
    answer.kind === 'open' ? [say`${step} was left open by ${answer.name}: ${answer.reason}`] : [],
  );
}

/** Pieces inside the patient, by line, for the wall view and the holds. */
export function piecesInside(
  current: Case,
): readonly { readonly line: string; readonly n: number }[] {
  return [...current.lines.keys()].flatMap((line) => {
    const n = insideOf(current.ledger, line);
    return n > 0 ? [{ line, n }] : [];
  });
}
