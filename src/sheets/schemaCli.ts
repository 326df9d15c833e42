import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { schemaText } from './schema.ts';

/** `npm run sheets:schema`: writes checklists/sheet.schema.json from the code that checks sheets. */
const file = fileURLToPath(new URL('../../checklists/sheet.schema.json', import.meta.url));
writeFileSync(file, schemaText());
console.log('Wrote checklists/sheet.schema.json');
