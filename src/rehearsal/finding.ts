import type { Sheet } from '#engine/sheet.ts';
import type { Path } from '#sheets/checking.ts';
import type { Play } from './play.ts';
import type { Blocked } from './usual.ts';

/** A fault that shows only when a case of the sheet is played. Nothing of it is about one case or patient. */
export type Finding = {
  /**
   * `never-closes`: a case cannot come to its end. `closes-on`: it can, with something still inside.
   * `contradiction`: something that the sheet foresees can never be done.
   */
  readonly code: 'never-closes' | 'closes-on' | 'contradiction';
  readonly path: Path;
  readonly found: string;
  readonly expected: string;
  /** The shortest way there, as steps of a drill. */
  readonly way: readonly string[];
};

/** A case that was played to its end, and how it was on the way. */
export type Played = {
  /** Just after the incision. */
  readonly open: Play;
  /** Before each gate, with nothing that holds it. */
  readonly before: readonly Play[];
  readonly chosen: readonly string[];
};

/** What is in the way, in the words of a mistake of the sheet. */
export function findingOf(
  sheet: Sheet,
  { part, why, play }: Blocked,
  chosen: readonly string[],
): Finding {
  const ways = play.current.sheet.variants.length > 0 ? ` with ${chosen.join(', ')}` : '';
  const code = 'never-closes';
  const { way } = play;
  const reason = why.replace(/\.$/, '');
  switch (part.kind) {
    case 'step':
      return {
        code,
        path: ['checkpoints', part.checkpoint, 'steps', part.step, 'answer'],
        found: `never answered in time${ways} (${reason})`,
        expected: 'something that can be answered when the checkpoint is read',
        way,
      };
    case 'checkpoint':
      return {
        code,
        path: ['checkpoints', part.checkpoint],
        found: `after ${part.waitsFor}, which comes before ${beforeOf(sheet, part.waitsFor)}`,
        expected: 'before it, since checkpoints are read in their order',
        way,
      };
    case 'count':
      return {
        code,
        path: [...closureAsking(sheet, part.moment), 'count'],
        found: `${part.moment}, which cannot be made then${ways} (${reason})`,
        expected: 'a count that can be made before it is closed: cavity, closing or final',
        way,
      };
    case 'look':
      return {
        code,
        path: ['closures', part.closure, 'look', part.step],
        found: `never answered so that it goes on${ways} (${reason})`,
        expected: 'something that the surgeon can answer',
        way,
      };
    case 'specimen':
      return {
        code,
        path: ['specimens', part.specimen],
        found: `in the way to the end${ways} (${reason})`,
        expected: 'something that can be taken, labelled and handed over',
        way,
      };
    case 'line':
      return {
        code,
        path: linePath(sheet, part.line),
        found: `in the way to the end${ways} (${reason})`,
        expected: 'something that can come out or stay',
        way,
      };
    case 'gate':
      return {
        code,
        path: ['closures', part.gate],
        found: `never reached${ways} (${reason})`,
        expected: 'reached by a case without trouble',
        way,
      };
  }
}

const beforeOf = (sheet: Sheet, id: string): string =>
  sheet.checkpoints.find((known) => known.id === id)?.before ?? '';

function closureAsking(sheet: Sheet, moment: string): Path {
  const asking = sheet.closures.find(({ count }) => count === moment);
  return asking ? ['closures', asking.id] : ['moments', moment];
}

/** Where a line stands in the sheet. */
export function linePath(sheet: Sheet, id: string): Path {
  const section = sheet.lines.find((line) => line.id === id)?.section ?? '';
  return ['sections', section, 'lines', id];
}
