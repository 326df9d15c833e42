import { roles } from '#engine/sheet.ts';
import {
  bothCounters,
  type EngineWords,
  line,
  moment,
  neededReason,
  pieces,
  reason,
  surgeonAndOther,
} from './wordFields.ts';

/** Commands about pieces, and about counting them. */
export const countingWords = {
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
      together: {
        takes: 'texts',
        says: 'Other parts of its group that the sheet has as `together`: the same number of each.',
      },
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
} as const satisfies Pick<
  EngineWords,
  | 'add'
  | 'move'
  | 'turn'
  | 'break'
  | 'carriedIn'
  | 'explain'
  | 'searchedNone'
  | 'beginCount'
  | 'enter'
  | 'agree'
  | 'abandon'
  | 'recount'
  | 'relief'
  | 'waive'
>;
