/** Which variants somebody can choose, and when: at the opening of a case, or in the middle of it. */

import type { Sheet, Variant } from './sheet.ts';

/** The groups of variants, in the order of the sheet. */
export const variantGroups = (sheet: Sheet): readonly string[] => [
  ...new Set(sheet.variants.map(({ group }) => group)),
];

/** What a case can be opened with: no conversion, and not what only stands for nothing chosen. Rules: X12. */
export const offeredAtOpening = (sheet: Sheet, group: string): readonly Variant[] =>
  sheet.variants.filter((one) => one.group === group && one.choose === undefined);

/** What can be chosen in mid-case: conversions too. */
export const offeredInMidCase = (sheet: Sheet, group: string): readonly Variant[] =>
  sheet.variants.filter((one) => one.group === group && one.choose !== 'never');

/** The groups of which something must still be chosen, given what is chosen by group. */
export const groupsNotSaid = (
  sheet: Sheet,
  chosen: Readonly<Record<string, string>>,
): readonly string[] =>
  variantGroups(sheet).filter((group) => {
    const first = sheet.variants.find((one) => one.group === group);
    const now = sheet.variants.find(({ id }) => id === chosen[group]) ?? first;
    return now?.choose === 'never';
  });
