import type { Word } from './fields.ts';
import { engineWords } from './vocabulary.ts';

/** Words that a drill has beyond the engine's: several commands in one, and the clock. */
export const drillWords = {
  count: {
    says: 'A whole count: begin, enter each line, agree. All of it is recorded or nothing.',
    fields: {
      moment: engineWords.beginCount.fields.moment,
      found: {
        takes: 'found by line',
        says: '`usual` (also without it), or what differs from usual by line: `{ field, off, packs }`.',
      },
      except: { takes: 'found by line', says: 'The lines that differ from usual.' },
      scrub: engineWords.beginCount.fields.scrub,
      circulator: engineWords.beginCount.fields.circulator,
      by: engineWords.agree.fields.by,
    },
  },
  checkpoint: {
    says: 'A whole checkpoint: begin, answer each step, finish. All of it is recorded or nothing.',
    fields: {
      id: engineWords.beginCheckpoint.fields.id,
      answers: {
        takes: 'answers',
        says: '`usual` (also without it), or the answers that differ from usual, by step.',
      },
      except: { takes: 'answers', says: 'The answers that differ from usual, by step.' },
      notApplicable: {
        takes: 'reasons by step',
        says: 'The steps that do not apply, with the reason.',
      },
      open: { takes: 'names by step', says: 'The steps left open: `{ name, reason }` by step.' },
      leader: engineWords.beginCheckpoint.fields.leader,
      present: engineWords.beginCheckpoint.fields.present,
    },
  },
  wait: {
    says: 'Moves the clock.',
    fields: { minutes: { takes: 'number', needed: true, says: 'By how many minutes.' } },
  },
} as const satisfies Readonly<Record<string, Word>>;

export type DrillWord = keyof typeof drillWords;
