import type { Sheet, Variant } from '#engine/sheet.ts';
import { say } from '#words/say.ts';

/** What the groups of variants are called on the screen; others by their own name in the sheet. */
const names = (): Readonly<Record<string, string>> => ({
  stump: say`Stump control (not ranked; any other stays one tap away)`,
});

/** The heading over the variants of one group. */
export const groupWords = (group: string): string =>
  names()[group] ?? `${group.slice(0, 1).toUpperCase()}${group.slice(1).replaceAll('-', ' ')}`;

/** What a variant is about, for whoever chooses: what the team should know, and what is opened or left out for it. */
export function variantWords(sheet: Sheet, variant: Variant): string | undefined {
  const { note, opens, without = {} } = variant;
  const parts = [note, said(say`Opens`, sheet, opens), said(say`Leaves out`, sheet, without)];
  return parts.filter((part) => part !== undefined).join(' ') || undefined;
}

/** Parts of one thing are said as one: "Port 12 mm in 4 pieces". */
function said(
  word: string,
  sheet: Sheet,
  lines: Readonly<Record<string, number>>,
): string | undefined {
  const things = new Map<string, { pieces: number; lines: number }>();
  for (const [id, n] of Object.entries(lines)) {
    const line = sheet.lines.find((known) => known.id === id);
    const name = line?.group ?? line?.name ?? id;
    const known = things.get(name) ?? { pieces: 0, lines: 0 };
    things.set(name, { pieces: known.pieces + n, lines: known.lines + 1 });
  }
  if (things.size === 0) return undefined;
  const words = [...things].map(([name, { pieces, lines: kinds }]) =>
    kinds > 1 ? say`${name} in ${pieces} pieces` : `${pieces} ${name}`,
  );
  return `${word} ${words.join(', ')}.`;
}
