import { readFileSync } from 'node:fs';
import { expect, type Page } from '@playwright/test';
import { cutOff, tooSmall } from './measure.ts';
import { print } from './paper.ts';
import { openTeachingCase, signInShort } from './teachingCase.ts';
import {
  answer,
  button,
  choose,
  dialog,
  heading,
  press,
  starting,
  test,
  type,
  untilOffline,
} from './theatre.ts';

const text = readFileSync('checklists/ports-and-swabs.yaml', 'utf8');

async function bringIn(page: Page, words: string): Promise<void> {
  await page.getByLabel('Bring in a sheet').setInputFiles({
    name: 'ports-and-swabs.yaml',
    mimeType: 'text/yaml',
    buffer: Buffer.from(words, 'utf8'),
  });
}

/** What cannot be tapped, is cut off, or leaves the window, in both sizes. */
async function wrongOn(page: Page): Promise<readonly string[]> {
  const wrong = [...(await tooSmall(page)), ...(await cutOff(page))];
  await page.setViewportSize({ width: 1024, height: 640 });
  wrong.push(...(await tooSmall(page)), ...(await cutOff(page)));
  await page.setViewportSize({ width: 1280, height: 800 });
  return wrong;
}

const pictured = process.env.SHEET_PICTURES;
async function see(page: Page, name: string): Promise<void> {
  expect(await wrongOn(page), name).toEqual([]);
  if (pictured === undefined) return;
  for (const level of ['up', 'down']) {
    await page.evaluate((to) => {
      document.documentElement.dataset.lights = to;
    }, level);
    await page.screenshot({ path: `${pictured}/${name}-${level}.png` });
  }
}

test('a sheet is looked at, brought in, changed, used offline and taken out', async ({
  page,
  context,
}) => {
  const asked: string[] = [];
  page.on('request', (request) => asked.push(new URL(request.url()).pathname));
  await page.goto('/');
  await expect(heading(page, 'No case on this tablet yet')).toBeVisible();
  expect(asked.filter((path) => /sheetDesk|sheet-texts/.test(path))).toEqual([]);
  await press(page, 'Sheets');
  await expect(heading(page, 'Sheets')).toBeVisible();
  await see(page, 'list');
  await press(page, starting('Ports and swabs'));
  await expect(page.getByText('Pre-tied loop').first()).toBeVisible();
  await see(page, 'opens');
  await press(page, 'What is asked');
  await press(page, 'All sheets');

  await bringIn(page, text.replace('pack: 5', 'pack: 4').replace('count: final', 'count: finel'));
  await expect(page.getByText('perhaps "final" is meant')).toBeVisible();
  await see(page, 'refused');
  expect(asked.some((path) => path.includes('sheetDesk'))).toBe(true);
  await press(page, 'Leave it');

  await bringIn(page, text.replace('opening: 5\n', 'opening: 10\n'));
  await expect(page.getByText('Swab 10 × 10: opening is 10; it was 5.')).toBeVisible();
  await type(page, 'Who takes it into use', 'Testcase, Ash');
  await see(page, 'differences');
  await press(page, 'Take into use');
  await expect(page.getByText('In use from the next case on, as version 1.')).toBeVisible();

  await press(page, 'Change something');
  await choose(dialog(page), 'What is changed?', 'Words of a question');
  await choose(dialog(page), 'Which?', 'Allergy');
  await type(dialog(page), 'The question, as it is read aloud', 'Any allergy, and which?');
  await type(dialog(page), 'Why', 'Shorter');
  await type(dialog(page), 'Who approves it', 'Prueba');
  await see(page, 'change');
  await press(dialog(page), 'Look at the change');
  await expect(
    page.getByText(/ask is Any allergy, and which\?; it was Is any allergy/),
  ).toBeVisible();
  await type(page, 'Who takes it into use', 'Testa');
  await press(page, 'Take into use');
  await press(page, 'Changes and versions');
  await expect(page.getByText(/Approved by Prueba on/)).toBeVisible();
  await see(page, 'versions');

  const saving = page.waitForEvent('download');
  await press(page, 'Save as a file');
  const saved = readFileSync(await (await saving).path(), 'utf8');
  expect(saved).toContain('# A small sheet to learn from.');
  expect(saved).toContain('ask: Any allergy, and which?');

  // The version that was taken into use is there after a restart, and is what a case is opened with.
  await untilOffline(page);
  await context.setOffline(true);
  await page.reload();
  await press(page, 'Back to the cases');
  await openTeachingCase(page);
  await press(page, 'Everyone stops: begin');
  await answer(page, 'say your name', 'Yes, said aloud');
  await expect(page.getByText('Any allergy, and which?').first()).toBeVisible();
});

test('a case that is on is printed, with what is inside on a page apart', async ({ page }) => {
  await page.goto('/');
  await openTeachingCase(page);
  await signInShort(page);
  await press(page, 'To the frame');
  await press(page, 'More…');
  await press(dialog(page), starting('On paper'));
  await press(dialog(page), starting('Print this case'));
  await expect(page.getByLabel('Paper form')).toBeVisible();
  const paper = await print(page);
  expect([Math.round(paper.size.width), Math.round(paper.size.height)]).toEqual([595, 842]);
  expect(paper.text).toContain('Keep this page apart');
  expect(paper.text).not.toContain('Back');
  expect(paper.pages).toBeGreaterThan(3);
  expect(paper.pages).toBeLessThan(12);
  if (pictured !== undefined) paper.keep(`${pictured}/paper`, 60);
  await press(page, 'Back');
  await expect(button(page, 'More…')).toBeVisible();

  await press(page, 'More…');
  await press(dialog(page), starting('On paper'));
  await press(dialog(page), starting('Type in what is on paper'));
  await expect(page.getByText('Each entry needs the time that stands beside it')).toBeVisible();
  await page.getByLabel('Time on the paper').fill('10:20');
  await expect(page.getByText(/Entries now carry 10:20 of the paper/)).toBeVisible();
  await see(page, 'from-paper');
  await press(page, 'More…');
  await press(dialog(page), starting('Note'));
  await type(dialog(page), 'Note', 'Tablet off from 10:20 to 10:50');
  await press(dialog(page), 'Write it down');
  await expect(page.getByRole('contentinfo').getByText(/from paper, 10:20/)).toBeVisible();
  await press(page, 'That was all');
  await expect(page.getByLabel('Time on the paper')).toBeHidden();
});
