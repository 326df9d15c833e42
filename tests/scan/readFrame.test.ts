import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { expect, test } from 'vitest';
import { prepareZXingModule, writeBarcode } from 'zxing-wasm/writer';
import { code128 } from '#scan/code128.ts';
import { proofBarsText, proveScanner } from '#scan/proveScanner.ts';
import { type Frame, readFrame } from '#scan/readFrame.ts';

type Look = {
  readonly dots?: number;
  readonly tilt?: number;
  readonly dark?: number;
  readonly light?: number;
  readonly noise?: number;
};

/** What a camera may see of bars: so many dots a module, tilted, in bad light. */
function seen(bars: string, look: Look = {}): Frame {
  const { dots = 2, tilt = 0, dark = 40, light = 210, noise = 0 } = look;
  const width = 960;
  const height = 540;
  const data = new Uint8ClampedArray(width * height * 4).fill(255);
  const first = (width - bars.length * dots) / 2;
  let random = 1;
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1) {
      random = (random * 16_807) % 2_147_483_647;
      const module = Math.floor((x - first - (y - height / 2) * tilt) / dots);
      const isBar = y > 150 && y < 390 && bars[module] === '1';
      const grey = (isBar ? dark : light) + ((random % 201) / 100 - 1) * noise;
      data.fill(grey, (y * width + x) * 4, (y * width + x) * 4 + 3);
    }
  return { data, width, height };
}

const label = 'LL123456789012345678';

test.each<readonly [string, Look]>([
  ['as it is printed', {}],
  ['in the dark', { dark: 15, light: 60 }],
  ['washed out', { dark: 150, light: 215 }],
  ['grainy', { noise: 25 }],
  ['held askew', { tilt: 0.2 }],
])('the label of a pot is read from a picture of it, %s', (_, look) => {
  expect(readFrame(seen(code128(label), look))).toBe(label);
});

test('an element string keeps its separators, and says what kind of code it is', () => {
  const text = readFrame(seen(code128(proofBarsText, true)));
  expect(proveScanner(text ?? '')).toEqual({ ok: true });
});

test('a picture without a code, or with half of one, says nothing', () => {
  expect(readFrame(seen(''))).toBeUndefined();
  expect(readFrame(seen(code128(label).slice(0, 120)))).toBeUndefined();
});

const text = 'ZZ-TEST-0042 made up for this test';

/* The symbols are made by an outside generator: ZXing (C++), compiled for Node. */
test.each(['DataMatrix', 'QRCode'] as const)(
  'a %s made by another program is read',
  async (format) => {
    const folder = dirname(
      createRequire(import.meta.url).resolve('zxing-wasm/writer/zxing_writer.wasm'),
    );
    const wasm = new Uint8Array(readFileSync(join(folder, 'zxing_writer.wasm')));
    await prepareZXingModule({
      overrides: { wasmBinary: wasm.buffer as ArrayBuffer }, // a copy has a buffer of its own
      fireImmediately: true,
    });
    const { symbol } = await writeBarcode(text, { format });
    expect(symbol.width).toBe(symbol.height); // the long ones on narrow packs are not read by this reader
    expect(readFrame(pictureOf(symbol))).toBe(text);
  },
);

type Symbol = { readonly data: ArrayLike<number>; readonly width: number; readonly height: number };

/** A symbol in the middle of a white picture, six dots a module. */
function pictureOf(symbol: Symbol): Frame {
  const size = 400;
  const data = new Uint8ClampedArray(size * size * 4).fill(255);
  const from = Math.floor((size - symbol.width * 6) / 2);
  for (let y = 0; y < symbol.height * 6; y += 1)
    for (let x = 0; x < symbol.width * 6; x += 1) {
      const grey = symbol.data[Math.floor(y / 6) * symbol.width + Math.floor(x / 6)] ?? 255;
      data.fill(grey, ((y + from) * size + x + from) * 4, ((y + from) * size + x + from) * 4 + 3);
    }
  return { data, width: size, height: size };
}
