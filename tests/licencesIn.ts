/** Licences that let the program be used, changed and passed on under its own (Apache-2.0). */
const free = [
  ...['MIT', 'ISC', 'Apache-2.0', 'BSD-2-Clause', 'BSD-3-Clause', '0BSD', 'CC0-1.0', 'OFL-1.1'],
  ...['BlueOak-1.0.0', 'Python-2.0'],
];

/** Beside them, for tools that nobody is given: they are run and not passed on. */
const forTools = ['MPL-2.0', 'CC-BY-4.0', 'LGPL-2.1+'];

/** Packages that say where their licence stands, which was read there: BSD-like, of the US NLM. Tools, both. */
const readByUs = ['fhirpath', '@lhncbc/ucum-lhc'];

export type Licensed = {
  readonly name: string;
  readonly version: string;
  readonly licence: string;
  /** Not in the page, nor needed to run it. */
  readonly isTool: boolean;
};

type Entry = { readonly license?: string; readonly version?: string; readonly dev?: boolean };

/** Every package of a lock file. */
export function licencesIn(lockFile: string): readonly Licensed[] {
  const { packages } = JSON.parse(lockFile);
  return Object.entries<Entry>(packages)
    .filter(([path]) => path !== '')
    .map(([path, { license = 'none said', version = '', dev = false }]) => ({
      ...{ name: path.replace(/^.*node_modules\//, ''), version, licence: license, isTool: dev },
    }));
}

/** Whether a package may be used for what it is used for. Of several licences to choose from one is enough. */
export function isFine({ name, licence, isTool }: Licensed): boolean {
  if (isTool && readByUs.includes(name)) return true;
  const choices = licence.replace(/[()]/g, '').split(' OR ');
  return choices.some((one) => free.includes(one) || (isTool && forTools.includes(one)));
}
