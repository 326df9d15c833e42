import { unreachable } from '#engine/assert.ts';
import { say } from '#words/say.ts';
import type { Day } from './days.ts';
import { elementValue, expiryOf, readable } from './gs1.ts';
import type { Scan } from './readScan.ts';

/** A pack as its code says it is. Only what stands in the code: nothing is looked up. */
export type Pack = {
  /** What goes into the record: readable for GS1, as it was sent for the others. */
  readonly words: string;
  /** The number by which a sheet may know it. */
  readonly item?: string;
  /** How many pieces it says that it holds, (30). */
  readonly pieces?: number;
  readonly lot?: string;
  readonly serial?: string;
  readonly expires?: Day;
};

export type PackScanned =
  | { readonly ok: true; readonly pack: Pack }
  | { readonly ok: false; readonly sentence: string };

/**
 * The pack that was scanned, or why it may not be used. A pack may be used up to the end of the day it expires.
 *
 * A code without a day of expiry is not refused, and nothing is said of when it expires.
 */
export function packOf(scan: Scan, scannedAt: string): PackScanned {
  switch (scan.kind) {
    case 'unreadable':
      return { ok: false, sentence: say`${scan.sentence} Read the pack with your own eyes.` };
    case 'hibc':
      return { ok: true, pack: { words: `HIBC ${scan.text}`, ...hibcItem(scan.text) } };
    case 'isbt128':
      return { ok: true, pack: { words: `ISBT 128 ${scan.text}` } };
    case 'label':
      return { ok: false, sentence: say`That is the label of a specimen, not a pack.` };
    case 'plain':
      return { ok: false, sentence: say`That is no code of a pack that can be read here.` };
    case 'gs1':
      return ofElements(scan, scannedAt);
    default:
      return unreachable(scan);
  }
}

function ofElements(scan: Extract<Scan, { kind: 'gs1' }>, scannedAt: string): PackScanned {
  const item = elementValue(scan.elements, '01') ?? elementValue(scan.elements, '8004');
  if (item === undefined) return { ok: false, sentence: say`That code is of no pack.` };
  const expires = expiryOf(scan.elements, scannedAt);
  if (expires && expires.date < scannedAt.slice(0, 10)) {
    const when = expires.isMonthOnly
      ? say`at the end of ${expires.date.slice(0, 7)}`
      : say`on ${expires.date}`;
    return { ok: false, sentence: say`This pack expired ${when}. Set it aside, and take another.` };
  }
  const lot = elementValue(scan.elements, '10');
  const serial = elementValue(scan.elements, '21');
  const pieces = Number(elementValue(scan.elements, '30') ?? 0);
  return {
    ok: true,
    pack: {
      words: readable(scan.elements),
      item,
      ...(lot === undefined ? {} : { lot }),
      ...(serial === undefined ? {} : { serial }),
      ...(expires === undefined ? {} : { expires }),
      ...(pieces > 0 && pieces <= 999 ? { pieces } : {}),
    },
  };
}

/**
 * The item of an HIBC string: all before the first stroke, or without the check character where there is none. A string
 * with only a lot (`+$…`) names no item. Source: ANSI/HIBC 2.6 as facts of other generators have it; see tests/scan.
 */
function hibcItem(text: string): { readonly item?: string } {
  if (text.startsWith('+$')) return {};
  const [item = ''] = text.includes('/') ? text.split('/') : [text.slice(0, -1)];
  return { item };
}

/** The item that the words of a pack name, as the record keeps them. */
export function itemIn(words: string): string | undefined {
  const gs1 = /\((?:01|8004)\)([^ ]+)/.exec(words)?.[1];
  if (gs1 !== undefined) return gs1;
  const hibc = /HIBC (\+[^ ]+)/.exec(words)?.[1];
  return hibc === undefined ? undefined : hibcItem(hibc).item;
}

/** Whether two numbers are of one item: item numbers of GS1 are as long as fourteen digits, zeros in front. */
export function isSameItem(one: string, other: string): boolean {
  const whole = (item: string) => (/^\d{8,14}$/.test(item) ? item.padStart(14, '0') : item);
  return whole(one) === whole(other);
}

/**
 * What is written down of a pack: lot, serial number, expiry, and the whole code. In English whatever is spoken, since
 * other programs read it.
 */
export function lotWords({ lot, serial, expires, words }: Pack): string {
  const parts = [
    lot,
    serial === undefined ? undefined : `serial ${serial}`,
    expires === undefined ? undefined : `expires ${expires.date}`,
  ];
  const said = parts.filter((part) => part !== undefined).join(', ');
  return said === '' ? words : `${said}; ${words}`;
}
