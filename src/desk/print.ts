import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { Sheet } from '#engine/sheet.ts';
import { paperDocument } from '#paper/document.ts';

/** What became of a form: the file that was written, or why not. */
export type PrintedFile =
  | { readonly ok: true; readonly path: string }
  | { readonly ok: false; readonly sentence: string };

/** Writes the paper form of a sheet: HTML that needs nothing else, or PDF, which Chromium makes of it. */
export function printed(sheet: Sheet, path: string): PrintedFile {
  const html = paperDocument({ sheet }, css());
  if (!path.endsWith('.pdf')) return written(path, html);
  const chromium = chromiumPath();
  if (!existsSync(chromium))
    return {
      ok: false,
      sentence: `A PDF needs Chromium, which is not at ${chromium}. Install it, name it by CHROMIUM, or ask for .html.`,
    };
  const folder = mkdtempSync(join(tmpdir(), 'paper-'));
  const page = join(folder, 'form.html');
  writeFileSync(page, html);
  const { status, error } = spawnSync(
    chromium,
    [...options, `--print-to-pdf=${path}`, urlOf(page)],
    {
      stdio: 'ignore',
      timeout: 60_000,
    },
  );
  rmSync(folder, { recursive: true, force: true });
  if (status === 0 && existsSync(path)) return { ok: true, path };
  return {
    ok: false,
    sentence: `Chromium made no PDF of it (${error?.message ?? `exit ${status}`}).`,
  };
}

function written(path: string, html: string): PrintedFile {
  try {
    writeFileSync(path, html);
    return { ok: true, path };
  } catch {
    return { ok: false, sentence: `${path} cannot be written.` };
  }
}

/** Where Chromium is on Debian, or where the variable CHROMIUM says. */
const chromiumPath = (): string => process.env.CHROMIUM ?? '/usr/bin/chromium';

const options = ['--headless', '--no-sandbox', '--disable-gpu', '--no-pdf-header-footer'];
const urlOf = (path: string): string => pathToFileURL(path).href;

const fileIn = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));

/** The style of the form, with its typeface inside, so that the file is the same on every machine. */
function css(): string {
  const font = fileIn(
    'node_modules/@fontsource-variable/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-wght-normal.woff2',
  );
  const style = ['paper', 'columns']
    .map((name) => readFileSync(fileIn(`src/paper/${name}.css`), 'utf8'))
    .join('\n');
  if (!existsSync(font)) return style;
  const data = readFileSync(font).toString('base64');
  const source = `src: url("data:font/woff2;base64,${data}") format("woff2")`;
  const face = `font-family: "Atkinson Hyperlegible Next Variable"; font-weight: 200 800; ${source};`;
  return `@font-face { ${face} }\n${style}`;
}
