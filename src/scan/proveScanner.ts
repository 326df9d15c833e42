import { say } from '#words/say.ts';
import { separator } from './separator.ts';

/** What stands on the set-up label: a made-up pack whose lot and serial hold what keyboards swap. */
export const proofElements = [
  '01' + '09506000134352',
  '17271231',
  '10YZ-A/7',
  separator,
  '21qw1290',
].join('');

export type Proof =
  | { readonly ok: true }
  /** `instead`: what came in place of the separator, where the tablet can be told. `isDropped`: nothing came. */
  | {
      readonly ok: false;
      readonly sentence: string;
      readonly instead?: string;
      readonly isDropped?: true;
    };

const bad = (sentence: string): Extract<Proof, { readonly ok: false }> => ({ ok: false, sentence });

/** The set-up label as it is put into bars: the sign of an element string in front, and between, is FNC1. */
export const proofBarsText = proofElements.replaceAll(separator, '\u00CF');

/**
 * Says whether a scanner is set up rightly, from what it sent for the set-up label: a wrong setting cannot be seen in
 * a pack, where a lost separator only makes a longer lot.
 */
export function proveScanner(sent: string): Proof {
  const data = /^\](?:d2|C1|Q3)/.test(sent) ? sent.slice(3) : sent;
  if (data === proofElements)
    return sent === data
      ? bad(say`The scanner does not say what kind of code it read. Switch its AIM identifier on.`)
      : { ok: true };
  const bare = proofElements.replace(separator, '');
  if (data === bare)
    return {
      ...bad(say`The scanner drops the separator. Set it to send it as Ctrl+] or as Alt+029.`),
      isDropped: true,
    };
  const replaced = data.length > bare.length && data.startsWith(bare.slice(0, 32));
  const middle = data.slice(bare.indexOf('21qw'), -'21qw1290'.length);
  if (replaced && data.endsWith('21qw1290'))
    return {
      ok: false,
      sentence: say`The scanner sends ${middle} for the separator. Set it to send Ctrl+], or tell this tablet.`,
      instead: middle,
    };
  if (data.toLowerCase() === proofElements.toLowerCase())
    return bad(say`The scanner changes capital letters. Its keyboard has Caps Lock on.`);
  if (data.length === proofElements.length)
    return bad(
      say`Letters or signs are swapped. The scanner is set to another keyboard than this tablet.`,
    );
  return bad(say`This is not the set-up label, or not all of it came.`);
}
