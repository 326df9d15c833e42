/** What the groups of variants are called on the screen; others by their own name in the sheet. */
const names: Readonly<Record<string, string>> = {
  stump: 'Stump control (not ranked; any other stays one tap away)',
};

/** The heading over the variants of one group. */
export const groupWords = (group: string): string =>
  names[group] ?? `${group.slice(0, 1).toUpperCase()}${group.slice(1).replaceAll('-', ' ')}`;
