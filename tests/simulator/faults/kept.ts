/** Seeds that once failed, with what they showed. They are played again by every test run. */
export const kept: readonly { readonly seed: number; readonly showed: string }[] = [
  { seed: 1, showed: 'Two taps on the button that opens a case opened two cases.' },
  { seed: 5, showed: 'Nothing was said for seconds when the opening of a case was not saved.' },
  { seed: 82, showed: 'A tap that waited behind the reading of the record said nothing.' },
  { seed: 262, showed: 'A file that was made and never written to was listed as a case.' },
  {
    seed: 1149,
    showed: 'A first entry torn in the file was listed, and opened as if it had rows.',
  },
  {
    seed: 105171,
    showed: 'Nothing was said while a tap waited behind the note of a clock that jumped.',
  },
  {
    seed: 106787,
    showed: 'The same, behind files that were slow for a long time.',
  },
  {
    seed: 101740,
    showed:
      'Three failing calls of the files at the start left the case with one copy, which the browser threw away.',
  },
  { seed: 102170, showed: 'The same with twelve calls that were done and denied.' },
  {
    seed: 104774,
    showed: 'The same with twelve calls that threw, and the database in trouble too.',
  },
  {
    seed: 103740,
    showed: 'Two windows that saved again at the same time were in the way of each other.',
  },
  {
    seed: 206765,
    showed: 'A row that an earlier window wrote was shown, and was not flushed in the file yet.',
  },
];
