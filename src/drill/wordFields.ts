import type { Command } from '#engine/case/events.ts';
import { momentIds } from '#engine/sheet.ts';
import type { Word } from './fields.ts';

type FieldsOf<Type extends Command['type']> = Exclude<
  Extract<Command, { readonly type: Type }> extends infer C ? keyof C : never,
  'type' | symbol | number
>;

/** The engine's commands, each with every field that it has: a new one does not compile until it is here. */
export type EngineWords = { readonly [Type in Command['type']]: Word<FieldsOf<Type>> };

export const reason = { takes: 'text', says: 'Why.' } as const;
export const neededReason = { takes: 'text', needed: true, says: 'Why.' } as const;
export const line = { takes: 'line', needed: true, says: 'The line of the sheet.' } as const;
export const pieces = {
  takes: 'pieces',
  needed: true,
  says: 'How many pieces, 1 to 999.',
} as const;
export const surgeonAndOther = {
  takes: 'people',
  says: 'Who agrees: the surgeon and one other, by name or role.',
} as const;
export const bothCounters = {
  takes: 'people',
  says: 'Who agrees; without it, the two people who count.',
} as const;
export const moment = {
  takes: 'text',
  oneOf: momentIds,
  needed: true,
  says: 'When the count happens.',
} as const;
export const checkpointId = { takes: 'text', needed: true, says: 'The checkpoint.' } as const;
export const closure = { takes: 'text', needed: true, says: 'The closure.' } as const;
export const film = {
  wholeField: { takes: 'yes or no', says: 'Whether the film shows the whole field.' },
  result: { takes: 'text', oneOf: ['nothing-seen', 'seen'], says: 'What the film shows.' },
} as const;
