import { resultSeenBy } from '../notes/resultSeen.ts';
import { removedBy, removedOf } from '../notes/takenOut.ts';
import type { Case } from '../state.ts';
import { type Owed, resultWords } from './owedAfter.ts';

/** What a case owed after the patient had left, and a note has settled: so that a mistake can be said to be one. */
export type SettledAfter = Pick<Owed, 'kind' | 'about' | 'words'> & {
  /** Pieces that were taken out; 1 for a result. Units: whole pieces. */
  readonly n: number;
  /** The last note that settled it, and when it was written. */
  readonly text: string;
  readonly at: string;
};

/** Everything of a case that notes have settled, results first. */
export const settledAfter = (current: Case): readonly SettledAfter[] => [
  ...resultsSeen(current),
  ...removalsDone(current),
];

function resultsSeen(current: Case): readonly SettledAfter[] {
  return Object.values(current.specimens).flatMap((specimen) => {
    const note = resultSeenBy(current, specimen);
    if (!note || specimen.stage !== 'handedOver') return [];
    const { text, at } = note;
    return [{ kind: 'result', about: specimen.id, words: resultWords(specimen), n: 1, text, at }];
  });
}

function removalsDone(current: Case): readonly SettledAfter[] {
  return Object.keys(current.left).flatMap((id) => {
    const line = current.lines.get(id);
    const n = line ? removedOf(current, line) : 0;
    const note = line && current.notes.findLast((one) => removedBy(one, line) > 0);
    if (!note || n <= 0) return [];
    const { text, at } = note;
    return [{ kind: 'removal', about: id, words: `${n} ${line.name}`, n, text, at }];
  });
}
