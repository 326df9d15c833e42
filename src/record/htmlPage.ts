import { spokenLanguage } from '#words/say.ts';
import { htmlOf } from './htmlOf.ts';
import { recordTree } from './page/recordTree.ts';
import { footerCss, footerWords } from './pageFooter.ts';
import { el } from './tree.ts';
import type { WholeRecord } from './wholeRecord.ts';

/**
 * The record as a page of its own that asks for nothing: no script, no other file.
 *
 * `css` is the text of record.css, which the program has from its build and the command line from the folder.
 */
export function htmlPage(record: WholeRecord, css: string): string {
  const { current, code } = record;
  const title = `${current.patient.number}, ${current.startedAt.slice(0, 10)}, ${current.sheet.title}`;
  return [
    '<!doctype html>',
    `<html lang="${spokenLanguage()}">`,
    '<head>',
    '<meta charset="utf-8">',
    '<meta name="viewport" content="width=device-width">',
    htmlOf(el('title', {}, title)),
    `<style>\n${safe(css)}\n${safe(footerCss(footerWords(current, code)))}\n</style>`,
    '</head>',
    '<body>',
    htmlOf(recordTree(record)),
    '</body>',
    '</html>',
    '',
  ].join('\n');
}

/** Nothing in a style sheet can end the element that it stands in. */
const safe = (css: string): string => css.replaceAll('</', '<\\/');
