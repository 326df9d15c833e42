import { createSignal } from 'solid-js';
import type { Case, Specimen } from '#engine/state.ts';
import { compareLabel, labelAnywhere } from '#scan/labelCode.ts';
import { say } from '#words/say.ts';
import { useCaseScans } from '../caseScans.ts';

/** What came of a scan, in a sentence; `stops` where nothing goes on until somebody has looked. */
export type LabelSaid = { readonly stops: boolean; readonly sentence: string };

export type LabelScanOf = {
  readonly current: () => Case;
  readonly specimen: () => Specimen;
  /** The label on the pot is the right one. */
  readonly onRight: () => void;
};

/** Takes the label of a pot while a step of a specimen is shown. One of another patient also stops the whole case. */
export function createLabelScan(of: LabelScanOf) {
  const scans = useCaseScans();
  const [said, setSaid] = createSignal<LabelSaid>();
  scans.take((scan) => {
    if (scan.kind !== 'label') return false;
    scans.dismiss();
    const compared = compareLabel(of.current(), of.specimen(), scan.text);
    if (compared.is === 'wrong') {
      setSaid({ stops: true, sentence: compared.sentence });
      const found = labelAnywhere(of.current(), scan.text);
      return !(found.is === 'wrong' && found.isOther);
    }
    of.onRight();
    setSaid({ stops: false, sentence: say`The label that was scanned is the right one.` });
    return true;
  });
  return said;
}
