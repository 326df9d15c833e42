import { createSignal, onCleanup, onMount } from 'solid-js';
import type { Case, Specimen } from '#engine/state.ts';
import { compareWristband } from '#scan/compareWristband.ts';
import { compareLabel } from '#scan/labelCode.ts';
import { listenForScans } from '#scan/listenForScans.ts';
import { readScan } from '#scan/readScan.ts';

/** What came of a scan, in a sentence; `stops` where nothing goes on until somebody has looked. */
export type ScanSaid = { readonly stops: boolean; readonly sentence: string };

export type LabelScanOf = {
  readonly current: () => Case;
  readonly specimen: () => Specimen;
  readonly now: () => string;
  /** The label on the pot is the right one. */
  readonly onRight: () => void;
};

/** Listens for the label of a pot, and for the wristband, while a step of a specimen is shown. */
export function createLabelScan(of: LabelScanOf) {
  const [said, setSaid] = createSignal<ScanSaid>();
  onMount(() => onCleanup(listenForScans((text) => setSaid(answerTo(text)))));

  function answerTo(text: string): ScanSaid {
    const scan = readScan(text, of.now());
    if (scan.kind === 'label') {
      const compared = compareLabel(of.current(), of.specimen(), scan.text);
      if (compared.is === 'wrong') return { stops: true, sentence: compared.sentence };
      of.onRight();
      return { stops: false, sentence: 'The label that was scanned is the right one.' };
    }
    if (scan.kind === 'unreadable') return { stops: false, sentence: scan.sentence };
    const band = compareWristband(of.current(), scan);
    if (band.agrees) return { stops: false, sentence: 'The wristband is of this patient.' };
    return { stops: band.isOther, sentence: band.sentence };
  }

  return said;
}
