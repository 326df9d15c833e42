import { say, spokenLanguage } from '#words/say.ts';
import { paperForm } from './form.ts';
import type { Printed } from './printed.ts';
import { htmlOf } from './tree.ts';

/** The paper form as a whole file of HTML that needs nothing else. `css` is that of the form, with its fonts. */
export function paperDocument(printed: Printed, css: string): string {
  const title = htmlOf(say`${printed.sheet.title}, paper sheet`);
  return [
    '<!doctype html>',
    `<html lang="${spokenLanguage()}">`,
    `<head><meta charset="utf-8"><title>${title}</title>`,
    `<style>${css}</style></head>`,
    `<body>${htmlOf(paperForm(printed))}</body>`,
    '</html>',
    '',
  ].join('\n');
}
