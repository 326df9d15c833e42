/**
 * Turns a case that was taken out of a tablet into other forms:
 * `npm run record -- FILE --to csv|json|html|fhir [--only TABLE] [--language ID] [--out FILE]`.
 *
 * The language is that of a page; files for other programs are in English.
 *
 * Writes to the standard output where no file is named. Exit 2, with a sentence, when the file or the words cannot
 * be used; nothing is written then.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { converted, type Form, forms } from '#record/converted.ts';
import { type TableName, tableNames } from '#record/tables/tables.ts';
import { type LanguageId, languages, readPhraseBook } from '#words/languages.ts';
import { readPhrasesFrom } from '#words/say.ts';
import { readRecord } from './readRecord.ts';

const ids = languages.map(({ id }) => id);
const how = [
  `npm run record -- FILE --to ${forms.join('|')} [--only ${tableNames.join('|')}]`,
  `[--language ${ids.join('|')}] [--out FILE]`,
].join(' ');

type Asked = {
  readonly file: string;
  readonly form: Form;
  readonly only: TableName | undefined;
  readonly language: LanguageId;
  readonly out: string | undefined;
};
type Words =
  | { readonly ok: true; readonly asked: Asked }
  | { ok: false; readonly sentence: string };

const wrong = (sentence: string): Words => ({ ok: false, sentence: `${sentence} ${how}` });

/** What the words on the command line ask for. */
function asked(words: readonly string[]): Words {
  const files: string[] = [];
  const said = new Map<string, string>();
  for (let place = 0; place < words.length; place += 1) {
    const word = words[place] ?? '';
    if (!word.startsWith('--')) {
      files.push(word);
      continue;
    }
    if (!['--to', '--only', '--language', '--out'].includes(word))
      return wrong(`${word} is not known.`);
    place += 1;
    const value = words[place];
    if (value === undefined) return wrong(`${word} needs a word after it.`);
    said.set(word, value);
  }
  const [file, second] = files;
  if (file === undefined) return wrong('Name the file of a case.');
  if (second !== undefined) return wrong('Name one file.');
  const to = said.get('--to');
  const form = forms.find((known) => known === to);
  if (!form) return wrong(to === undefined ? 'Say --to what.' : `There is no form ${to}.`);
  const table = said.get('--only');
  const only = tableNames.find((known) => known === table);
  if (table !== undefined && !only) return wrong(`There is no table ${table}.`);
  if (only && form !== 'csv') return wrong('--only is for csv.');
  const spoken = said.get('--language') ?? 'en-GB';
  const language = ids.find((id) => id === spoken);
  if (!language) return wrong(`There is no language ${spoken}.`);
  return { ok: true, asked: { file, form, only, language, out: said.get('--out') } };
}

/** Where a file is: from here, or from where npm was called. */
const fromCaller = (file: string): string => resolve(process.env.INIT_CWD ?? '.', file);
const pathOf = (file: string): string => {
  const there = fromCaller(file);
  return existsSync(there) ? there : resolve(file);
};

function textOf(file: string): string | undefined {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(
      readFileSync(pathOf(file)),
    );
  } catch {
    return undefined; // missing, a folder, not ours to read, or not text
  }
}

const complain = (sentence: string): number => {
  process.stderr.write(`${sentence}\n`);
  return 2;
};

async function main(words: readonly string[]): Promise<number> {
  const command = asked(words);
  if (!command.ok) return complain(command.sentence);
  const { file, form, only, language, out } = command.asked;
  const text = textOf(file);
  if (text === undefined) return complain(`${file}: The file cannot be read as text.`);
  const read = await readRecord(text);
  if (!read.ok) return complain(`${file}: ${read.sentence}`);
  const book = await readPhraseBook(language);
  readPhrasesFrom(() => book);
  const css = readFileSync(fileURLToPath(new URL('../record/record.css', import.meta.url)), 'utf8');
  const taken = converted(read.record, only ? { form, only } : { form }, css);
  if (out === undefined) {
    process.stdout.write(taken.text);
    return 0;
  }
  try {
    writeFileSync(fromCaller(out), taken.text, { flag: 'wx' });
  } catch {
    return complain(`${out}: The file cannot be written, or is there already.`);
  }
  return 0;
}

process.exitCode = await main(process.argv.slice(2));
