import { separator } from './separator.ts';

/** What a key did, as the browser tells it. Units: `atMs` milliseconds on any clock that only goes forward. */
export type Key = {
  readonly key: string;
  readonly code: string;
  readonly ctrl: boolean;
  readonly alt: boolean;
  readonly atMs: number;
};

/** How this theatre's scanners are set. */
export type WedgeSettings = {
  /** What the scanner sends instead of a separator, if it is a text: `{GS}`. Never guessed: lots may hold a slash. */
  readonly separatorText?: string;
  /** A key that stands for the separator: F8. */
  readonly separatorKey?: string;
};

/** What came of a key. `swallow`: the page must not see it. */
export type Step = {
  readonly swallow: boolean;
  /** A whole scan, without the Enter that ended it. */
  readonly scan?: string;
  /** A sign that may be part of a scan; true for the first: what the field holds is to be remembered now. */
  readonly begins?: boolean;
};

/**
 * A person who types fast leaves 60 ms and more between keys; a scanner leaves 1 to 20, a slow one 30. Pairs of keys
 * rolled by two fingers come within 30 ms, which is why the pause may be longer once but not on the whole.
 * Common practice, no source: the scanner's own test in `proveScanner` decides.
 */
export const pauseMsMax = 80;
const meanMsMax = 35;
const lengthMin = 6;
const lengthMax = 500;

type Kept = { text: string; firstMs: number; lastMs: number; keys: number; altDigits: string };
const nothing: Kept = { text: '', firstMs: 0, lastMs: 0, keys: 0, altDigits: '' };

/** Whether so many keys over so long are a scanner's, whatever came behind them. Units: milliseconds. */
export const isTooFastToType = (keys: number, spanMs: number): boolean =>
  keys >= lengthMin && spanMs / (keys - 1) <= meanMsMax;

/** Tells the fast keystrokes of a scanner, ended by Enter, from a person's typing. */
export function makeWedge(settings: WedgeSettings = {}) {
  let kept: Kept = { ...nothing };

  /** Adds what a key stands for; a pause before it begins anew. */
  function add(text: string, atMs: number): boolean {
    const isNew = kept.keys === 0 || atMs - kept.lastMs > pauseMsMax;
    if (isNew) kept = { ...nothing, firstMs: atMs };
    kept.text += text;
    kept.lastMs = atMs;
    kept.keys += 1;
    if (kept.text.length > lengthMax) kept = { ...nothing };
    return isNew;
  }

  /** The separator, when it belongs to what came just before. By itself it belongs to the page. */
  function addSeparator(atMs: number): Step {
    if (kept.keys > 0 && atMs - kept.lastMs > pauseMsMax) kept = { ...nothing };
    add(separator, atMs);
    return { swallow: true };
  }

  function end(atMs: number): Step {
    const { text, firstMs, lastMs, keys } = kept;
    kept = { ...nothing };
    if (!isTooFastToType(keys, lastMs - firstMs) || atMs - lastMs > pauseMsMax)
      return { swallow: false };
    return { swallow: true, scan: withSeparators(text, settings) };
  }

  return {
    /** A key goes down. */
    down: ({ key, code, ctrl, alt, atMs }: Key): Step => {
      const isAltGraph = ctrl && alt; // how Windows reports the third level of a key, `]` on German ones
      if (!isAltGraph && isSeparatorKey(key, code, ctrl, settings)) return addSeparator(atMs);
      if (alt && !ctrl && /^Numpad\d$/.test(code)) {
        kept.altDigits += code.slice(-1);
        return { swallow: true };
      }
      if (key === 'Enter') return end(atMs);
      if (ctrl !== alt || [...key].length !== 1) return { swallow: false };
      return { swallow: false, begins: add(key, atMs) };
    },
    /** A key comes up: Alt and a number on the keypad are one sign then. */
    up: ({ key, atMs }: Pick<Key, 'key' | 'atMs'>): Step => {
      if (key !== 'Alt' || kept.altDigits === '') return { swallow: false };
      const sign = Number(kept.altDigits);
      kept.altDigits = '';
      if (sign === 29) return addSeparator(atMs);
      return { swallow: true };
    },
    /**
     * Text came in one piece, without keys, as some Android scanners send it. A word that a keyboard suggests comes
     * like this too, so that only what ends its line, or holds a separator, is taken for a scan.
     */
    text: (text: string): Step => {
      const whole = text.replace(/[\r\n]+$/, '');
      if (whole === text && !text.includes(separator)) return { swallow: false };
      if (whole.length < lengthMin || whole.length > lengthMax) return { swallow: false };
      kept = { ...nothing };
      return { swallow: true, scan: withSeparators(whole, settings) };
    },
  };
}

const isSeparatorKey = (
  key: string,
  code: string,
  ctrl: boolean,
  { separatorKey }: WedgeSettings,
): boolean =>
  (ctrl && (key === ']' || code === 'BracketRight')) ||
  key === separator ||
  (separatorKey !== undefined && key === separatorKey);

const withSeparators = (text: string, { separatorText }: WedgeSettings): string =>
  separatorText === undefined || separatorText === ''
    ? text
    : text.replaceAll(separatorText, separator);
