import type { Command } from '#engine/case/events.ts';
import { momentIds, roles, sides } from '#engine/sheet.ts';
import { specimenSteps } from '#engine/specimens/events.ts';
import { discrepancySteps } from '#engine/state.ts';
import type { Word } from './fields.ts';

type FieldsOf<Type extends Command['type']> = Exclude<
  Extract<Command, { readonly type: Type }> extends infer C ? keyof C : never,
  'type' | symbol | number
>;

/** The engine's commands, each with every field that it has: a new one does not compile until it is here. */
type EngineWords = { readonly [Type in Command['type']]: Word<FieldsOf<Type>> };

const reason = { takes: 'text', says: 'Why.' } as const;
const neededReason = { takes: 'text', needed: true, says: 'Why.' } as const;
const line = { takes: 'line', needed: true, says: 'The line of the sheet.' } as const;
const pieces = { takes: 'pieces', needed: true, says: 'How many pieces, 1 to 999.' } as const;
const surgeonAndOther = {
  takes: 'people',
  says: 'Who agrees: the surgeon and one other, by name or role.',
} as const;
const bothCounters = {
  takes: 'people',
  says: 'Who agrees; without it, the two people who count.',
} as const;
const moment = {
  takes: 'text',
  oneOf: momentIds,
  needed: true,
  says: 'When the count happens.',
} as const;
const checkpointId = { takes: 'text', needed: true, says: 'The checkpoint.' } as const;
const closure = { takes: 'text', needed: true, says: 'The closure.' } as const;
const film = {
  wholeField: { takes: 'yes or no', says: 'Whether the film shows the whole field.' },
  result: { takes: 'text', oneOf: ['nothing-seen', 'seen'], says: 'What the film shows.' },
} as const;

