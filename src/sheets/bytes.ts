import { type Issue, issueOf } from './issues.ts';

/** The text of a file, or why its bytes are no text. */
export type TextRead =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly issue: Issue };

/**
 * Reads bytes as UTF-8, where nothing may be guessed: a letter that was replaced in silence could be part of a name.
 */
export function textFromBytes(bytes: Uint8Array, file: string): TextRead {
  try {
    return { ok: true, text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
  } catch {
    // The same bytes read leniently show where the first of them that is no letter stands.
    const lenient = new TextDecoder('utf-8').decode(bytes);
    const before = lenient.slice(0, Math.max(0, lenient.indexOf('\ufffd'))).split('\n');
    const at = { file, line: before.length, column: (before.at(-1)?.length ?? 0) + 1 };
    const found = isSixteenBit(bytes) ? 'text in UTF-16' : 'a byte that is no letter in UTF-8';
    const expected = 'text saved as UTF-8';
    return {
      ok: false,
      issue: issueOf({ code: 'not-yaml', at, field: 'the text', found, expected }),
    };
  }
}

/** Some editors save "Unicode", which is two bytes a letter, with a mark in front. */
function isSixteenBit([first, second]: Uint8Array): boolean {
  return (first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff);
}
