/** What a page gives away in a blind count: everything in it, not only what is drawn. */
import { expect, type Page } from '@playwright/test';

/**
 * Every text and every attribute value of the page, what a screen reader is told, its title and its
 * address; without the ten digit keys, which hold every digit, and the strokes of drawings.
 */
async function everythingIn(page: Page) {
  const held = await page.evaluate(() => {
    const drawing = ['d', 'viewBox', 'x', 'y', 'x1', 'x2', 'y1', 'y2', 'width', 'height', 'rx'];
    const keys = [...document.querySelectorAll('fieldset')].find((group) =>
      group.querySelector('legend')?.textContent?.includes('number of pieces in sight'),
    );
    const texts: string[] = [document.title];
    const marks: string[] = [location.href, JSON.stringify(history.state)];
    const walker = document.createTreeWalker(document.documentElement, NodeFilter.SHOW_ALL);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      if (keys?.contains(node)) continue;
      if (node instanceof Text || node instanceof Comment) texts.push(node.data);
      if (!(node instanceof Element) || node.closest('head')) continue;
      for (const { name, value } of node.attributes)
        if (!drawing.includes(name)) marks.push(`${name}=${value}`);
    }
    return { texts, marks };
  });
  const parts = await page.locator('header, nav, main, aside').all();
  const spoken = await Promise.all(parts.map((part) => part.ariaSnapshot()));
  return { words: [...held.texts, ...spoken].join('\n'), marks: held.marks.join('\n') };
}

/** A number that stands alone: not a part of a time, a date or another number. */
const alone = (n: number): RegExp => new RegExp(`(?<![\\d:.\\-])${n}(?![\\d:.\\-])`);

/** The page says neither how many pieces of the line are expected, nor which way it differs. */
export async function expectBlind(page: Page, expected: number, word: string): Promise<void> {
  const { words, marks } = await everythingIn(page);
  expect(words).not.toMatch(alone(expected));
  expect(marks).not.toMatch(alone(expected));
  expect(words.toLowerCase()).not.toMatch(new RegExp(`\\b${word}\\b`));
  expect(words).not.toMatch(/[−-]1(?!\d)|\bshort\b|\bover by\b|\btoo many\b/i);
}
