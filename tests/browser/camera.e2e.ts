import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect } from '@playwright/test';
import { code128 } from '#scan/code128.ts';
import { labelCodeOf } from '#scan/labelCode.ts';
import { launchOptions } from './launch.ts';
import { inItsPot, openAtLabel } from './potLabel.ts';
import { button, dialog, press, test, untilOffline } from './theatre.ts';

/** A film of one picture in which the bars are seen: YUV4MPEG2, which Chromium plays as a camera. */
function filmOf(bars: string): Buffer {
  const [width, height, dots] = [640, 480, 2];
  const light = Buffer.alloc(width * height, 200);
  const first = Math.floor((width - bars.length * dots) / 2);
  for (let y = 140; y < 340; y += 1)
    for (let x = 0; x < bars.length * dots; x += 1)
      if (bars[Math.floor(x / dots)] === '1') light[y * width + first + x] = 40;
  const colourless = Buffer.alloc((width * height) / 2, 128);
  const frame = Buffer.concat([Buffer.from('FRAME\n'), light, colourless]);
  const head = Buffer.from(`YUV4MPEG2 W${width} H${height} F10:1 Ip A1:1 C420jpeg\n`);
  return Buffer.concat([head, ...Array.from({ length: 10 }, () => frame)]);
}

const [name, number] = ['Testcase, Ash', 'ZZ-TEST-30'];
const { record } = await inItsPot(name, number);
const { appendix } = record.current.specimens;
if (!appendix) throw new Error('the appendix is in its pot');
const film = join(mkdtempSync(join(tmpdir(), 'camera-')), 'label.y4m');
writeFileSync(film, filmOf(code128(labelCodeOf(record.current, appendix))));

test.use({
  launchOptions: {
    ...launchOptions,
    args: [
      ...launchOptions.args,
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream',
      `--use-file-for-fake-video-capture=${film}`,
    ],
  },
});

test('the label of a pot is read by the camera, with the network cut, and the camera is let go', async ({
  page,
  context,
}) => {
  const asked: string[] = [];
  page.on('request', (request) => asked.push(new URL(request.url()).pathname));
  await page.goto('/');
  await untilOffline(page);
  expect(asked.filter((path) => /readFrame|Camera/.test(path))).toEqual([]); // not in the first load
  await context.setOffline(true);
  await openAtLabel(page, name, number);
  await press(page, 'Specimen');
  await expect(button(page, 'Every field read: the label says this')).toBeVisible();
  await press(page, 'Scan with the camera');
  await expect(page.getByText(/^Labelled by N2\./)).toBeVisible();
  await expect(dialog(page)).toHaveCount(0);
  expect(asked.some((path) => /readFrame/.test(path))).toBe(true);
  const live = await page.evaluate(() => document.querySelectorAll('video').length);
  expect(live).toBe(0);
});
