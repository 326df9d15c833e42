import type { Signature } from '../decision.ts';

/** Who confirmed an entry with a PIN, and who without one and why. */
export function signedWords(signed: readonly Signature[]): string {
  const byPin = signed.filter(({ how }) => how === 'pin').map(({ name }) => name);
  const without = signed
    .filter(({ how }) => how === 'without')
    .map(({ name, reason }) => (reason ? `${name} (${reason})` : name));
  return [
    byPin.length > 0 ? `PIN: ${byPin.join(', ')}` : '',
    without.length > 0 ? `without PIN: ${without.join(', ')}` : '',
  ]
    .filter(Boolean)
    .join('; ');
}
