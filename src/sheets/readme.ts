import { given, line, section, turn } from './lineShapes.ts';
import type { Fields } from './reader.ts';
import {
  change,
  childDose,
  closure,
  medicine,
  policy,
  sharedShape,
  sheetShape,
  site,
  specimen,
  variant,
} from './shape.ts';
import { checkpoint, step, when } from './stepShapes.ts';

/** The groups of the format, in the order in which a sheet is written. */
const groups: readonly (readonly [string, string, Fields])[] = [
  ['The sheet', '', sheetShape.fields],
  ['A site', '`sites`, under its short name', site.fields],
  ['A variant', '`variants`, under its group and its short name', variant.fields],
  ['A section', '`sections`, under its short name', section.fields],
  ['A line', '`lines` of a section, under its short name', line.fields],
  ['A turn', '`turns` of a line, under its short name', turn.fields],
  ['What a turn gives', '`gives` of a turn, as a list', given.fields],
  ['A checkpoint', '`checkpoints`, under its short name', checkpoint.fields],
  ['A step', '`steps` of a checkpoint or `look` of a closure, under its short name', step.fields],
  ['When something applies', '`when`', when.fields],
  ['A specimen', '`specimens`, under its short name', specimen.fields],
  ['A closure', '`closures`, under its short name', closure.fields],
  ['A medicine', '`medicines`, under its short name', medicine.fields],
  ["A child's dose", '`child` of a medicine, as a list', childDose.fields],
  ['The policy', '`policy`', policy.fields],
  ['A local change', '`changes`, as a list', change.fields],
  ['A shared file', 'a file of `shared/`', sharedShape.fields],
];

/** The text with the tables of the format written anew between their marks. */
export function withFormat(text: string): string {
  const marks = /(<!-- generated: format -->)[\s\S]*?(<!-- end -->)/;
  return text.replace(
    marks,
    (_, begin: string, end: string) => `${begin}\n\n${tables()}\n\n${end}`,
  );
}

const tables = (): string =>
  groups.map(([name, where, fields]) => tableOf(name, where, fields)).join('\n\n');

function tableOf(name: string, where: string, fields: Fields): string {
  const rows = Object.entries(fields).map(([word, { reader, isNeeded, help }]) => {
    const form = reader.expected.replace(/a short name of .* a letter/, 'a short name');
    return `| \`${word}\` | ${isNeeded ? `${form}; needed` : form} | ${help} |`;
  });
  const head = where === '' ? `**${name}**` : `**${name}** (${where})`;
  return [
    head,
    '',
    '| word | what stands there | what it says |',
    '| --- | --- | --- |',
    ...rows,
  ].join('\n');
}
