import { sides } from '#engine/sheet.ts';
import { specimenSteps } from '#engine/specimens/events.ts';
import { discrepancySteps, settlings } from '#engine/state.ts';
import { countingWords } from './countingWords.ts';
import {
  checkpointId,
  closure,
  type EngineWords,
  film,
  line,
  neededReason,
  pieces,
  surgeonAndOther,
} from './wordFields.ts';

/** The engine's commands with their fields, in the order in which README has them. */
export const engineWords: EngineWords = {
  ...countingWords,
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
    fields: {
      text: { takes: 'text', needed: true, says: 'The words.' },
      settles: {
        takes: 'text',
        oneOf: settlings,
        says: 'What it settles of what is still owed after the patient has left.',
      },
      about: { takes: 'text', says: 'With `settles`: the specimen, or the line.' },
      n: { takes: 'pieces', says: 'With `taken-out` and `not-taken-out`: how many pieces.' },
    },
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
  allergies: {
    says: 'What the patient reacts to, in place of what was said before. An empty list: nothing is known.',
    fields: { known: { takes: 'texts', needed: true, says: 'All of them.' } },
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
