import { type Failed, fail } from './failures.ts';

/** Deeper data is refused. */
const depthMax = 100;

export type Canonical = { readonly ok: true; readonly text: string } | Failed;

/**
 * The one text that stands for a value: keys sorted by UTF-16 code units, nothing between tokens,
 * numbers and strings as ECMAScript writes them.
 *
 * Fails: not-json (undefined, NaN, an infinity, bigint, symbol, function, lone surrogate, anything
 * but plain objects and full arrays, depth over 100). `detail` names where.
 * Source: RFC 8785, section 3.2.
 */
export function canonicalJson(value: unknown): Canonical {
  let refusedAt: string | undefined;

  function refuse(path: string): string {
    refusedAt ??= path;
    return '';
  }

  function write(part: unknown, path: string, depth: number): string {
    if (part === null || typeof part === 'boolean') return String(part);
    if (typeof part === 'number') {
      return Number.isFinite(part) ? JSON.stringify(part) : refuse(path);
    }
    if (typeof part === 'string') return hasLoneSurrogate(part) ? refuse(path) : quote(part);
    if (typeof part !== 'object' || depth >= depthMax) return refuse(path);
    return Array.isArray(part) ? writeArray(part, path, depth) : writeObject(part, path, depth);
  }

  function writeArray(items: readonly unknown[], path: string, depth: number): string {
    const written: string[] = [];
    // By number, since map and join pass over holes.
    for (let place = 0; place < items.length && refusedAt === undefined; place += 1) {
      written.push(write(items[place], `${path}[${place}]`, depth + 1));
    }
    return `[${written.join(',')}]`;
  }

  function writeObject(whole: object, path: string, depth: number): string {
    if (!isPlain(whole)) return refuse(path);
    const written: string[] = [];
    // The default order of sort() is that of UTF-16 code units, as RFC 8785 3.2.3 wants it.
    for (const [key, part] of Object.entries(whole).sort(byKey)) {
      if (refusedAt !== undefined) break;
      if (hasLoneSurrogate(key)) return refuse(path);
      written.push(`${quote(key)}:${write(part, `${path}.${key}`, depth + 1)}`);
    }
    return `{${written.join(',')}}`;
  }

  const text = write(value, '$', 0);
  return refusedAt === undefined ? { ok: true, text } : fail('not-json', { detail: refusedAt });
}

/**
 * Whether a text is the canonical one of the value that was parsed from it. Most are seen to be without writing them
 * anew: the engine writes what it parsed in the order it found, so that only the order has to be looked at.
 */
export function isCanonical(text: string, value: unknown): boolean {
  // A lone surrogate can only come from an escape, since the engine would write it as one.
  const isPlainly = !text.includes('\\ud') && isInOrder(value, 0) && JSON.stringify(value) === text;
  if (isPlainly) return true;
  const canonical = canonicalJson(value);
  return canonical.ok && canonical.text === text;
}

function isInOrder(part: unknown, depth: number): boolean {
  if (typeof part !== 'object' || part === null) return true;
  if (depth >= depthMax) return false;
  if (Array.isArray(part)) return part.every((one) => isInOrder(one, depth + 1));
  let before: string | undefined;
  for (const [key, one] of Object.entries(part)) {
    if ((before !== undefined && key <= before) || !isInOrder(one, depth + 1)) return false;
    before = key;
  }
  return true;
}

const quote = (text: string): string => JSON.stringify(text);

const byKey = ([left]: [string, unknown], [right]: [string, unknown]): number =>
  left < right ? -1 : left > right ? 1 : 0;

const hasLoneSurrogate = (text: string): boolean =>
  /[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/.test(text);

function isPlain(whole: object): boolean {
  const prototype: unknown = Object.getPrototypeOf(whole);
  if (prototype !== null && prototype !== Object.prototype) return false;
  return Object.getOwnPropertySymbols(whole).length === 0;
}
