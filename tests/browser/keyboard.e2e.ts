/**
 * The keyboard alone: on each main screen the Tab key comes to everything that can be tapped, what has the focus is
 * seen to have it, and nothing lies over it.
 *
 * Source: WCAG 2.2, 2.1.1 Keyboard, 2.1.2 No Keyboard Trap, 2.4.7 Focus Visible, 2.4.11 Focus Not Obscured.
 */
import { expect, type Page } from '@playwright/test';
import { test } from './theatre.ts';
import { tour } from './tour.ts';

const mainScreens = [
  'start-empty',
  'opening',
  'sign-in',
  'operating',
  'add',
  'specimen-label',
  'closing-count',
  'discrepancy',
  'sign-out',
  'record',
];

/** Marks everything that can be tapped and answers how much it is. */
const markAll = (page: Page): Promise<number> =>
  page.evaluate(() => {
    const whole = document.querySelector('dialog[open]') ?? document;
    const all = [...whole.querySelectorAll('button, input, summary, select, a[href]')].filter(
      (one) =>
        one.checkVisibility({ visibilityProperty: true }) &&
        !one.matches(':disabled, input[type="radio"]:not(:checked)'),
    );
    for (const [at, one] of all.entries()) one.setAttribute('data-stop-of-tab', `${at}`);
    return all.length;
  });

type Stop = { readonly at: string | undefined; readonly name: string; readonly wrong?: string };

/** Where the focus is, and what is wrong with how it is seen. */
const stopOf = (page: Page): Promise<Stop> =>
  page.evaluate(() => {
    const one = document.activeElement;
    if (!one || one === document.body) return { at: undefined, name: 'page' };
    const name = `${one.tagName.toLowerCase()} "${(one.textContent ?? '').trim().slice(0, 30)}"`;
    const at = one.getAttribute('data-stop-of-tab') ?? undefined;
    const shown = one.matches('.visually-hidden, [type="file"]') ? (one.parentElement ?? one) : one;
    const { outlineStyle, outlineWidth } = getComputedStyle(shown);
    if (outlineStyle === 'none' || Number.parseFloat(outlineWidth) < 2)
      return { at, name, wrong: 'shows no focus' };
    const { left, top, width, height } = shown.getBoundingClientRect();
    const hit = document.elementFromPoint(left + width / 2, top + height / 2);
    const isOver = hit !== null && !shown.contains(hit) && !hit.contains(shown);
    return {
      at,
      name,
      ...(hit === null || isOver ? { wrong: 'has the focus and is not seen' } : {}),
    };
  });

/** Goes round with the Tab key until it is at its beginning again. */
async function wrongByTab(page: Page): Promise<readonly string[]> {
  const all = await markAll(page);
  const wrong: string[] = [];
  const reached = new Set<string>();
  await page.evaluate(
    () => document.activeElement instanceof HTMLElement && document.activeElement.blur(),
  );
  for (let presses = 0; presses < all + 12 && reached.size < all; presses += 1) {
    await page.keyboard.press('Tab');
    const stop = await stopOf(page);
    if (stop.at !== undefined) reached.add(stop.at);
    if (stop.wrong !== undefined) wrong.push(`${stop.name} ${stop.wrong}`);
  }
  const missed = await page.evaluate(
    (known) =>
      [...document.querySelectorAll('[data-stop-of-tab]')]
        .filter((one) => !known.includes(one.getAttribute('data-stop-of-tab') ?? ''))
        .map(
          (one) => `${one.tagName.toLowerCase()} "${(one.textContent ?? '').trim().slice(0, 30)}"`,
        ),
    [...reached],
  );
  await page.evaluate(() => {
    for (const one of document.querySelectorAll('[data-stop-of-tab]'))
      one.removeAttribute('data-stop-of-tab');
  });
  return [...new Set(wrong), ...missed.map((one) => `${one} is not reached`)];
}

test('on every main screen the Tab key comes to all that can be tapped, and is seen there', async ({
  page,
}) => {
  test.setTimeout(600_000);
  await page.goto('/');
  const wrong: string[] = [];
  const seen: string[] = [];
  await tour(page, async (screen) => {
    if (!mainScreens.includes(screen)) return;
    seen.push(screen);
    wrong.push(...(await wrongByTab(page)).map((one) => `${screen}: ${one}`));
  });
  expect(seen).toEqual(mainScreens);
  expect(wrong).toEqual([]);
});
