import { unreachable } from '#engine/assert.ts';
import { say } from '#words/say.ts';
import type { Day } from './days.ts';
import { elementValue, expiryOf, readable } from './gs1.ts';
import type { Scan } from './readScan.ts';

/** A pack as its code says it is. Only what stands in the code: nothing is looked up. */
export type Pack = {
  /** What goes into the record: readable for GS1, as it was sent for the others. */
  readonly words: string;
  readonly item?: string;
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
      return { ok: true, pack: { words: say`HIBC ${scan.text}` } };
    case 'isbt128':
      return { ok: true, pack: { words: say`ISBT 128 ${scan.text}` } };
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
  return {
    ok: true,
    pack: {
      words: readable(scan.elements),
      item,
      ...(lot === undefined ? {} : { lot }),
      ...(serial === undefined ? {} : { serial }),
      ...(expires === undefined ? {} : { expires }),
    },
  };
}

/** What is said of a pack where something of it stays: lot, serial number, expiry, and the whole code. */
export function lotWords({ lot, serial, expires, words }: Pack): string {
  const parts = [
    lot,
    serial === undefined ? undefined : say`serial ${serial}`,
    expires === undefined ? undefined : say`expires ${expires.date}`,
  ];
  const said = parts.filter((part) => part !== undefined).join(', ');
  return said === '' ? words : `${said}; ${words}`;
}
