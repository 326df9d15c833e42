/**
 * Says whether exported files are whole: `npm run verify -- FILE...`. Needs nothing but the files.
 *
 * Exit 0 when all are whole, 1 when one was changed, 2 when one cannot be read as a record. `--code CODE`,
 * with the code of a printed record, also sees whether the file ends where the paper says; `--key KEY`, with the key
 * that a tablet shows as its own, whether it was that tablet that signed it.
 */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { verdictWords } from '#engine/closures/verdictWords.ts';
import { type Told, type Verification, verifyFile } from './verifyFile.ts';

const usage =
  'Say which file: npm run verify -- FILE... [--code CODE] [--key KEY]\nThe code stands at the foot of the printed record, the key on the list of people of the tablet that signed.';

const say = (words: string): void => void process.stdout.write(`${words}\n`);
const complain = (words: string): void => void process.stderr.write(`${words}\n`);

async function verifyNamed(name: string): Promise<Verification> {
  let bytes: Uint8Array;
  try {
    // npm runs scripts at the top of the project; names are meant from where the person stands.
    bytes = readFileSync(resolve(process.env.INIT_CWD ?? '.', name));
  } catch {
    return { state: 'unreadable', sentence: 'The file cannot be read.' };
  }
  return verifyFile(bytes);
}

/** Says what came of one file, and answers its exit status. */
function tellOf(name: string, verified: Verification, { code, key }: Expected): number {
  if (verified.state === 'unreadable') {
    complain(`${name}: cannot be read as a record. ${verified.sentence}`);
    return 2;
  }
  if (verified.state === 'changed') {
    say(`${name}: CHANGED. ${verified.sentence}`);
    if (verified.later.length > 0)
      say(`  Rows that do not fit their own hash either: ${listOf(verified.later)}.`);
    if (verified.told) tellCase('  Up to there:', verified.told);
    else say('  Nothing before it can be read.');
    return 1;
  }
  const { told, signedBy } = verified;
  const isOther = code !== undefined && code !== told.code;
  const isOtherKey = key !== undefined && key !== signedBy;
  if (isOther) say(`${name}: CHANGED. It ends with another code than the paper.`);
  else if (isOtherKey) say(`${name}: NOT OF THIS TABLET. ${signedWords(signedBy)}`);
  else say(`${name}: whole.`);
  tellCase('  It holds', told);
  if (!isOtherKey) say(`  ${signedWords(signedBy)}`);
  if (code === undefined) say('  Compare the code with the printed record of the case.');
  if (key === undefined && signedBy !== undefined)
    say(
      '  Anybody can sign with a key of their own: compare it with the one that the tablet shows.',
    );
  return isOther || isOtherKey ? 1 : 0;
}

const signedWords = (signedBy: string | undefined): string =>
  signedBy === undefined
    ? 'No signature: nothing says which tablet it comes from.'
    : `The signature fits. Signed by the tablet with the key ${signedBy}.`;

function tellCase(begin: string, told: Told): void {
  const { caseId, rows, startedAt, finishedAt, practice } = told;
  const end = finishedAt === undefined ? 'not finished' : `finished ${finishedAt}`;
  say(`${begin} ${rows} rows of case ${caseId}${practice ? ' (practice)' : ''}.`);
  say(`  Begun ${startedAt}, ${end}. Code ${told.code}.`);
  say(`  Verdict: ${told.verdict}. ${verdictWords[told.verdict]}`);
}

const listOf = (rows: readonly number[]): string =>
  rows.length > 20 ? `${rows.slice(0, 20).join(', ')} and more` : rows.join(', ');

/** What the paper and the tablet say; undefined where it was not given. */
type Expected = { readonly code: string | undefined; readonly key: string | undefined };

/** The words after the command: files, the code of the paper, and the key of the tablet. */
function readWords(words: readonly string[]): Expected & { readonly files: readonly string[] } {
  const after = (option: string): string | undefined => {
    const at = words.indexOf(option);
    return at === -1 ? undefined : (words[at + 1] ?? '').toUpperCase();
  };
  const isOption = (word: string | undefined) => word === '--code' || word === '--key';
  const files = words.filter((word, index) => !isOption(word) && !isOption(words[index - 1]));
  return { code: after('--code'), key: after('--key'), files };
}

const { files, ...expected } = readWords(process.argv.slice(2));
if (files.length === 0 || expected.code === '' || expected.key === '') {
  complain(usage);
  process.exitCode = 2;
} else {
  let status = 0;
  for (const name of files)
    status = Math.max(status, tellOf(name, await verifyNamed(name), expected));
  process.exitCode = status;
}
