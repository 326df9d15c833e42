/** Where something stands in a document: keys and indexes from the top. */
export type Path = readonly (string | number)[];

/** A mistake in a drill's text, before its file and line are known. */
export type Problem = { readonly path: Path; readonly sentence: string };

/** What a parser was given, where it stands, and where it tells mistakes. */
export type Given = {
  readonly value: unknown;
  readonly path: Path;
  readonly problems: Problem[];
};

/** Tells a mistake. Answers nothing, so that a parser can return it. */
export function tell(given: Given, sentence: string): undefined {
  given.problems.push({ path: given.path, sentence });
  return undefined;
}

/** The same with another value, one step further down. */
export const within = (given: Given, key: string | number, value: unknown): Given => ({
  value,
  path: [...given.path, key],
  problems: given.problems,
});

export const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** What a value is called in a sentence. */
export function kindOf(value: unknown): string {
  if (value === null || value === undefined) return 'nothing';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object') return 'a set of fields';
  return JSON.stringify(value);
}

/** Its fields where it is a set of fields; nothing at all counts as a set without any. */
function recordFrom(given: Given, name: string): Readonly<Record<string, unknown>> | undefined {
  if (given.value === null || given.value === undefined) return {};
  if (isRecord(given.value)) return given.value;
  return tell(given, `${name} is ${kindOf(given.value)}, where a set of fields is expected.`);
}

/** Its fields, of which each must be one of the known keys. */
export function knownFrom(
  given: Given,
  name: string,
  known: readonly string[],
): Readonly<Record<string, unknown>> | undefined {
  const record = recordFrom(given, name);
  for (const key of Object.keys(record ?? {}))
    if (!known.includes(key))
      tell(
        within(given, key, undefined),
        `${key} is no field of ${name}; it knows ${listed(known)}.`,
      );
  return record;
}

export const listed = (words: readonly string[]): string =>
  words.length === 0 ? 'none' : words.join(', ');

/** Words as they stand; a number or yes and no are taken for the words that they look like. */
export function textFrom(given: Given, name: string): string | undefined {
  const { value } = given;
  if (typeof value === 'string') return value;
  if (typeof value === 'number' || typeof value === 'boolean') return String(value);
  return tell(given, `${name} is ${kindOf(value)}, where words are expected.`);
}

export function listFrom(given: Given, name: string): readonly Given[] | undefined {
  if (!Array.isArray(given.value))
    return tell(given, `${name} is ${kindOf(given.value)}, where a list is expected.`);
  return given.value.map((value: unknown, index) => within(given, index, value));
}

/** Words in a list; one word alone is a list of one. */
export function textsFrom(given: Given, name: string): readonly string[] | undefined {
  if (!Array.isArray(given.value)) {
    const only = textFrom(given, name);
    return only === undefined ? undefined : [only];
  }
  const items = listFrom(given, name) ?? [];
  const texts = items.map((item) => textFrom(item, name));
  return texts.every((text) => text !== undefined) ? texts : undefined;
}

/** Its entries, each read by `read`. Undefined where one could not be read. */
export function mapFrom<Value>(
  given: Given,
  name: string,
  read: (item: Given, key: string) => Value | undefined,
): Readonly<Record<string, Value>> | undefined {
  const record = recordFrom(given, name);
  if (!record) return undefined;
  const map: Record<string, Value> = {};
  let isWhole = true;
  for (const [key, value] of Object.entries(record)) {
    const item = read(within(given, key, value), key);
    if (item === undefined) isWhole = false;
    else map[key] = item;
  }
  return isWhole ? map : undefined;
}
