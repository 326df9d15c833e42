/** What is too small, cut off or out of the window on a page. Each finding is a sentence. */
import type { Page } from '@playwright/test';

/** Short side of what is tapped, in CSS pixels. The design asks for 64; less than 60 fails. */
const tapMin = 60;

/** Everything that is tapped, in the open dialog if there is one. */
export const tooSmall = (page: Page): Promise<readonly string[]> =>
  page.evaluate((min) => {
    const whole = document.querySelector('dialog[open]') ?? document;
    const tapped = 'button, summary, select, a[href], input, label:has(input)';
    return [...whole.querySelectorAll(tapped)].flatMap((element) => {
      const { width, height } = element.getBoundingClientRect();
      const isOff =
        element.matches('.visually-hidden, :disabled, [aria-disabled="true"]') ||
        !element.checkVisibility();
      if (isOff || Math.min(width, height) >= min) return [];
      const name = element.getAttribute('aria-label') ?? element.textContent ?? '';
      const size = `${Math.round(width)} × ${Math.round(height)}`;
      return [`${element.tagName.toLowerCase()} "${name.trim().slice(0, 40)}" is ${size}`];
    });
  }, tapMin);

/** Nothing scrolls sideways, no words are cut off a button, and the foot is whole in the window. */
export const cutOff = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() => {
    const found: string[] = [];
    const nameOf = (element: Element) =>
      `${element.tagName.toLowerCase()}.${element.className} "${(element.textContent ?? '').trim().slice(0, 30)}"`;
    const isSeen = (element: Element) =>
      element.checkVisibility() && !element.closest('.visually-hidden');
    const root = document.documentElement;
    if (root.scrollWidth > root.clientWidth) {
      const wide = [...document.querySelectorAll('body *')].findLast(
        (element) => isSeen(element) && element.getBoundingClientRect().right > innerWidth + 1,
      );
      found.push(`the page scrolls sideways: ${wide ? nameOf(wide) : 'for no element'}`);
    }
    for (const element of document.querySelectorAll('body *')) {
      if (!isSeen(element)) continue;
      const { overflowX } = getComputedStyle(element);
      const isWide = element.scrollWidth > element.clientWidth + 1;
      if (isWide && (overflowX === 'auto' || overflowX === 'scroll'))
        found.push(`${nameOf(element)} scrolls sideways`);
    }
    for (const button of document.querySelectorAll('button')) {
      const isCut =
        button.scrollWidth > button.clientWidth + 1 ||
        button.scrollHeight > button.clientHeight + 1;
      if (isSeen(button) && isCut) found.push(`words are cut off ${nameOf(button)}`);
    }
    const feet = 'footer *, .shell-foot *, .dialog-foot *';
    for (const element of document.querySelectorAll(feet)) {
      if (
        !isSeen(element) ||
        (document.querySelector('dialog[open]') && !element.closest('dialog'))
      )
        continue;
      const { left, right, top, bottom } = element.getBoundingClientRect();
      const isOut =
        left < -0.5 || top < -0.5 || right > innerWidth + 0.5 || bottom > innerHeight + 0.5;
      if (isOut) found.push(`the foot's ${nameOf(element)} is out of the window`);
    }
    return [...new Set(found)];
  });

/** What is tapped and lies under something else: a tap in its middle or near its corners would hit that. */
export const covered = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() => {
    const whole = document.querySelector('dialog[open]') ?? document;
    const nameOf = (element: Element) =>
      `${element.tagName.toLowerCase()}.${element.className} "${(element.textContent ?? '').trim().slice(0, 30)}"`;
    /** A notice lies over what is there until it is read, and the act of a step over what scrolls under it. */
    const isMeant = (over: Element): boolean => over.closest('.notice, .step-acts') !== null;
    /** What of it can be seen: inside the window and inside all that cuts it off. */
    const seenOf = (element: Element) => {
      const { left, right, top, bottom } = element.getBoundingClientRect();
      const seen = { left, right, top, bottom };
      for (let one = element.parentElement; one; one = one.parentElement) {
        if (getComputedStyle(one).overflow === 'visible') continue;
        const box = one.getBoundingClientRect();
        seen.left = Math.max(seen.left, box.left);
        seen.right = Math.min(seen.right, box.right);
        seen.top = Math.max(seen.top, box.top);
        seen.bottom = Math.min(seen.bottom, box.bottom);
      }
      return {
        left: Math.max(seen.left, 0),
        right: Math.min(seen.right, innerWidth),
        top: Math.max(seen.top, 0),
        bottom: Math.min(seen.bottom, innerHeight),
      };
    };
    return [...whole.querySelectorAll('button, summary, select, a[href]')].flatMap((element) => {
      const { left, right, top, bottom } = seenOf(element);
      const isThere = element.checkVisibility() && !element.closest('.visually-hidden');
      // A row that is cut at the end of its page is turned to; a sliver of it is not for tapping.
      if (!isThere || right - left < 24 || bottom - top < 24) return [];
      const points = [0.5, 0.15, 0.85].map((part) => [
        left + (right - left) * part,
        top + (bottom - top) * part,
      ]);
      const over = points
        .map(([x, y]) => document.elementFromPoint(x ?? 0, y ?? 0))
        .find((hit) => hit && !element.contains(hit) && !hit.contains(element) && !isMeant(hit));
      return over ? [`${nameOf(element)} lies under ${nameOf(over)}`] : [];
    });
  });

/**
 * What can only be brought into sight by dragging: a list that is longer than its room and has no keys that turn its
 * pages. A list that holds still for the one that is asked needs none while that one stands whole in sight.
 */
export const onlyDragged = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() => {
    const whole = document.querySelector('dialog[open]') ?? document;
    const isInside = (part: Element, room: Element): boolean => {
      const [inner, outer] = [part.getBoundingClientRect(), room.getBoundingClientRect()];
      return inner.top >= outer.top - 1 && inner.bottom <= outer.bottom + 1;
    };
    return [...whole.querySelectorAll('*')].flatMap((element) => {
      const { overflowY } = getComputedStyle(element);
      const isLong = element.scrollHeight > element.clientHeight + 1;
      if (!isLong || !['auto', 'scroll'].includes(overflowY) || !element.checkVisibility())
        return [];
      const keys = element.parentElement?.querySelector(':scope > .scroller-keys');
      const asked = element.querySelector('li[aria-current]');
      if (keys || (asked && isInside(asked, element))) return [];
      const hidden = element.scrollHeight - element.clientHeight;
      return [`${element.tagName.toLowerCase()}.${element.className} hides ${hidden} px`];
    });
  });

/** What no scrolling brings into sight: words and keys cut off by something that hides what is longer than itself. */
export const shutAway = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() => {
    const whole = document.querySelector('dialog[open]') ?? document;
    return [...whole.querySelectorAll('*')].flatMap((element) => {
      const { overflowX, overflowY, webkitLineClamp, textOverflow } = getComputedStyle(element);
      const isHiding = (overflow: string) => overflow === 'hidden' || overflow === 'clip';
      // Words that end in an ellipsis stand whole on the page that they lead to.
      if (webkitLineClamp !== 'none' || textOverflow === 'ellipsis') return [];
      if (!element.checkVisibility() || element.closest('.visually-hidden, svg')) return [];
      const down = isHiding(overflowY) ? element.scrollHeight - element.clientHeight : 0;
      const over = isHiding(overflowX) ? element.scrollWidth - element.clientWidth : 0;
      const hidden = Math.max(down, over);
      return hidden > 1
        ? [`${element.tagName.toLowerCase()}.${element.className} shuts ${hidden} px away`]
        : [];
    });
  });
