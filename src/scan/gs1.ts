import { say } from '#words/say.ts';
import { type Day, dayOf } from './days.ts';
import { type Identifier, identifierAt, isOfKnownLength } from './identifiers.ts';
import { separator } from './separator.ts';

/** One element: kept in a list, in the order of the string, since a plain object would put 10 before 01. */
export type Gs1Element = { readonly ai: string; readonly name: string; readonly value: string };

export type Elements =
  | { readonly ok: true; readonly elements: readonly Gs1Element[] }
  | { readonly ok: false; readonly sentence: string };

const wrong = (sentence: string): Elements => ({ ok: false, sentence });

/** What a text may hold. Source: GS1 General Specifications, figure 7.11-1 (82 characters; a blank is none of them). */
const allowed = /^[!"%&'()*+,\-./0-9:;<=>?A-Z_a-z]+$/;

/**
 * Reads an element string, as it stands behind the symbology identifier.
 *
 * Tolerates one separator in front, one behind an element of known length, and one at the end: scanners send them.
 * Source: GS1 General Specifications; the check values of tests/scan are those of GS1's own engine and dictionary.
 */
export function parseElements(data: string, scannedAt: string): Elements {
  let rest = data.startsWith(separator) ? data.slice(1) : data;
  if (rest === '') return wrong(say`The code is empty.`);
  const elements: Gs1Element[] = [];
  while (rest !== '') {
    const identifier = identifierAt(rest);
    if (!identifier)
      return wrong(say`The code has a part that is not known here: ${rest.slice(0, 4)}…`);
    const taken = valueAt(rest.slice(identifier.ai.length), identifier);
    const fault = faultIn(identifier, taken.value, scannedAt);
    if (fault !== undefined) return wrong(fault);
    const before = elements.find(({ ai }) => ai === identifier.ai);
    if (before && before.value !== taken.value)
      return wrong(say`The code says ${identifier.name.toLowerCase()} twice, differently.`);
    if (!before) elements.push({ ai: identifier.ai, name: identifier.name, value: taken.value });
    rest = taken.rest;
  }
  const odd = oddCompany(elements);
  return odd === undefined ? { ok: true, elements } : wrong(odd);
}

type Taken = { readonly value: string; readonly rest: string };

/** The value at the front: as long as its identifier says, or up to the next separator. */
function valueAt(data: string, { ai, max }: Identifier): Taken {
  if (!isOfKnownLength(ai)) {
    const end = data.indexOf(separator);
    if (end < 0) return { value: data, rest: '' };
    return { value: data.slice(0, end), rest: data.slice(end + 1) };
  }
  const value = data.slice(0, max);
  const rest = data.slice(max);
  return { value, rest: rest.startsWith(separator) ? rest.slice(1) : rest };
}

/** What is wrong with a value by itself. */
function faultIn(identifier: Identifier, value: string, scannedAt: string): string | undefined {
  const { name, form, min, max, checked, date } = identifier;
  const what = `${name} (${identifier.ai})`;
  if (value === '') return say`${what} is empty.`;
  if (value.length < min) return say`${what} is too short: ${value}.`;
  if (value.length > max) return say`${what} is too long: ${value}.`;
  if (form === 'digits' && !/^\d+$/.test(value))
    return say`${what} is not made of digits: ${value}.`;
  if (!allowed.test(value)) return say`${what} has a sign that may not be in it.`;
  if (checked && !hasCheckDigit(ownNumber(identifier, value)))
    return say`${what} has a wrong check digit: ${value}. It was misread, or misprinted.`;
  if (date && !dayOf(value, scannedAt)) return say`${what} is no day: ${value}.`;
  if (date === 'day-and-time' && !/^\d{4}(0[1-9]|[12]\d|3[01])([01]\d|2[0-3])[0-5]\d$/.test(value))
    return say`${what} is no time: ${value}.`;
  return undefined;
}

/** Of a part of an item only the first fourteen digits are the item's number. */
const ownNumber = ({ ai }: Identifier, value: string): string =>
  ai === '8006' || ai === '8026' ? value.slice(0, 14) : value;

/** Which element lacks another that it belongs to, or stands beside one that it may not. */
function oddCompany(elements: readonly Gs1Element[]): string | undefined {
  const there = new Set(elements.map(({ ai }) => ai));
  for (const { ai, name } of elements) {
    const identifier = identifierAt(ai);
    const beside = identifier?.excludes?.find((other) => there.has(other));
    if (beside !== undefined) return say`${name} (${ai}) cannot stand beside (${beside}).`;
    const isLonely = identifier?.needs?.every((set) => !set.every((other) => there.has(other)));
    if (isLonely) return say`${name} (${ai}) stands alone: the number of the item is missing.`;
  }
  return undefined;
}

/**
 * Whether the last digit of a number is its check digit.
 *
 * Source: GS1, "How to calculate a check digit manually": weights 3, 1, 3, ... from the right.
 */
export const hasCheckDigit = (digits: string): boolean =>
  /^\d{2,}$/.test(digits) && checkDigit(digits.slice(0, -1)) === Number(digits.at(-1));

export function checkDigit(digits: string): number {
  let sum = 0;
  for (let place = 0; place < digits.length; place += 1)
    sum += Number(digits[digits.length - 1 - place]) * (place % 2 === 0 ? 3 : 1);
  return (10 - (sum % 10)) % 10;
}

/** An element string as people read it: (01)… (17)… */
export const readable = (elements: readonly Gs1Element[]): string =>
  elements.map(({ ai, value }) => `(${ai})${value}`).join(' ');

/** The value of an element, if it is there. */
export const elementValue = (elements: readonly Gs1Element[], ai: string): string | undefined =>
  elements.find((one) => one.ai === ai)?.value;

/** When the item expires. */
export function expiryOf(elements: readonly Gs1Element[], scannedAt: string): Day | undefined {
  const value = elementValue(elements, '17') ?? elementValue(elements, '7003');
  return value === undefined ? undefined : dayOf(value, scannedAt);
}
