import { carriedFrom, lineClasses } from '#engine/sheet.ts';
import { millimetres, pieces, sentence, words } from './commonShapes.ts';
import type { Reader } from './reader.ts';
import { byId, eitherOf, fields, list, mapped, needed, optional } from './readers.ts';
import { id, number, oneOf, text, yesNo, yesOr } from './scalarReaders.ts';

/** How sections, lines and turns are written. */

const asked: Reader<number | 'asked'> = oneOf(['asked']);
const said: Reader<number | 'asked'> = number(1, 999, true, ' or asked');
const many = eitherOf(
  (tree) => (tree.kind === 'scalar' && tree.value === 'asked' ? asked : said),
  [said, asked],
  said.expected,
);

/** One line that begins when a piece turns. */
export const given = fields('a line that begins, with its place', {
  line: needed(id, 'The line of the new piece.'),
  n: optional(
    many,
    'How many of each piece that turns; 1 if left out; asked for the number that was said.',
  ),
  place: needed(
    oneOf(['here', 'patient', 'table', 'off', 'stays']),
    'Where it is then. here: where the piece was.',
  ),
});

/** What a piece can become in use. */
export const turn = fields('a turn, with gives', {
  name: needed(words, 'What happened, as it is said aloud.'),
  at: optional(
    oneOf(['patient', 'table', 'any']),
    'Where the piece must be. Any place if left out.',
  ),
  asks: optional(text(30), 'Asks how many pieces it became, and calls them this.'),
  gives: needed(list(given, 20), 'What the piece becomes.'),
});

const stayNeed = oneOf(['reason', 'where', 'lot']);
type StayWritten = 'no' | 'yes' | readonly ('reason' | 'where' | 'lot')[];
const stayWord: Reader<StayWritten> = mapped(
  yesOr(', or a list of reason, where and lot'),
  (may) => (may ? 'yes' : 'no'),
);
const stayNeeds: Reader<StayWritten> = list(stayNeed, 3);
const stay = eitherOf<StayWritten>(
  (tree) => (tree.kind === 'list' ? stayNeeds : stayWord),
  [stayWord, stayNeeds],
  stayWord.expected,
);

/** Digits in quotes, since a YAML number would lose the 0 in front; HIBC begins with a plus. */
const packNumber = text(40);

const lineShape = {
  name: needed(words, 'What it is called aloud and on the screen.'),
  detail: optional(sentence, 'More about it: parts, size, how it is used.'),
  group: optional(words, 'Lines with the same group are shown together (parts of one port).'),
  together: optional(
    yesNo,
    'Whether a count asks once for all such parts of the group: so many of each. No if left out.',
  ),
  class: optional(oneOf(lineClasses), 'Which part of the count. That of the section if left out.'),
  opening: optional(pieces, 'Pieces on the table at the first count. None if left out.'),
  pack: optional(number(1, 100, true), 'Pieces in a pack, where packs are counted by number.'),
  tracked: optional(
    yesNo,
    'Whether it can be wholly inside. Yes for swabs, sharps and small items, no for instruments.',
  ),
  counted: optional(yesNo, 'Whether counts ask for it. Yes if left out.'),
  stay: optional(
    stay,
    'Whether it may be left inside: no (if left out), yes, or what must be said.',
  ),
  'starts-in': optional(oneOf(carriedFrom), 'How it can be in the patient from the start.'),
  film: optional(
    oneOf(['yes', 'no', 'varies']),
    'Whether an X-ray shows it. By class if left out.',
  ),
  'size-mm': optional(
    millimetres,
    'Its largest dimension, where an X-ray may be too coarse for it.',
  ),
  'length-mm': optional(
    millimetres,
    'Its whole length: the fragments of a broken one must add up.',
  ),
  cuttable: optional(yesNo, 'Whether it may be cut. No for swabs, yes for others, if left out.'),
  brings: optional(
    byId(number(1, 99, true), 'lines that come with it', 10),
    'What comes in with each piece, or with each pack where it has packs.',
  ),
  'dry-g': optional(
    number(0, 1000, false),
    'Dry weight of one, for the blood loss. Weigh your own.',
  ),
  codes: optional(
    list(packNumber, 20),
    'Numbers of its packs, as their bar codes say: a scanned pack is then known.',
  ),
  turns: optional(byId(turn, 'turns', 10), 'What a piece can become in use.'),
  source: optional(sentence, 'Where this comes from. That of the section if left out.'),
} as const;
/** One row of the count sheet. */
export const line = fields('a line, with its name', lineShape);

const sectionShape = {
  name: needed(words, 'The heading on the count sheet.'),
  short: optional(
    text(24),
    'The same in a word or two, for its key below the frame. What stands before the first comma of the name if left out.',
  ),
  instruments: optional(
    pieces,
    'How many instruments the tray has; its lines say how many pieces.',
  ),
  class: optional(oneOf(lineClasses), 'The class of its lines, where they do not say their own.'),
  source: optional(sentence, 'Where its lines come from, where they do not say their own.'),
  lines: needed(byId(line, 'lines'), 'The lines of the section, in order.'),
} as const;
/** A tray or a set of packs, with its lines. */
export const section = fields('a section, with its lines', sectionShape);
