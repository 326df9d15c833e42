import type { Settles } from '../state.ts';

/** Words for the record, and what they settle of what a case still owes. */
export type WriteNote = Partial<Settles> & { readonly type: 'note'; readonly text: string };
/** Wet swabs are weighed. Units: `n` pieces, `wetG` grams all together. */
export type Weigh = {
  readonly type: 'weigh';
  readonly line: string;
  readonly n: number;
  readonly wetG: number;
};
/** Units: millilitres. `irrigation` and `other` (liquor) are taken from what the suction holds. */
export type MeasureFluid = {
  readonly type: 'fluid';
  readonly kind: 'suction' | 'irrigation' | 'other';
  readonly ml: number;
};
/** What stays by intent is handed over: to whom, and when it comes out. */
export type HandOver = {
  readonly type: 'handover';
  readonly line: string;
  readonly to: string;
  readonly plan: string;
};

/** What the patient reacts to, all of it, in place of what was said before. Empty: nothing is known. */
export type SayAllergies = { readonly type: 'allergies'; readonly known: readonly string[] };

export type NotesCommand = WriteNote | Weigh | MeasureFluid | HandOver | SayAllergies;

export type NoteWritten = Partial<Settles> & {
  readonly type: 'noteWritten';
  readonly text: string;
};
export type SwabsWeighed = {
  readonly type: 'weighed';
  readonly line: string;
  readonly n: number;
  readonly wetG: number;
};
export type FluidMeasured = {
  readonly type: 'fluidMeasured';
  readonly kind: 'suction' | 'irrigation' | 'other';
  readonly ml: number;
};
export type HandedOver = {
  readonly type: 'handedOver';
  readonly line: string;
  readonly to: string;
  readonly plan: string;
};

export type AllergiesSaid = { readonly type: 'allergiesSaid'; readonly known: readonly string[] };

export type NotesEvent = NoteWritten | SwabsWeighed | FluidMeasured | HandedOver | AllergiesSaid;
