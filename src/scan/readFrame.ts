import BinaryBitmap from '@zxing/library/esm/core/BinaryBitmap.js';
import HybridBinarizer from '@zxing/library/esm/core/common/HybridBinarizer.js';
import DecodeHintType from '@zxing/library/esm/core/DecodeHintType.js';
import DataMatrixReader from '@zxing/library/esm/core/datamatrix/DataMatrixReader.js';
import Code128Reader from '@zxing/library/esm/core/oned/Code128Reader.js';
import QRCodeReader from '@zxing/library/esm/core/qrcode/QRCodeReader.js';
import RGBLuminanceSource from '@zxing/library/esm/core/RGBLuminanceSource.js';
import { separator } from './separator.ts';

/** A picture in colours, four bytes a dot. */
export type Frame = {
  readonly data: Uint8ClampedArray;
  readonly width: number;
  readonly height: number;
};

/**
 * Finds a code in a picture: Code 128, DataMatrix or QR. Undefined: there is none that can be read.
 *
 * Loaded with the camera only, and only where the browser reads no codes itself.
 */
export function readFrame({ data, width, height }: Frame): string | undefined {
  const grey = new Uint8ClampedArray(width * height);
  for (let dot = 0; dot < grey.length; dot += 1) {
    const at = dot * 4;
    // Weights of the eye for red, green and blue, in 256ths (ITU-R BT.601).
    grey[dot] = ((data[at] ?? 0) * 77 + (data[at + 1] ?? 0) * 150 + (data[at + 2] ?? 0) * 29) >> 8;
  }
  const bitmap = new BinaryBitmap(new HybridBinarizer(new RGBLuminanceSource(grey, width, height)));
  return (
    tried(() => new Code128Reader().decode(bitmap, hints).getText()) ??
    tried(() => marked(new DataMatrixReader().decode(bitmap, hints).getText())) ??
    tried(() => new QRCodeReader().decode(bitmap, hints).getText())
  );
}

const hints = new Map<DecodeHintType, unknown>([
  [DecodeHintType.TRY_HARDER, true],
  [DecodeHintType.ASSUME_GS1, true],
]);

/** The reader throws where it finds nothing. */
function tried(read: () => string): string | undefined {
  try {
    return read();
  } catch {
    return undefined;
  }
}

/** A DataMatrix of GS1 begins with the separator: as a scanner says it, it has the kind of code in front. */
const marked = (text: string): string =>
  text.startsWith(separator) ? `]d2${text.slice(1)}` : text;
