import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { withFormat } from './readme.ts';
import { schemaText } from './schema.ts';

/**
 * `npm run sheets:schema`: writes checklists/sheet.schema.json and the tables of the format in
 * checklists/README.md from the code that checks sheets.
 */
const fileOf = (name: string): string =>
  fileURLToPath(new URL(`../../checklists/${name}`, import.meta.url));

writeFileSync(fileOf('sheet.schema.json'), schemaText());
const readme = fileOf('README.md');
if (existsSync(readme)) writeFileSync(readme, withFormat(readFileSync(readme, 'utf8')));
process.stdout.write(
  'Wrote checklists/sheet.schema.json and the tables of checklists/README.md.\n',
);
