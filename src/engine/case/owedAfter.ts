import { say } from '#words/say.ts';
import { mustComeOut } from '../moves/mustComeOut.ts';
import type { WriteNote } from '../notes/events.ts';
import type { Line } from '../sheet.ts';
import type { Case, Note, Specimen } from '../state.ts';

/** What a case still owes after the patient has left: a result that nobody has seen, or a piece that must come out. */
export type Owed = {
  readonly kind: 'result' | 'removal';
  /** The specimen or the line. */
  readonly about: string;
  readonly words: string;
  /** When it was sent or left. */
  readonly since: string;
  /** Who is to look, or to whom it was handed over. */
  readonly who: string;
  readonly plan: string;
};

/** Pieces of a line, or a specimen, in words: what a note that settles it begins with. */
const resultStart = ({ letter, name }: Specimen): string =>
  say`Result seen for ${letter} ${name} by `;
const withdrawnStart = ({ letter, name }: Specimen): string =>
  say`Result not seen for ${letter} ${name}: `;
const removalStart = () => say`Taken out later: `;

/** The note by which a result is recorded as seen: by whom, and what follows. */
export const resultSeenNote = (specimen: Specimen, by: string, follows: string): WriteNote => ({
  type: 'note',
  text: `${resultStart(specimen)}${by}: ${follows}`,
  settles: 'result-seen',
  about: specimen.id,
});

/** The note that takes such a note back, which nothing else can once a case has ended. */
export const resultWithdrawnNote = (specimen: Specimen, why: string): WriteNote => ({
  type: 'note',
  text: `${withdrawnStart(specimen)}${why}`,
  settles: 'result-not-seen',
  about: specimen.id,
});

/** The note by which pieces that were left are recorded as taken out. Units: `n` whole pieces. */
export const removalNote = (
  { id, name }: Line,
  n: number,
  said: { by: string; how: string },
): WriteNote => ({
  type: 'note',
  text: say`${removalStart()}${n} ${name} by ${said.by}: ${said.how}`,
  settles: 'taken-out',
  about: id,
  n,
});

/**
 * Everything that a case still owes. A specimen is owed once it was handed over; it stays so until the last note about
 * its result says that it was seen. What must come out stays until as many pieces are noted as were left.
 *
 * Notes are what is taken after a case has ended. They say who and when by themselves, and beside their words what
 * they settle, so that it does not depend on a language.
 * Source: design 3.6 (histology can change the care of a patient); common practice, no source, for packing.
 */
export const owedAfter = (current: Case): readonly Owed[] => [
  ...resultsOwed(current),
  ...removalsOwed(current),
];

function resultsOwed(current: Case): readonly Owed[] {
  return Object.values(current.specimens)
    .filter((one) => one.stage === 'handedOver' && !isResultSeen(current, one))
    .map((one) => ({
      kind: 'result',
      about: one.id,
      words: `${one.letter} ${one.name}, ${one.test}`,
      since: one.handedAt ?? current.lastAt,
      who: current.team.surgeon,
      plan: say`with ${one.handedTo ?? say`nobody named`}`,
    }));
}

/** What the last note about its result says. */
function isResultSeen(current: Case, specimen: Specimen): boolean {
  const said = current.notes.flatMap((note) => saysSeen(note, specimen) ?? []);
  return said.at(-1) ?? false;
}

/** Whether a note says that the result was seen, or was not; undefined where it is about something else. */
function saysSeen({ text, settles, about }: Note, specimen: Specimen): boolean | undefined {
  if (settles !== undefined) {
    const isMeant = settles !== 'taken-out' && about === specimen.id;
    return isMeant ? settles === 'result-seen' : undefined;
  }
  // Written before notes said what they settle: known by its words, in the language that is spoken.
  if (text.startsWith(resultStart(specimen))) return true;
  return text.startsWith(withdrawnStart(specimen)) ? false : undefined;
}

function removalsOwed(current: Case): readonly Owed[] {
  return Object.entries(current.left).flatMap(([id, sets]) => {
    const line = current.lines.get(id);
    const [first] = sets;
    if (!line || !first || !mustComeOut(line)) return [];
    const left = sets.reduce((sum, { n }) => sum + n, 0) - removedOf(current, line);
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

/** Pieces of a line that notes say were taken out. */
const removedOf = (current: Case, line: Line): number =>
  current.notes.reduce((sum, note) => sum + removedBy(note, line), 0);

function removedBy({ text, settles, about, n = 0 }: Note, { id, name }: Line): number {
  if (settles !== undefined) return settles === 'taken-out' && about === id ? n : 0;
  const said = text.startsWith(removalStart()) ? text.slice(removalStart().length) : '';
  const [, pieces = '0', rest = ''] = /^(\d{1,3}) (.*)$/s.exec(said) ?? [];
  return rest.startsWith(say`${name} by `) ? Number(pieces) : 0;
}
