import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { expect, test } from 'vitest';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import { code128 } from '#scan/code128.ts';
import { proofBarsText, proveScanner } from '#scan/proveScanner.ts';

/* Outside reader: ZXing (C++), compiled for Node. It says the kind of code and the separator as a scanner does. */
test('the bars of the set-up label say to another reader what a right scanner must send', async () => {
  const require = createRequire(import.meta.url);
  const folder = dirname(require.resolve('zxing-wasm/reader/zxing_reader.wasm'));
  const wasm = new Uint8Array(readFileSync(join(folder, 'zxing_reader.wasm')));
  await prepareZXingModule({
    overrides: { wasmBinary: wasm.buffer as ArrayBuffer }, // a copy has a buffer of its own
    fireImmediately: true,
  });
  const bars = code128(proofBarsText, true);
  expect(bars.length).toBeLessThanOrEqual(385); // with its quiet zones it fits a dialog, two dots a module
  const dots = 3;
  const quiet = 10;
  const width = (bars.length + 2 * quiet) * dots;
  const height = 60;
  const data = new Uint8ClampedArray(width * height * 4).fill(255);
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1) {
      const isBar = bars[Math.floor(x / dots) - quiet] === '1';
      if (isBar) data.fill(0, (y * width + x) * 4, (y * width + x) * 4 + 3);
    }
  const image = { data, width, height, colorSpace: 'srgb' } as ImageData; // as a page has it
  const [read] = await readBarcodes(image, { formats: ['Code128'], textMode: 'Plain' });
  expect(proveScanner(`${read?.symbologyIdentifier}${read?.text}`)).toEqual({ ok: true });
});
