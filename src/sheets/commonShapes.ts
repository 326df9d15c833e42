import { number, text } from './scalarReaders.ts';

/** Kinds of values that many parts of the format share. Units: letters, pieces, millimetres. */
export const pieces = number(0, 999, true);
export const millimetres = number(0.1, 10_000, false);
export const sentence = text(300);
export const words = text(120);
