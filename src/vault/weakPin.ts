/** Digits that lie under each other on the keys of a telephone. */
const columns = ['2580', '0852', '1470', '0741', '3690', '0963'];

/** Whether a text is a PIN at all: 4 to 8 digits. */
export const isPin = (pin: string): boolean => /^[0-9]{4,8}$/.test(pin);

/**
 * Whether a PIN is among those that are tried first: one digit again and again, pairs or halves that repeat, steps
 * up or down, a year of a life, a column of keys.
 *
 * Source: NIST SP 800-63B-4, initial public draft, section 5.2.11, asks for a list of at least ten; the choice is ours.
 */
export function isWeakPin(pin: string): boolean {
  const half = pin.slice(0, pin.length / 2);
  const steps = [...pin].slice(1).map((digit, place) => Number(digit) - Number(pin[place]));
  const isEvenStep = steps.every((step) => step === steps[0]) && Math.abs(steps[0] ?? 0) <= 1;
  const isRepeated = pin === half + half || /^(..)\1+$/.test(pin);
  return isEvenStep || isRepeated || /^(19|20)\d\d$/.test(pin) || columns.includes(pin);
}
