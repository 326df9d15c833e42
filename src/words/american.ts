/**
 * British words and the American ones, as theatres use them. Common practice, no source.
 *
 * Spelling stands here as well as words. Names that people typed are values, and are never changed.
 */
const words: readonly (readonly [british: RegExp, american: string])[] = [
  [/(?<!culture )\bswab/g, 'sponge'],
  [/(?<!Culture )\bSwab/g, 'Sponge'],
  [/\btheatre/g, 'operating room'],
  [/\bTheatre/g, 'Operating room'],
  [/\banaesthetist/g, 'anesthesiologist'],
  [/\bAnaesthetist/g, 'Anesthesiologist'],
  [/\b([Aa])naesthe/g, '$1nesthe'],
  [/\bpot\b/g, 'container'],
  [/\bPot\b/g, 'Container'],
  [/\bpots\b/g, 'containers'],
  [/\b([Uu]n)?([Ll])abelled/g, '$1$2abeled'],
  [/\b([Ff])aecolith/g, '$1ecalith'],
  [/\b([Cc])aesarean/g, '$1esarean'],
  [/\b([Tt])owards\b/g, '$1oward'],
  [/\b([Pp])ractised\b/g, '$1racticed'],
  [/\b([Ll])itre/g, '$1iter'],
  [/^\{0\} \{1\} \{2\}$/g, '{1} {0}, {2}'], // the day, the month, the year
];

const known = new Map<string, string>();

/** An English sentence as an American theatre writes it. */
export function american(english: string): string {
  const before = known.get(english);
  if (before !== undefined) return before;
  const said = words.reduce((text, [british, word]) => text.replaceAll(british, word), english);
  known.set(english, said);
  return said;
}
