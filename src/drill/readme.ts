import { holdMeanings } from '#engine/closures/holds.ts';
import { refusals } from '#engine/refusals.ts';
import { warnings } from '#engine/warnings.ts';
import { drillWords } from './drillVocabulary.ts';
import { type Field, fieldForms, type Word } from './fields.ts';
import { drillKeys, expectKeys, stepKeys } from './stepWords.ts';
import { engineWords } from './vocabulary.ts';

/** The parts of checklists/README.md that are written from the code, by the name in their marks. */
const parts: Readonly<Record<string, () => string>> = {
  drills: () =>
    [
      'A drill:',
      table(['key', 'what it is'], rowsOf(drillKeys)),
      'Beside its command, a step may carry:',
      table(['key', 'what it does'], rowsOf(stepKeys)),
      '`expect` knows:',
      table(['key', 'what must hold'], rowsOf(expectKeys)),
    ].join('\n\n'),
  commands: () =>
    [
      'What a field can be:',
      table(['form', 'what stands there'], rowsOf(fieldForms)),
      ...Object.entries<Word>(drillWords).map(commandOf),
      ...Object.entries<Word>(engineWords).map(commandOf),
    ].join('\n\n'),
  refusals: () =>
    table(
      ['code', 'what it says', 'what to do'],
      Object.entries(refusals).map(([code, { sentence, whatToDo }]) => [code, sentence, whatToDo]),
    ),
  holds: () => table(['code', 'meaning'], rowsOf(holdMeanings)),
  warnings: () => table(['code', 'what it says'], rowsOf(warnings)),
};

export const partNames: readonly string[] = Object.keys(parts);

/** The text with every generated part written anew. A part whose marks are not there is left out. */
export function filledIn(text: string): string {
  return Object.entries(parts).reduce((filled, [name, write]) => {
    const marks = new RegExp(`(<!-- generated: ${name} -->)[\\s\\S]*?(<!-- end -->)`);
    return filled.replace(
      marks,
      (_, begin: string, end: string) => `${begin}\n\n${write()}\n\n${end}`,
    );
  }, text);
}

const rowsOf = (words: Readonly<Record<string, string>>): readonly (readonly string[])[] =>
  Object.entries(words);

function table(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) =>
    `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
  const quotedRows = rows.map(([first = '', ...rest]) => [`\`${first}\``, ...rest]);
  return [line(heads), line(heads.map(() => '---')), ...quotedRows.map(line)].join('\n');
}

function commandOf([name, word]: readonly [string, Word]): string {
  const fields = Object.entries<Field>(word.fields);
  const head = `**\`${name}\`** ${word.says}`;
  if (fields.length === 0) return `${head} No fields: \`${name}: {}\`.`;
  const rows = fields.map(([key, field]) => [key, formOf(field), field.says]);
  return `${head}\n\n${table(['field', 'form', 'what it says'], rows)}`;
}

function formOf({ takes, needed, oneOf }: Field): string {
  const form = oneOf ? oneOf.map((word) => `\`${word}\``).join(' ') : takes;
  return needed ? `${form}, needed` : form;
}
