import { say } from '#words/say.ts';
import { type Gs1Element, hasCheckDigit, parseElements } from './gs1.ts';
import { isLabelCode } from './labelCode.ts';
import { isHibc, isIsbt } from './otherIssuers.ts';
import { separator } from './separator.ts';

/** What was scanned. `raw` is what the scanner sent, whole: it is what goes into the record. */
export type Scan =
  | { readonly kind: 'gs1'; readonly raw: string; readonly elements: readonly Gs1Element[] }
  | {
      readonly kind: 'hibc' | 'isbt128' | 'label' | 'plain';
      readonly raw: string;
      readonly text: string;
    }
  | { readonly kind: 'unreadable'; readonly raw: string; readonly sentence: string };

/** Symbology identifiers behind which an element string stands. Source: ISO/IEC 15424; GS1 General Specifications. */
const gs1Symbols = [']d2', ']C1', ']Q3', ']e0', ']J1'];
/** Retail numbers, and how many zeros make fourteen digits of them. */
const retailSymbols: Readonly<Record<string, number>> = { ']E0': 13, ']E4': 8 };
const plainSymbols = /^\](?:d[013]|C[04]|Q[0124]|A[0-7]|X0|z[0-3]|I[01])/;

/**
 * Recognises what a scanner sent. Nothing is guessed: what is no known code is a plain text.
 *
 * `scannedAt` settles the century of two-digit years.
 */
export function readScan(raw: string, scannedAt: string): Scan {
  if (!raw.startsWith(']')) return readBare(raw, scannedAt);
  const symbol = raw.slice(0, 3);
  const data = raw.slice(3);
  const length = retailSymbols[symbol];
  if (length !== undefined) return readRetail(raw, data, length);
  if (gs1Symbols.includes(symbol)) return readElements(raw, data, scannedAt);
  if (plainSymbols.test(symbol) && data !== '') return readPlain(raw, data);
  return {
    kind: 'unreadable',
    raw,
    sentence: say`The scanner sent a code of a kind not known here.`,
  };
}

function readElements(raw: string, data: string, scannedAt: string): Scan {
  const parsed = parseElements(data, scannedAt);
  if (!parsed.ok) return { kind: 'unreadable', raw, sentence: parsed.sentence };
  return { kind: 'gs1', raw, elements: parsed.elements };
}

function readRetail(raw: string, data: string, length: number): Scan {
  if (data.length !== length || !hasCheckDigit(data)) {
    const sentence = say`The number of the item has a wrong check digit: it was misread.`;
    return { kind: 'unreadable', raw, sentence };
  }
  const value = data.padStart(14, '0');
  return { kind: 'gs1', raw, elements: [{ ai: '01', name: say`Item number`, value }] };
}

/** Without a symbology identifier only a whole string that begins with the number of an item is taken for GS1. */
function readBare(raw: string, scannedAt: string): Scan {
  if (!raw.includes(separator) && !/^(01|8004|8017|8018)\d/.test(raw)) return readPlain(raw, raw);
  const parsed = parseElements(raw, scannedAt);
  if (parsed.ok) return { kind: 'gs1', raw, elements: parsed.elements };
  if (raw.includes(separator)) return { kind: 'unreadable', raw, sentence: parsed.sentence };
  return readPlain(raw, raw);
}

function readPlain(raw: string, text: string): Scan {
  if (isLabelCode(text)) return { kind: 'label', raw, text };
  if (isHibc(text)) return { kind: 'hibc', raw, text };
  if (isIsbt(text)) return { kind: 'isbt128', raw, text };
  return { kind: 'plain', raw, text };
}
