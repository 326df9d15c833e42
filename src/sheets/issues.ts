/** Mistakes in a sheet: where, what was found, what was expected, in one sentence. */

/** Where something stands. `line` and `column` count from 1; both are 0 where the text is not a file. */
export type Position = { readonly file: string; readonly line: number; readonly column: number };

/** How a mistake is said. In one table, so that no code is without words and no words without a code. */
const sentences = {
  'not-yaml': 'cannot be read as a sheet: {found}, where {expected} is expected',
  'too-large': 'is {found}, where {expected} is expected',
  'too-deep': 'lies {found}, where {expected} is expected',
  'wrong-kind': 'is {found}, where {expected} is expected',
  'unknown-word': 'is {found}, where {expected} is expected',
  'unknown-key': 'is not a word of this format, where {expected} is expected',
  missing: 'is missing, where {expected} is expected',
  'not-an-id': 'is {found}, where {expected} is expected',
  'too-long': 'is {found}, where {expected} is expected',
  'out-of-range': 'is {found}, where {expected} is expected',
  'said-twice': 'is said twice, first {found}, where {expected} is expected',
  'unknown-shared': 'takes {found} from the shared files, where {expected} is expected',
  'unknown-line': 'names the line {found}, where {expected} is expected',
  'unknown-site': 'names the site {found}, where {expected} is expected',
  'unknown-variant': 'names the variant {found}, where {expected} is expected',
  'unknown-step': 'names the step {found}, where {expected} is expected',
  'unknown-moment': 'names the count {found}, where {expected} is expected',
  'unknown-answer': 'has the answer {found}, where {expected} is expected',
  'unknown-changed': 'changes {found}, where {expected} is expected',
  contradiction: 'is {found}, where {expected} is expected',
  'who-item': 'leaves out {found}, where {expected} is expected',
  'never-closes': 'is {found}, where {expected} is expected',
} as const;

export type IssueCode = keyof typeof sentences;

/** One mistake. `message` is a sentence that names file, line, column, field, what was found and expected. */
export type Issue = Position & {
  readonly code: IssueCode;
  readonly field: string;
  readonly found: string;
  readonly expected: string;
  readonly message: string;
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
export function issueOf({ code, at, field, found, expected, meant }: Mistake): Issue {
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

export const quoted = (text: string): string => `"${text}"`;

/** "a", "a or b", "a, b or c". */
export function either(words: readonly string[]): string {
  const last = words.at(-1) ?? 'nothing';
  return words.length < 2 ? last : `${words.slice(0, -1).join(', ')} or ${last}`;
}
