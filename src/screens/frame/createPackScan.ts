import { type Pack, packOf } from '#scan/packOf.ts';
import type { Scan } from '#scan/readScan.ts';
import { useCaseScans } from '../caseScans.ts';
import { useSession } from '../useSession.ts';

/**
 * Takes the packs that are scanned for as long as whoever asks is on the screen. One that may not be used is said, with
 * the reason: expired, unreadable.
 */
export function createPackScan(
  onPack: (pack: Pack) => void,
  onNo: (sentence: string) => void,
  isReady: () => boolean = () => true,
): void {
  const { session } = useSession();
  useCaseScans().take((scan) => {
    if (!isPack(scan) || !isReady()) return false;
    const seen = packOf(scan, session.now());
    if (seen.ok) onPack(seen.pack);
    else onNo(seen.sentence);
    return true;
  });
}

const packElements = ['01', '02', '8004'];

const isPack = (scan: Scan): boolean =>
  scan.kind === 'hibc' ||
  scan.kind === 'isbt128' ||
  scan.kind === 'unreadable' ||
  (scan.kind === 'gs1' && scan.elements.some(({ ai }) => packElements.includes(ai)));
