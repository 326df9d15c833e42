/** One tap on the frame touches its row, the holds and the foot, and nothing else of the page. */
import { expect, type Page } from '@playwright/test';
import { countFirst, openTeachingCase, signInShort, untilOperating } from './teachingCase.ts';
import { foot, shown, stretch } from './theatre.ts';

type Touched = { readonly where: string; readonly what: string };

/** From now on every change of the page is noted, with the part of the page in which it was. */
const watchPage = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const touched: Touched[] = [];
    const partOf = (node: Node): string => {
      const element = node instanceof Element ? node : node.parentElement;
      const part = element?.closest('.wire, .wire-group-name, .holds, .foot, .band, .spine');
      const name = part?.getAttribute('data-line') ?? part?.className;
      return name ?? `${element?.tagName.toLowerCase()}.${element?.className}`;
    };
    const observer = new MutationObserver((records) => {
      for (const { target, type, attributeName } of records)
        touched.push({ where: partOf(target), what: attributeName ?? type });
    });
    observer.observe(document.documentElement, {
      ...{ subtree: true, childList: true, characterData: true, attributes: true },
    });
    Object.assign(window, { takeTouched: () => touched.splice(0) });
  });

const takeTouched = (page: Page): Promise<readonly Touched[]> => page.evaluate('takeTouched()');

/** One tap on a stretch; done when it is in the record and the page has come to rest. */
async function tapOnce(page: Page, line: string, place: string): Promise<readonly Touched[]> {
  const last = foot(page).getByRole('status');
  const before = await last.getAttribute('data-entry');
  await takeTouched(page);
  await stretch(page, line, place).tap();
  await expect(last).not.toHaveAttribute('data-entry', before ?? '');
  await page.waitForTimeout(300);
  return takeTouched(page);
}

const wheres = (touched: readonly Touched[]): readonly string[] =>
  [...new Set(touched.map(({ where }) => where))].sort();

/** Changes of one tap at most: two stretches with number, beads, label and marks; one card; the last entry. */
const changesMost = 40;

/** On a first screen of which the clock stands still, so that a minute that is over is not taken for a tap's work. */
export async function oneTapTouches(page: Page): Promise<void> {
  await openTeachingCase(page);
  await signInShort(page);
  await countFirst(page);
  await untilOperating(page);
  await watchPage(page);
  const swab = 'Swab 10 × 10';
  const row = await page
    .getByRole('listitem', { name: swab, exact: true })
    .getAttribute('data-line');
  const allowed = ['foot', 'holds', row ?? ''].sort();
  for (const place of ['on the table', 'on the table', 'in the patient']) {
    const before = await shown(page, swab, place);
    const touched = await tapOnce(page, swab, place);
    expect(await shown(page, swab, place)).toBe(before - 1);
    expect(wheres(touched)).toEqual(allowed);
    expect(touched.length).toBeLessThanOrEqual(changesMost);
  }
}
