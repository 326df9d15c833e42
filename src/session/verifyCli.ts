/**
 * Says whether exported files are whole: `npm run verify -- FILE...`. Needs nothing but the files.
 *
 * Exit 0 when all are whole, 1 when one was changed, 2 when one cannot be read as a record. `--code CODE`,
 * with the code of a printed record, also sees whether the file ends where the paper says.
 */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { verdictWords } from '#engine/closures/verdictOf.ts';
import { type Told, type Verification, verifyFile } from './verifyFile.ts';

const usage =
  'Say which file: npm run verify -- FILE... [--code CODE]\nThe code stands at the foot of the printed record.';

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
function tellOf(name: string, verified: Verification, code: string | undefined): number {
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
  const { told } = verified;
  const isOther = code !== undefined && code !== told.code;
  say(isOther ? `${name}: CHANGED. It ends with another code than the paper.` : `${name}: whole.`);
  tellCase('  It holds', told);
  if (code === undefined) say('  Compare the code with the printed record of the case.');
  return isOther ? 1 : 0;
}

function tellCase(begin: string, told: Told): void {
  const { caseId, rows, startedAt, finishedAt, practice } = told;
  const end = finishedAt === undefined ? 'not finished' : `finished ${finishedAt}`;
  say(`${begin} ${rows} rows of case ${caseId}${practice ? ' (practice)' : ''}.`);
  say(`  Begun ${startedAt}, ${end}. Code ${told.code}.`);
  say(`  Verdict: ${told.verdict}. ${verdictWords[told.verdict]}`);
}

const listOf = (rows: readonly number[]): string =>
  rows.length > 20 ? `${rows.slice(0, 20).join(', ')} and more` : rows.join(', ');

/** The words after the command: files, and the code of the paper. */
function readWords(words: readonly string[]) {
  const at = words.indexOf('--code');
  const code = at === -1 ? undefined : (words[at + 1] ?? '').toUpperCase();
  const files = words.filter((_, index) => at === -1 || (index !== at && index !== at + 1));
  return { code, files };
}

const { code, files } = readWords(process.argv.slice(2));
if (files.length === 0 || code === '') {
  complain(usage);
  process.exitCode = 2;
} else {
  let status = 0;
  for (const name of files) status = Math.max(status, tellOf(name, await verifyNamed(name), code));
  process.exitCode = status;
}
