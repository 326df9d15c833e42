/**
 * `npm run licences`: every package by its licence, as the lock file says it; first what is in the page, then tools.
 * Exit 1 if one is not fine for what it is used for.
 */
import { readFileSync } from 'node:fs';
import { isFine, type Licensed, licencesIn } from './licencesIn.ts';

const all = licencesIn(readFileSync('package-lock.json', 'utf8'));

function list(title: string, packages: readonly Licensed[]): void {
  console.log(`\n${title}`);
  const licences = [...new Set(packages.map(({ licence }) => licence))].sort();
  for (const licence of licences) {
    const names = packages.filter((one) => one.licence === licence);
    console.log(
      `  ${licence}: ${names.map(({ name, version }) => `${name} ${version}`).join(', ')}`,
    );
  }
}

list(
  'In the page, or needed to run it',
  all.filter(({ isTool }) => !isTool),
);
list(
  'Tools',
  all.filter(({ isTool }) => isTool),
);
const wrong = all.filter((one) => !isFine(one));
console.log(`\n${all.length} packages, ${wrong.length} with a licence that is not on the list.`);
for (const { name, licence } of wrong) console.log(`${name}: ${licence}`);
process.exitCode = wrong.length > 0 ? 1 : 0;
