/** Mistakes in a sheet: where, what was found, what was expected, in one sentence. */

/** Where something stands. `line` and `column` count from 1; both are 0 where the text is not a file. */
export type Position = { readonly file: string; readonly line: number; readonly column: number };

/** How a mistake is said. In one table, so that no code is without words and no words without a code. */
const sentences = {
  'not-yaml': 'cannot be read ({found}), but should be {expected}',
  'too-large': 'is {found}, but should be {expected}',
  'too-deep': 'is nested {found}, but should be {expected}',
  'wrong-kind': 'is {found}, but should be {expected}',
  'unknown-word': 'is {found}, but should be {expected}',
  'unknown-key': 'is not a word of the format here, which has {expected}',
  missing: 'is missing, but should be {expected}',
  'not-an-id': 'is {found}, but should be {expected}',
  'too-long': 'is {found}, but should be {expected}',
  'out-of-range': 'is {found}, but should be {expected}',
  'said-twice': 'is said a second time, after {found}, but should {expected}',
  'unknown-file': 'names the shared file {found}, but the shared files are {expected}',
  'unknown-shared': 'takes {found} from the included files, but they have {expected}',
  'unknown-line': 'names the line {found}, but the lines are {expected}',
  'unknown-site': 'names the site {found}, but the sites are {expected}',
  'unknown-variant': 'names the variant {found}, but the variants are {expected}',
  'unknown-step': 'names the step {found}, but the steps before it are {expected}',
  'unknown-moment': 'names the count {found}, but the counts of the sheet are {expected}',
  'unknown-act': 'names {found}, but what can come after it is {expected}',
  'unknown-answer': 'is the answer {found}, but the answers are {expected}',
  'unknown-changed': 'changes {found}, but the sheet has {expected}',
  contradiction: 'is {found}, but should be {expected}',
  'who-item': 'leaves out {found}, but should have {expected}',
  'who-place': 'asks {found}, but should leave it to {expected}',
  'never-closes': 'is {found}, but should be {expected}',
  'closes-on': 'lets the patient be closed on {found}, but should {expected}',
} as const;

/** What kind of mistake it is. */
export type IssueCode = keyof typeof sentences;

/** One mistake. `message` is a sentence that names file, line, column, field, what was found and expected. */
export type Issue = Position & {
  readonly code: IssueCode;
  readonly field: string;
  readonly found: string;
  readonly expected: string;
  readonly message: string;
  /** Of a mistake that shows only when a case is played: the shortest way there, as steps of a drill. */
  readonly way?: readonly string[];
};

/** Something that is allowed and that an author should know of. */
export type Warning = Position & { readonly field: string; readonly message: string };

/** What a mistake is made of, before it is put in words. */
export type Mistake = {
  readonly code: IssueCode;
  readonly at: Position;
  readonly field: string;
  readonly found: string;
  readonly expected: string;
  /** What was probably meant. */
  readonly meant?: string | undefined;
};

/** Puts a mistake in words. */
export function issueOf(mistake: Mistake): Issue {
  const { code, at, field, found, expected, meant } = mistake;
  const tail = sentences[code]
    .replace('{found}', () => found)
    .replace('{expected}', () => expected);
  const hint = meant === undefined ? '' : `; perhaps ${quoted(meant)} is meant`;
  const message = `${whereOf(at)}, ${field} ${tail}${hint}.`;
  return { ...at, code, field, found, expected, message };
}

/** Puts a warning in words. `says` goes on after the field: "has 11 steps, and ...". */
export const warningOf = (at: Position, field: string, says: string): Warning => ({
  ...at,
  field,
  message: `${whereOf(at)}, ${field} ${says}.`,
});

/** "In x.yaml, line 3, column 5"; only the file where there is no line. */
function whereOf({ file, line, column }: Position): string {
  return line === 0 ? `In ${file}` : `In ${file}, line ${line}, column ${column}`;
}

/** The text in quotation marks. */
export const quoted = (text: string): string => `"${text}"`;

/** "a", "a or b", "a, b or c". */
export const either = (words: readonly string[]): string => joined(words, 'or');

/** "a", "a and b", each once; at most twenty, since the likely one is said beside it. */
export function listed(words: readonly string[]): string {
  const each = [...new Set(words)];
  const more = each.length - 20;
  return more > 0 ? `${each.slice(0, 20).join(', ')} and ${more} more` : joined(each, 'and');
}

function joined(words: readonly string[], link: 'or' | 'and'): string {
  const last = words.at(-1) ?? 'none';
  return words.length < 2 ? last : `${words.slice(0, -1).join(', ')} ${link} ${last}`;
}
