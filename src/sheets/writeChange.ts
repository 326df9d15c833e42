import { isSeq, parseDocument } from 'yaml';

/** A local change as a theatre makes it on the tablet: the words of the format, and plain values. */
export type ChangeSaid = Readonly<
  Record<string, string | number | boolean | Readonly<Record<string, string | number | boolean>>>
>;

/**
 * The text of a sheet with one more local change at the end of `changes`. Comments and order stay as they are.
 * Nothing is checked here: the text is read again as if somebody had brought it in.
 */
export function withChangeWritten(text: string, change: ChangeSaid): string {
  const document = parseDocument(text);
  const known = document.get('changes');
  const node = document.createNode(change);
  if (isSeq(known)) known.add(node);
  else document.set('changes', document.createNode([change]));
  return document.toString({ lineWidth: 0 });
}
