import type { Case } from '#engine/state.ts';
import { createPageFooter } from './createPageFooter.ts';
import { handoverTree } from './page/handoverTree.ts';
import { recordTree } from './page/recordTree.ts';
import { footerWords } from './pageFooter.ts';
import { Tree } from './Tree.tsx';
import { asKept, type RecordRow } from './wholeRecord.ts';

export type RecordPageProps = {
  readonly current: Case;
  /** Every entry as it was written, in order. */
  readonly rows: readonly RecordRow[];
  /** SHA-256 of the last row, in hex. */
  readonly head: string;
  /** Short code of the last entry of the chain, so that paper and file can be held together. */
  readonly code: string;
};

/** What recovery needs, on one page. */
export function HandoverPage(props: RecordPageProps) {
  createPageFooter(() => footerWords(props.current, props.code));
  return <Tree leaf={handoverTree(asKept({ ...props }))} />;
}

/** The whole case as a page to read and to print. */
export function RecordPage(props: RecordPageProps) {
  createPageFooter(() => footerWords(props.current, props.code));
  return <Tree leaf={recordTree(asKept({ ...props }))} />;
}