export const engineWords: EngineWords = {
  add: {
    says: 'Opens something onto the field. A pack that differs from its size is set aside whole.',
    fields: {
      line,
      n: {
        takes: 'pieces',
        says: 'How many pieces; for a line in packs, a whole number of packs.',
      },
      packs: { takes: 'numbers', says: 'How many pieces each pack held when it was seen.' },
      by: { takes: 'people', says: 'Who saw it; without it, scrub and circulator.' },
      scanned: {
        takes: 'texts',
        says: 'What the codes of the packs said, one text a pack: lot, expiry, the code itself.',
      },
    },
  },
  move: {
    says: 'Moves pieces of a line from one place to another.',
    fields: {
      line,
      from: { takes: 'place', needed: true, says: 'Where they are.' },
      to: { takes: 'place', needed: true, says: 'Where they go.' },
      n: pieces,
      with: { takes: 'text', says: 'With whom they are left; needed for `away`.' },
      reason: { takes: 'text', says: 'Why they stay, where the line asks for it.' },
      where: { takes: 'text', says: 'Where exactly they stay, where the line asks for it.' },
      lot: { takes: 'text', says: 'The lot number of what stays, where the line asks for it.' },
    },
  },
  turn: {
    says: 'Pieces turn into other pieces, as the sheet says: a loop placed, a reel cut.',
    fields: {
      line,
      turn: { takes: 'text', needed: true, says: 'The turn of the line.' },
      at: { takes: 'place', needed: true, says: 'Where the piece is that turns.' },
      n: { takes: 'pieces', needed: true, says: 'How many pieces turn.' },
      into: { takes: 'pieces', says: 'Into how many each is cut, where the turn asks for it.' },
      lengthCm: { takes: 'number', says: 'How long each of them is, in centimetres.' },
    },
  },
  break: {
    says: 'One piece breaks into fragments, which become the line `<line>-fragment`.',
    fields: {
      line,
      at: { takes: 'place', needed: true, says: 'Where it broke.' },
      into: { takes: 'pieces', needed: true, says: 'How many fragments there are, 2 or more.' },
      lengths: { takes: 'numbers', says: 'The length of each fragment in millimetres.' },
    },
  },
  carriedIn: {
    says: 'Something is in the patient from the start, or is seen to have got there.',
    fields: {
      line,
      n: pieces,
      site: { takes: 'site', says: 'Where in the patient; not needed where there is one site.' },
      from: {
        takes: 'text',
        oneOf: ['imaging', 'earlier-operation', 'seen'],
        needed: true,
        says: 'How it is known.',
      },
    },
  },
  explain: {
    says: 'Says why something stays. What may not stay needs the surgeon and one other.',
    fields: {
      line,
      n: { takes: 'pieces', says: 'How many stay; without it, all that are inside.' },
      site: { takes: 'site', says: 'From which site, where there is more than one.' },
      reason,
      where: { takes: 'text', says: 'Where exactly it stays.' },
      lot: { takes: 'text', says: 'The lot number.' },
      by: surgeonAndOther,
    },
  },
  searchedNone: {
    says: 'The surgeon says that a search showed none of what was thought to be inside.',
    fields: {
      line,
      n: pieces,
      site: { takes: 'site', says: 'Where it was thought to be.' },
      reason: neededReason,
      by: { takes: 'person', says: 'The surgeon.' },
    },
  },
  beginCount: {
    says: 'Begins a count. From here until both agree, it is blind.',
    fields: {
      moment,
      scrub: { takes: 'person', says: 'Who counts as scrub, if not the one in the role.' },
      circulator: {
        takes: 'person',
        says: 'Who counts as circulator, if not the one in the role.',
      },
    },
  },
  enter: {
    says: 'Says what was seen of one line in the running count.',
    fields: {
      line,
      field: { takes: 'pieces', says: 'Seen on the table and in use, 0 to 999.' },
      off: { takes: 'pieces', says: 'Seen counted off the field, 0 to 999.' },
      packs: { takes: 'numbers', says: 'At the first count, what each pack held.' },
    },
  },
  agree: {
    says: 'Both agree what they saw; only now it is compared.',
    fields: { by: bothCounters },
  },
  abandon: { says: 'Breaks the running count off.', fields: { reason: neededReason } },
  recount: {
    says: 'Counts lines again that differed. Two in a row that agree settle a line.',
    fields: {
      lines: {
        takes: 'found by line',
        needed: true,
        says: 'What was seen of each line: `usual`, or `{ field, off }` where it differs from usual.',
      },
      by: { takes: 'people', says: 'Who recounts; without it, scrub and circulator.' },
    },
  },
  relief: {
    says: 'Somebody takes over a role. Scrub and circulator then owe a relief count.',
    fields: {
      role: { takes: 'text', oneOf: roles, needed: true, says: 'The role.' },
      to: { takes: 'person', needed: true, says: 'Who takes over.' },
      short: { takes: 'yes or no', says: 'A short break: noted, without a count.' },
    },
  },
  waive: {
    says: 'An emergency leaves a count out. An X-ray is owed, and the case cannot be reconciled.',
    fields: { moment, reason: neededReason, by: surgeonAndOther },
  },
  discrepancy: {
    says: 'A step of a discrepancy is done or carries a reason why not; or the piece is found.',
    fields: {
      line,
      step: {
        takes: 'text',
        oneOf: [...discrepancySteps, 'found'],
        needed: true,
        says: 'The step.',
      },
      by: { takes: 'person', says: 'Who did it.' },
      skip: { takes: 'text', says: 'Why it was not done.' },
      n: { takes: 'pieces', says: 'With `found`: how many; without it, one.' },
      from: {
        takes: 'place',
        says: 'With `found`: where the record has it, if in several places.',
      },
      place: { takes: 'place', says: 'With `found`: where it is now; without it, `off`.' },
      readBy: { takes: 'person', says: 'With `xray`: who read the film.' },
      ...film,
    },
  },
  declare: {
    says: 'The surgeon and one other declare pieces unaccounted for.',
    fields: {
      line,
      n: pieces,
      from: { takes: 'place', says: 'Where the record has them, if in several places.' },
      reason: neededReason,
      by: surgeonAndOther,
    },
  },
  amend: {
    says: 'Scrub, circulator and surgeon agree that an addition was not recorded.',
    fields: {
      line,
      n: pieces,
      reason: neededReason,
      by: { takes: 'people', says: 'Who agrees: scrub, circulator and surgeon.' },
    },
  },
  xray: {
    says: 'A film was read by a named person. It never changes the ledger.',
    fields: {
      line: { takes: 'line', says: 'The line that was looked for.' },
      wholeField: { ...film.wholeField, needed: true },
      result: { ...film.result, needed: true },
      readBy: { takes: 'person', needed: true, says: 'Who read it.' },
    },
  },
  deferXray: {
    says: 'An unstable patient leaves before the film, which stays owed.',
    fields: { reason: neededReason, by: surgeonAndOther },
  },
  specimen: {
    says: 'One step of a specimen.',
    fields: {
      id: { takes: 'text', needed: true, says: 'The specimen.' },
      step: { takes: 'text', oneOf: specimenSteps, needed: true, says: 'The step.' },
      name: { takes: 'text', says: '`added`: its name.' },
      letter: { takes: 'text', says: '`added`: its letter; without it, the next free one.' },
      site: { takes: 'site', says: '`added`: the site it comes from.' },
      siteWords: { takes: 'text', says: '`added`: what the label says of the site.' },
      side: { takes: 'text', oneOf: sides, says: '`added`: its side.' },
      test: { takes: 'text', says: '`added`: the test wanted.' },
      media: { takes: 'texts', says: '`added`: the media fit for that test.' },
      pieces: { takes: 'pieces', says: '`taken`: in how many pieces; without it, one.' },
      whole: { takes: 'yes or no', says: '`taken`: whether they make a whole; without it, yes.' },
      bag: {
        takes: 'text',
        oneOf: ['intact', 'torn', 'none'],
        says: '`taken`: the retrieval bag.',
      },
      carries: { takes: 'pieces by line', says: '`taken`: the pieces that go with it, by line.' },
      pot: { takes: 'text', says: '`contained`: the pot; one specimen a pot.' },
      medium: {
        takes: 'text',
        says: '`contained`: what it lies in; without it, the first that fits.',
      },
      seenBy: { takes: 'people', says: '`contained`: the two who saw it in the pot.' },
      reason: {
        takes: 'text',
        says: '`contained` in an unfit medium, `notTaken`, `partLeft`, `readBack` that disagrees: why.',
      },
      label: {
        takes: 'label',
        says: '`labelled`: `usual`, or what the label says otherwise; an empty field is missing on it.',
      },
      on: { takes: 'text', oneOf: ['pot', 'lid'], says: '`labelled`: where the label is.' },
      by: { takes: 'person', says: '`labelled`, `readBack`, `notTaken`, `partLeft`: who.' },
      agrees: { takes: 'yes or no', says: '`readBack`: no, when what was read is not so.' },
      to: { takes: 'text', says: '`handedOver`: to whom.' },
    },
  },
  beginCheckpoint: {
    says: 'A checkpoint begins.',
    fields: {
      id: checkpointId,
      leader: { takes: 'person', says: 'Who leads it, if not the one whom the sheet names.' },
      present: {
        takes: 'people',
        says: 'Who is present; without it, all whom the sheet asks for.',
      },
    },
  },
  answer: {
    says: 'One step of a checkpoint is answered, does not apply, or is left open.',
    fields: {
      checkpoint: checkpointId,
      step: { takes: 'text', needed: true, says: 'The step.' },
      value: { takes: 'answer', says: 'The answer.' },
      notApplicable: { takes: 'text', says: 'Why it does not apply.' },
      open: { takes: 'name and reason', says: 'Who leaves it open, and why: `{ name, reason }`.' },
      scanned: { takes: 'yes or no', says: 'Whether the wristband was scanned and is this one.' },
    },
  },
  finishCheckpoint: { says: 'A checkpoint is finished.', fields: { id: checkpointId } },
  reopenCheckpoint: {
    says: 'A finished checkpoint is opened again.',
    fields: { id: checkpointId, reason: neededReason },
  },
  incision: { says: 'The incision.', fields: {} },
  dose: {
    says: 'A prophylactic dose was started.',
    fields: {
      agent: { takes: 'text', needed: true, says: 'The medicine of the sheet.' },
      mg: { takes: 'number', says: 'How much, in milligrams.' },
      at: { takes: 'time', says: 'When it was started; without it, now.' },
    },
  },
  look: {
    says: 'The surgeon answers the last look before a closure.',
    fields: {
      closure,
      answers: {
        takes: 'answers',
        needed: true,
        says:
          '`usual`, or the answers that differ from usual by step; an empty one is not given. ' +
          'Without a recorded dose the usual answer to the antibiotic is that it does not apply.',
      },
    },
  },
  close: { says: 'Asks to close. Refused as `held` while anything is open.', fields: { closure } },
  reopen: {
    says: 'Opens a closure again, and every later one.',
    fields: { closure, reason: neededReason },
  },
  finish: { says: 'Ends the case with its verdict.', fields: {} },
  note: {
    says: 'Words for the record.',
    fields: { text: { takes: 'text', needed: true, says: 'The words.' } },
  },
  weigh: {
    says: 'Wet swabs are weighed.',
    fields: {
      line,
      n: pieces,
      wetG: { takes: 'number', needed: true, says: 'Grams, all together.' },
    },
  },
  fluid: {
    says: 'Fluid is measured.',
    fields: {
      kind: {
        takes: 'text',
        oneOf: ['suction', 'irrigation', 'other'],
        needed: true,
        says: 'Which; irrigation and other fluid are taken from what the suction holds.',
      },
      ml: { takes: 'number', needed: true, says: 'Millilitres.' },
    },
  },
  handover: {
    says: 'What stays by intent is handed over.',
    fields: {
      line,
      to: { takes: 'text', needed: true, says: 'To whom.' },
      plan: { takes: 'text', needed: true, says: 'What becomes of it, and when.' },
    },
  },
  variant: {
    says: 'Another way of doing the operation, such as converting to open.',
    fields: { to: { takes: 'text', needed: true, says: 'The variant.' } },
  },
  correct: {
    says: 'Takes back an entry by another one.',
    fields: {
      last: {
        takes: 'number',
        says: '1: the latest entry that is no correction and not corrected.',
      },
      entry: { takes: 'number', says: 'The number of the entry.' },
    },
  },
};
