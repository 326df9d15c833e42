import { elementValue } from './gs1.ts';
import type { Scan } from './readScan.ts';

/**
 * What a badge says of who somebody is: the number of a provider or a recipient of GS1, (8017) or (8018), or a plain
 * number. Undefined: no badge. A badge can be copied: it says who, and confirms nothing.
 */
export function badgeIn(scan: Scan): string | undefined {
  if (scan.kind === 'gs1')
    return elementValue(scan.elements, '8017') ?? elementValue(scan.elements, '8018');
  return scan.kind === 'plain' ? scan.text.replace(/\s+/g, '').toLowerCase() : undefined;
}

/** The person whose badge was scanned. */
export function personOfBadge<Person extends { readonly badge?: string }>(
  people: readonly Person[],
  scan: Scan,
): Person | undefined {
  const badge = badgeIn(scan);
  return badge === undefined ? undefined : people.find((one) => one.badge === badge);
}
