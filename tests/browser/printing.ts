/** What people do to print, and what is caught of it. */
import { expect, type Page } from '@playwright/test';
import { choose, press } from './theatre.ts';

/** Printing shows a dialog of the browser; here it says that it was asked for. */
export const catchPrinting = (page: Page) =>
  page.addInitScript(() => {
    window.print = () => {
      document.documentElement.dataset.printed = 'yes';
    };
  });

/** Prints one label, and answers with the code on it; the page stays as it is printed. */
export async function printLabel(page: Page, size: string): Promise<string> {
  await press(page, 'Size…');
  await choose(page, 'Label in the printer', size);
  await press(page, /^Print (the label|again)/);
  await expect(page.locator('html')).toHaveAttribute('data-printing', 'label');
  const code = await page.locator('.pot-label-frame .pot-label-code').textContent();
  return code ?? '';
}

/** The page is as it was before something was printed. */
export async function afterPrinting(page: Page): Promise<void> {
  await page.evaluate(() => window.dispatchEvent(new Event('afterprint')));
  await expect(page.locator('html')).not.toHaveAttribute('data-printing', /./);
}
