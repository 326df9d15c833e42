import { say } from '#words/say.ts';
import { staysOf } from '../closures/handoverOf.ts';
import { momentName } from '../counts/countsDue.ts';
import { isXrayOwed } from '../discrepancies/isXrayOwed.ts';
import { mustComeOut } from '../moves/mustComeOut.ts';
import { resultSeenBy } from '../notes/resultSeen.ts';
import { removedOf } from '../notes/takenOut.ts';
import type { Case, Specimen } from '../state.ts';

/**
 * What a case still owes after the patient has left: a film that was put off, a result that nobody has seen, or a piece
 * that must come out.
 */
export type Owed = {
  readonly kind: 'film' | 'result' | 'removal';
  /** The specimen or the line; of a film, `xray`. */
  readonly about: string;
  readonly words: string;
  /** When it was sent or left. */
  readonly since: string;
  /** Who is to look, or to whom it was handed over. */
  readonly who: string;
  readonly plan: string;
};

/**
 * Everything that a case still owes. A film is owed until one of the whole field was read. A specimen is owed once it
 * was handed over; it stays so until the last note about its result says that it was seen. What must come out stays
 * until as many pieces are noted as were left.
 *
 * Notes are what is taken after a case has ended. They say who and when by themselves, and beside their words what
 * they settle, so that it does not depend on a language.
 * Source: design 3.6 (histology can change the care of a patient); common practice, no source, for packing.
 */
export const owedAfter = (current: Case): readonly Owed[] => [
  ...filmOwed(current),
  ...resultsOwed(current),
  ...removalsOwed(current),
];

/** In the order of a list over many cases: films before all else, then the oldest first. */
export const mostPressingFirst = (one: Owed, other: Owed): number =>
  Number(other.kind === 'film') - Number(one.kind === 'film') ||
  Date.parse(one.since) - Date.parse(other.since);

function filmOwed(current: Case): readonly Owed[] {
  const { deferral, counts, missing } = current;
  if (!isXrayOwed(current)) return [];
  const declared = missing.filter(({ why }) => why === 'declared');
  const pieces = declared.map(({ line, n }) => `${n} ${current.lines.get(line)?.name ?? line}`);
  const why = [...pieces, ...counts.waivers.map(({ moment }) => momentName(current, moment))];
  return [
    {
      kind: 'film',
      about: 'xray',
      words: [say`whole field`, ...why].join(', '),
      since: deferral?.at ?? current.finishedAt ?? current.lastAt,
      who: current.team.surgeon,
      plan: deferral?.reason ?? say`no plan was recorded`,
    },
  ];
}

/** A specimen whose result is meant. */
export const resultWords = ({ letter, name, test }: Specimen): string =>
  `${letter} ${name}, ${test}`;

function resultsOwed(current: Case): readonly Owed[] {
  return Object.values(current.specimens)
    .filter((one) => one.stage === 'handedOver' && !resultSeenBy(current, one))
    .map((one) => ({
      kind: 'result',
      about: one.id,
      words: resultWords(one),
      since: one.handedAt ?? current.lastAt,
      who: current.team.surgeon,
      plan: say`with ${one.handedTo ?? say`nobody named`}`,
    }));
}

function removalsOwed(current: Case): readonly Owed[] {
  return Object.entries(current.left).flatMap(([id, sets]) => {
    const line = current.lines.get(id);
    const [first] = sets;
    if (!line || !first || !mustComeOut(line)) return [];
    const left = staysOf(current, id) - removedOf(current, line);
    if (left <= 0) return [];
    const where = [...new Set(sets.flatMap((set) => set.where ?? []))].join(', ');
    const handover = current.handovers[id];
    return [
      {
        kind: 'removal',
        about: id,
        words: `${left} ${line.name}${where && `, ${where}`}`,
        since: first.at,
        who: handover?.to ?? current.team.surgeon,
        plan: handover?.plan ?? say`no plan was recorded`,
      } as const,
    ];
  });
}
