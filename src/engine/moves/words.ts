import { say, sayInside, sayOf } from '#words/say.ts';
import { unreachable } from '../assert.ts';
import { placeWords } from '../placeWords.ts';
import { type EntryWords, lineName } from '../said.ts';
import type { Case } from '../state.ts';
import type { Explained, Moved, MovesEvent } from './events.ts';

/** What was moved, opened, turned or broken, in words. */
export function movesWords(current: Case, event: MovesEvent): EntryWords {
  const subject = lineName(current, event.line);
  switch (event.type) {
    case 'added': {
      const aside = event.setAside.map((n) => say`a pack of ${n} set aside`).join(', ');
      const opened = event.n > 0 ? say`${event.n} added to the field` : say`nothing added`;
      const scanned = event.scanned?.map((words) => say`, scanned: ${words}`).join('') ?? '';
      return { subject, rest: `${opened}${aside && `, ${aside}`}${scanned}` };
    }
    case 'moved': {
      const from = placeWords(current, event.from);
      return { subject, rest: say`${event.n} from ${from}${goneWords(current, event)}` };
    }
    case 'turned': {
      const into = event.into === undefined ? '' : say` into ${event.into}`;
      return { subject, rest: `${event.n} ${sayInside(event.name)}${into}` };
    }
    case 'broken': {
      const lengths = event.lengths ? say` (${event.lengths.join(' + ')} mm)` : '';
      return { subject, rest: say`broke into ${event.into} fragments${lengths}` };
    }
    case 'carriedIn':
      return {
        subject,
        rest: say`${event.n} start in the patient (${sayOf(event.from.replaceAll('-', ' '))})`,
      };
    case 'explained':
      return { subject, rest: say`stays: ${leftWords(event)}` };
    case 'noneFound':
      return { subject, rest: say`${event.n} searched for, none found: ${event.reason}` };
    default:
      return unreachable(event);
  }
}

/** Where moved pieces went, so that a sentence comes of it. */
function goneWords(current: Case, { to, with: with_ }: Moved): string {
  if (with_ !== undefined) return say`, left with ${with_}`;
  return to === 'stays' ? say`, stays on purpose` : say` to ${placeWords(current, to)}`;
}

function leftWords(event: Explained): string {
  if (event.lengths !== undefined) return event.lengths;
  const words = event.left.map((one) =>
    [one.reason, one.where, one.lot].filter(Boolean).join(', '),
  );
  return words.join('; ');
}
