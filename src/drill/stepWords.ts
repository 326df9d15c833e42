/** The keys of a drill beside its commands, each with a sentence, for the parser and for the README. */

/** Keys of a whole drill. */
export const drillKeys = {
  drill: 'What it shows, as a sentence.',
  sheet:
    'The name of a sheet in `checklists/` (or in `sheets/` beside the drill or one folder up), or a whole sheet.',
  patient: '`name`, `number`, `born`, and if wanted `weight` in kilograms and `allergies`.',
  team: 'A name for each of `scrub`, `circulator`, `surgeon`, `anaesthetist`.',
  variants:
    'The variants that the case is opened with, a list or one by group; without it, the first of each.',
  start: 'The clock at the start, as date and time with an offset.',
  refused: 'The code with which opening the case is refused; there are no steps then.',
  steps: 'What is done and what is expected, in order.',
} as const;

/** Keys that any step may carry beside its command. */
export const stepKeys = {
  refused: 'The code with which the command must be refused.',
  warned: 'A code, or several, that must be said beside the command.',
  expect: 'What must hold then; may also stand alone.',
  id: 'The id of the command: the same id twice is recorded once.',
  at: 'Sets the clock: date and time with an offset, or `13:45`; it may go back.',
  actor: 'Who does it, by role or name; without it, the circulator.',
} as const;

/** What can be expected. */
export const expectKeys = {
  balance: 'Pieces by line and place; `patient` is all sites together.',
  inside: 'All that is inside, by site and line: nothing else is there.',
  introduced: 'Pieces of a line that came in and have not turned into others.',
  difference: 'Seen less expected, by line, at its last count or recount.',
  closure: '`clear`, `held` or `done`, by closure; `sign-out` is one.',
  holds: 'The exact set of hold codes, by closure; `sign-out` is one.',
  verdict: '`open` until the case is finished, then one of the three.',
  loss: 'Blood loss in millilitres: `swabs`, `suction`, `total`.',
  specimen: 'The stage of a specimen, by its id.',
  checkpoint: '`not-begun`, `begun` or `finished`, by checkpoint.',
  entries: 'How many entries there are.',
} as const;

export type ExpectKey = keyof typeof expectKeys;
