/** What Chromium prints, looked at from outside: poppler for pages and words, two readers for bars. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { Page } from '@playwright/test';
import { scanGrayBuffer } from '@undecaf/zbar-wasm';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';

/** A page in grey, one byte a dot, white 255. */
type Picture = { readonly width: number; readonly height: number; readonly grey: Uint8Array };

export type Paper = {
  readonly pages: number;
  /** Units: points, a 72nd of an inch. */
  readonly size: { readonly width: number; readonly height: number };
  readonly text: string;
  /** Pages as pictures with so many dots an inch. */
  readonly pictures: (dotsPerInch: number) => readonly Picture[];
  /** The same as files, for people to look at. */
  readonly keep: (path: string, dotsPerInch: number) => void;
};

/** Prints the page as it is now, on the paper that its style sheet asks for. */
export const print = async (page: Page): Promise<Paper> =>
  paperOf(await page.pdf({ preferCSSPageSize: true }));

export function paperOf(pdf: Uint8Array): Paper {
  const inFolder = <Answer>(use: (folder: string, file: string) => Answer): Answer => {
    const folder = mkdtempSync(join(tmpdir(), 'paper-'));
    const file = join(folder, 'page.pdf');
    writeFileSync(file, pdf);
    try {
      return use(folder, file);
    } finally {
      rmSync(folder, { recursive: true });
    }
  };
  const info = inFolder((_, file) => execFileSync('pdfinfo', [file], { encoding: 'utf8' }));
  const [, width = '', height = ''] = /Page size:\s+([\d.]+) x ([\d.]+) pts/.exec(info) ?? [];
  return {
    pages: Number(/Pages:\s+(\d+)/.exec(info)?.[1]),
    size: { width: Number(width), height: Number(height) },
    text: inFolder((_, file) =>
      execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' }),
    ),
    pictures: (dots) =>
      inFolder((folder, file) => {
        execFileSync('pdftoppm', ['-gray', '-r', String(dots), file, join(folder, 'page')]);
        const names = readdirSync(folder).filter((name) => name.endsWith('.pgm'));
        return names.sort().map((name) => pictureOf(readFileSync(join(folder, name))));
      }),
    keep: (path, dots) =>
      inFolder((_, file) =>
        execFileSync('pdftoppm', ['-gray', '-png', '-r', String(dots), file, path]),
      ),
  };
}

/** Netpbm's P5: three words, then the dots. */
function pictureOf(file: Buffer): Picture {
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(file.subarray(0, 40).toString('latin1'));
  if (!head) throw new Error('This is no grey picture.');
  const [words, width, height] = [head[0], Number(head[1]), Number(head[2])];
  return { width, height, grey: new Uint8Array(file.subarray(words.length)) };
}

const require = createRequire(import.meta.url);
let isPrepared = false;

/** The reader fetches its program from elsewhere unless it is handed over: it lies in the package. */
async function prepare(): Promise<void> {
  if (isPrepared) return;
  const folder = dirname(require.resolve('zxing-wasm/reader/zxing_reader.wasm'));
  const wasm = readFileSync(join(folder, 'zxing_reader.wasm'));
  // The bytes of a file lie in a buffer of their own here, which is what the reader wants.
  const wasmBinary = new Uint8Array(wasm).buffer as ArrayBuffer;
  await prepareZXingModule({ overrides: { wasmBinary }, fireImmediately: true });
  isPrepared = true;
}

/** What two readers that have nothing in common read: ZXing (C++) and ZBar, both compiled for Node. */
export async function read({ width, height, grey }: Picture) {
  await prepare();
  const colours = new Uint8ClampedArray(width * height * 4).fill(255);
  for (let dot = 0; dot < grey.length; dot += 1) colours.fill(grey[dot] ?? 0, dot * 4, dot * 4 + 3);
  const image = { data: colours, width, height, colorSpace: 'srgb' } as ImageData; // as a page has it
  const zxing = await readBarcodes(image, { formats: ['Code128'], tryHarder: true });
  const dots = new Uint8Array(grey).buffer as ArrayBuffer; // a copy has a buffer of its own
  const zbar = await scanGrayBuffer(dots, width, height);
  return {
    zxing: zxing.map(({ text }) => text),
    zbar: zbar.map((symbol) => symbol.decode()),
  };
}
