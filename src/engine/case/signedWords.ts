import { say, sayOf } from '#words/say.ts';
import type { Signature } from '../decision.ts';

/** Who confirmed an entry with a PIN, and who without one and why. */
export function signedWords(signed: readonly Signature[]): string {
  const byPin = signed.filter(({ how }) => how === 'pin').map(({ name }) => name);
  const without = signed
    .filter(({ how }) => how === 'without')
    .map(({ name, reason }) => (reason ? `${name} (${sayOf(reason)})` : name));
  return [
    byPin.length > 0 ? say`PIN: ${byPin.join(', ')}` : '',
    without.length > 0 ? say`without PIN: ${without.join(', ')}` : '',
  ]
    .filter(Boolean)
    .join('; ');
}
