import type { Sheet, Variant } from '#engine/sheet.ts';

/** What the groups of variants are called on the screen; others by their own name in the sheet. */
const names: Readonly<Record<string, string>> = {
  stump: 'Stump control (not ranked; any other stays one tap away)',
};

/** The heading over the variants of one group. */
export const groupWords = (group: string): string =>
  names[group] ?? `${group.slice(0, 1).toUpperCase()}${group.slice(1).replaceAll('-', ' ')}`;

/** What a variant is about, for whoever chooses: what the team should know, and what is opened or left out for it. */
export function variantWords(
  sheet: Sheet,
  { note, opens, without = {} }: Variant,
): string | undefined {
  const name = (line: string) => sheet.lines.find(({ id }) => id === line)?.name ?? line;
  const pieces = (lines: Readonly<Record<string, number>>) =>
    Object.entries(lines)
      .map(([line, n]) => `${n} × ${name(line)}`)
      .join(', ');
  const parts = [note, said('Opens', pieces(opens)), said('Leaves out', pieces(without))];
  return parts.filter((part) => part !== undefined).join(' ') || undefined;
}

const said = (word: string, what: string): string | undefined =>
  what === '' ? undefined : `${word} ${what}.`;
