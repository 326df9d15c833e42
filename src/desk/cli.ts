/**
 * What a theatre does with sheets at a desk: `npm run sheet -- check FILE...`, `-- diff OLD NEW`,
 * `-- print FILE [OUT]`.
 *
 * Exit 1 when a sheet has mistakes, 2 when a file could not be read or the command is not understood.
 */
import type { Sheet } from '#engine/sheet.ts';
import { differenceInWords, differencesOf } from '#sheets/differences.ts';
import type { Issue } from '#sheets/issues.ts';
import { pathOf, readFile } from './files.ts';
import { printed } from './print.ts';

const say = (words: string): void => void process.stdout.write(`${words}\n`);
const complain = (words: string): void => void process.stderr.write(`${words}\n`);

/** Units: exit codes. */
const exits = { fine: 0, mistakes: 1, unread: 2 } as const;

const usage = `What can be done with a sheet:
  npm run sheet -- check FILE...    says every mistake, and what an author should know
  npm run sheet -- diff OLD NEW     says in words what changed
  npm run sheet -- print FILE OUT   writes the paper form; OUT ends in .html or .pdf`;

function main([command, ...words]: readonly string[]): number {
  if (command === 'check' && words.length > 0) return check(words);
  if (command === 'diff' && words.length === 2) return diff(words[0] ?? '', words[1] ?? '');
  const [file, out = ''] = words;
  if (command === 'print' && file !== undefined && /^$|\.(html|pdf)$/.test(out) && words.length < 3)
    return print(file, out);
  complain(usage);
  return exits.unread;
}

function check(files: readonly string[]): number {
  const results = files.map(checkOne);
  const sum = (wanted: number): number => results.filter((result) => result === wanted).length;
  const unread = sum(exits.unread);
  const tail = unread > 0 ? `, ${unread} not read` : '';
  say(`${sum(exits.fine)} without a mistake, ${sum(exits.mistakes)} with mistakes${tail}`);
  return Math.max(...results);
}

function checkOne(file: string): number {
  const read = readFile(file);
  if (read.kind === 'unread') {
    complain(read.sentence);
    return exits.unread;
  }
  const issues = read.kind === 'shared' ? read.issues : read.checked.ok ? [] : read.checked.issues;
  if (issues.length > 0) {
    for (const issue of issues) complain(issueInWords(issue));
    return exits.mistakes;
  }
  const { warnings, words } =
    read.kind === 'sheet' && read.checked.ok
      ? { warnings: read.checked.warnings, words: sheetInWords(read.checked.sheet) }
      : { warnings: [], words: 'shared parts' };
  for (const { message } of warnings) say(`Note: ${message}`);
  say(`${file}: no mistake (${words}).`);
  return exits.fine;
}

function sheetInWords({ lines, checkpoints, closures, specimens }: Sheet): string {
  const steps = checkpoints.reduce((sum, one) => sum + one.steps.length, 0);
  const parts = [
    many(lines.length, 'line'),
    `${many(checkpoints.length, 'checkpoint')} with ${many(steps, 'step')}`,
    many(specimens.length, 'specimen'),
    many(closures.length, 'closure'),
  ];
  return parts.join(', ');
}

const many = (n: number, thing: string): string => `${n} ${thing}${n === 1 ? '' : 's'}`;

function issueInWords({ message, way }: Issue): string {
  if (way === undefined) return message;
  return [`${message} The shortest way there:`, ...way.map((step) => `  - ${step}`)].join('\n');
}

function diff(before: string, after: string): number {
  const [was, is] = [sheetFrom(before), sheetFrom(after)];
  if (typeof was === 'number' || typeof is === 'number')
    return Math.max(typeof was === 'number' ? was : 0, typeof is === 'number' ? is : 0);
  const differences = differencesOf(was, is);
  if (differences.length === 0) say('They say the same.');
  let heading = '';
  for (const difference of differences) {
    if (difference.heading !== heading) say(difference.heading);
    heading = difference.heading;
    say(`  ${differenceInWords(difference)}`);
  }
  return exits.fine;
}

function print(file: string, out: string): number {
  const sheet = sheetFrom(file);
  if (typeof sheet === 'number') return sheet;
  const made = printed(sheet, pathOf(out === '' ? `${sheet.id}.html` : out));
  if (made.ok) say(`Written: ${made.path}`);
  else complain(made.sentence);
  return made.ok ? exits.fine : exits.unread;
}

/** The sheet of a file, or the exit code of why there is none. Mistakes are told. */
function sheetFrom(file: string): Sheet | number {
  const read = readFile(file);
  if (read.kind === 'unread') complain(read.sentence);
  if (read.kind === 'shared') complain(`${file} holds shared parts and is no sheet.`);
  if (read.kind !== 'sheet') return exits.unread;
  if (read.checked.ok) return read.checked.sheet;
  for (const issue of read.checked.issues) complain(issueInWords(issue));
  return exits.mistakes;
}

process.exitCode = main(process.argv.slice(2));
