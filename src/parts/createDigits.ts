import { type Accessor, createSignal } from 'solid-js';

/** How many digits the number will have, and those that are there. */
type Begun = { readonly length: 1 | 2 | 3; readonly digits: string };

/** One digit key: what a tap on it means now. */
export type DigitKey = {
  readonly digit: number;
  /** The number as far as it is said with this key: 40 for the tens of 44. */
  readonly label: string;
  /** A number of two or three digits does not begin with 0. */
  readonly isOff: boolean;
};

/** A bounce of a wet glove is faster than a finger that means it. Units: milliseconds. */
const bounceMs = 200;

export type DigitsState = {
  readonly keys: Accessor<readonly DigitKey[]>;
  /** What the key for longer numbers will do, in its own words. */
  readonly longer: Accessor<'10+' | '100+' | '0–9'>;
  /** The digits so far, with a dash for each that is still to come; empty for a single digit. */
  readonly begun: Accessor<string>;
  readonly press: (digit: number, atMs: number) => void;
  readonly lengthen: () => void;
  /** Leaves a number that was begun; false when there was none. */
  readonly leave: () => boolean;
};

/**
 * A number from ten keys. One tap is a number from 0 to 9. After `lengthen` the keys stand for tens
 * (10, 20 ... 90) and then for the ones of that ten (40 ... 49), so that what is tapped is always
 * what is written on the key; `lengthen` again does the same for hundreds. No key commits: the last
 * digit does, and the count moves on by itself. 44 pieces are three taps: 10+, 40, 44; and two where `isLarge`
 * says that the number will have two digits, since the keys then begin with the tens.
 */
export function createDigits(
  onNumber: (n: number) => void,
  isLarge: Accessor<boolean> = () => false,
): DigitsState {
  const none = (): Begun => ({ length: isLarge() ? 2 : 1, digits: '' });
  const [said, setSaid] = createSignal<Begun>();
  const begun = (): Begun => said() ?? none();
  let last: { readonly digit: number; readonly atMs: number } | undefined;
  const keys = () => Array.from({ length: 10 }, (_, digit) => keyOf(begun(), digit));
  const press = (digit: number, atMs: number) => {
    const isBounce = last?.digit === digit && atMs - last.atMs < bounceMs;
    if (isBounce || keyOf(begun(), digit).isOff) return;
    last = { digit, atMs };
    const digits = `${begun().digits}${digit}`;
    if (digits.length < begun().length) {
      setSaid({ ...begun(), digits });
      return;
    }
    setSaid(undefined);
    onNumber(Number(digits));
  };
  const leave = () => {
    const wasBegun = said() !== undefined;
    setSaid(undefined);
    return wasBegun;
  };
  return {
    keys,
    longer: () => longerWords[begun().length],
    begun: () => (begun().length === 1 ? '' : begun().digits.padEnd(begun().length, '–')),
    press,
    lengthen: () => setSaid(longerThan(begun())),
    leave,
  };
}

const longerWords = { 1: '10+', 2: '100+', 3: '0–9' } as const;

function longerThan({ length }: Begun): Begun {
  if (length === 3) return { length: 1, digits: '' };
  return { length: length === 1 ? 2 : 3, digits: '' };
}

function keyOf({ length, digits }: Begun, digit: number): DigitKey {
  const rest = length - digits.length - 1;
  return {
    digit,
    label: `${digits}${digit}${'0'.repeat(rest)}`,
    isOff: length > 1 && digits === '' && digit === 0,
  };
}
