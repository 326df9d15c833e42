import { readdirSync, readFileSync } from 'node:fs';

/** The shared files as they are shipped, as text. */
export const sharedTexts = readdirSync('checklists/shared')
  .filter((file) => file.endsWith('.yaml'))
  .map((file) => ({
    name: file.replace('.yaml', ''),
    file: `shared/${file}`,
    text: readFileSync(`checklists/shared/${file}`, 'utf8'),
  }));
