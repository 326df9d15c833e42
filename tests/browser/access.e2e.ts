import { expect, type Page } from '@playwright/test';
import { cutOff, tooSmall } from './measure.ts';
import { coach, play } from './practiceCase.ts';
import { openTeachingCase, team } from './teachingCase.ts';
import { button, dialog, heading, press, starting, stepNow, test } from './theatre.ts';
import { tour } from './tour.ts';
import { openCaseBy, setUpUnit } from './unit.ts';

const large = { width: 1280, height: 800 };
const small = { width: 1024, height: 640 };

const rules = ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'];

/** What axe finds against the rules, one line each. */
async function violations(page: Page): Promise<readonly string[]> {
  const found: unknown = await page.evaluate(
    (tags) => Reflect.get(globalThis, 'axe').run(document, { runOnly: tags }),
    rules,
  );
  if (typeof found !== 'object' || found === null || !('violations' in found)) return ['no answer'];
  const list: unknown = found.violations;
  const unsure: unknown = Reflect.get(found, 'incomplete');
  if (!Array.isArray(list) || !Array.isArray(unsure)) return ['no list'];
  // A rule that broke has looked at nothing, and says so only here.
  const broken = unsure.filter(({ error }) => error !== undefined);
  return [
    ...list.map(({ id, nodes }) => `${id}: ${nodes.map((node: { html: string }) => node.html)}`),
    ...broken.map(({ id, error }) => `${id} could not look: ${error.message}`),
  ];
}

/** Waits until no colour is on its way to another. */
const settled = (page: Page): Promise<void> =>
  page.evaluate(async () => {
    await Promise.all(document.getAnimations().map((animation) => animation.finished));
  });

async function lights(page: Page, level: 'up' | 'down'): Promise<void> {
  await page.evaluate((to) => {
    document.documentElement.dataset.lights = to;
  }, level);
  await settled(page);
}

/** Screens on which nothing may lie under a page key: the last step of a search, the key that gives a number. */
const onOnePage = ['start-empty', 'more-loss-number', 'discrepancy', 'specimen-new'];

/** The keys that turn pages in the open dialog, or in the middle of the screen. */
const pageKeys = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() => {
    const whole = document.querySelector('dialog[open]') ?? document.querySelector('main');
    const keys = whole?.querySelectorAll('.scroller-keys') ?? [];
    return [...keys]
      .filter((one) => one.checkVisibility())
      .map(() => 'a part lies on another page');
  });

/** All that is wrong on the screen of the moment, in both light levels and both sizes. */
async function wrongOn(page: Page, screen = ''): Promise<readonly string[]> {
  const pages = async () => (onOnePage.includes(screen) ? await pageKeys(page) : []);
  const wrong: string[] = [];
  const note = (where: string, found: readonly string[]) =>
    wrong.push(...found.map((one) => `${where}: ${one}`));
  note('lights up', await violations(page));
  note('1280 × 800', [...(await tooSmall(page)), ...(await cutOff(page)), ...(await pages())]);
  await lights(page, 'down');
  note('lights down', await violations(page));
  await page.setViewportSize(small);
  await page.waitForTimeout(100); // page keys come a frame after the size
  note('1024 × 640', [...(await tooSmall(page)), ...(await cutOff(page)), ...(await pages())]);
  await page.setViewportSize(large);
  await lights(page, 'up');
  return wrong;
}

test.use({ contextOptions: { reducedMotion: 'reduce' } });

test('what is too small, cut off or hard to read is found', async ({ page }) => {
  await page.addInitScript({ path: 'node_modules/axe-core/axe.min.js' });
  await page.goto('/');
  await expect(heading(page, 'No case on this tablet yet')).toBeVisible();
  expect([...(await tooSmall(page)), ...(await cutOff(page))]).toEqual([]);
  await page.evaluate(() => {
    const tiny = document.createElement('button');
    tiny.textContent = 'Words that do not fit';
    tiny.style.cssText =
      'width: 20px; height: 20px; overflow: hidden; color: #ccc; background: #ddd';
    document.querySelector('footer')?.append(tiny);
  });
  expect((await tooSmall(page)).join()).toMatch(/"Words that do not fit" is \d+ × 20/);
  expect((await violations(page)).join()).toContain('color-contrast: <button style');
  await page.evaluate(() => {
    const wide = document.createElement('p');
    wide.textContent = 'x'.repeat(600);
    document.querySelector('footer')?.append(wide);
  });
  expect((await cutOff(page)).join()).toMatch(/sideways.*words are cut off.*out of the window/);
});

test('every screen can be read, tapped and seen whole, with lights up and down', async ({
  page,
}) => {
  test.setTimeout(600_000);
  await page.addInitScript({ path: 'node_modules/axe-core/axe.min.js' });
  await page.goto('/');
  const wrong: string[] = [];
  const screens: string[] = [];
  await tour(page, async (screen) => {
    screens.push(screen);
    wrong.push(...(await wrongOn(page, screen)).map((one) => `${screen}, ${one}`));
  });
  expect(screens.length).toBeGreaterThan(45);
  expect(onOnePage.filter((one) => !screens.includes(one))).toEqual([]);
  expect(wrong).toEqual([]);
});

test('the screens of people can be read, tapped and seen whole', async ({ page }) => {
  test.setTimeout(600_000);
  await page.addInitScript({ path: 'node_modules/axe-core/axe.min.js' });
  await page.goto('/');
  const wrong: string[] = [];
  const look = async (screen: string) => {
    wrong.push(...(await wrongOn(page)).map((one) => `${screen}, ${one}`));
  };
  await setUpUnit(page, look);
  await look('start-open');
  await press(page, 'People…');
  await look('people-open');
  await press(page, 'Add a person');
  await look('person');
  await press(page, 'Leave it');
  await press(page, 'A PIN is lost…');
  await press(dialog(page), team.scrub);
  await look('pin-new');
  await press(page, 'Leave it');
  await press(page, 'Back');
  await press(page, 'Start a case');
  await openCaseBy(page, team.scrub);
  await page.goto('/');
  await expect(button(page, 'Unlock')).toBeVisible();
  await look('case-locked');
  await press(page, 'Unlock');
  await look('who-confirms');
  await press(dialog(page), new RegExp(`^${team.scrub}`));
  await look('pin');
  await press(page, 'Leave it');
  await press(page.getByRole('navigation', { name: 'Stations of the case' }), starting('Record'));
  await expect(heading(page, /tablet is locked/)).toBeVisible();
  await look('record-locked');
  expect(wrong).toEqual([]);
});

/** Whether the strip of the practice hides a part of what it says, in any size and upright. */
async function hiddenInStrip(page: Page): Promise<readonly string[]> {
  const hidden: string[] = [];
  for (const size of [small, { width: 800, height: 1280 }, large]) {
    await page.setViewportSize(size);
    const strip = page.locator('.coach');
    if ((await strip.count()) === 0) continue;
    const [has, wants] = await strip.evaluate((one) => [one.clientHeight, one.scrollHeight]);
    if ((wants ?? 0) > (has ?? 0) + 1) hidden.push(`${size.width}: ${wants} of ${has} px`);
  }
  return hidden;
}

test('practice can be read, tapped and seen whole, and its strip hides nothing it says', async ({
  page,
}) => {
  test.setTimeout(600_000);
  await page.addInitScript({ path: 'node_modules/axe-core/axe.min.js' });
  await page.goto('/');
  await expect(coach(page).getByRole('listitem')).toHaveCount(3);
  const wrong = [...(await wrongOn(page))];
  const screens: string[] = [];
  await play(page, {
    say: (_, __, lies) => lies,
    isFound: true,
    look: async (screen) => {
      screens.push(screen);
      const found = [...(await wrongOn(page)), ...(await hiddenInStrip(page))];
      wrong.push(...found.map((one) => `${screen}, ${one}`));
    },
  });
  expect(screens.length).toBeGreaterThan(9);
  expect(wrong).toEqual([]);
});

test('a page that can keep nothing begins no case, and says so', async ({ page }) => {
  await page.addInitScript({ path: 'node_modules/axe-core/axe.min.js' });
  await page.addInitScript(() => {
    Object.defineProperty(globalThis, 'isSecureContext', { value: false });
  });
  await page.goto('/');
  await expect(heading(page, 'No case can be kept here')).toBeVisible();
  await expect(button(page, 'Start a case')).toHaveCount(0);
  expect(await wrongOn(page)).toEqual([]);
});

test('a fault of the program stops the recording and loses nothing', async ({ page }) => {
  await page.addInitScript({ path: 'node_modules/axe-core/axe.min.js' });
  await page.goto('/');
  await openTeachingCase(page);
  await page.evaluate(() => {
    TextEncoder.prototype.encode = () => {
      throw new Error('Something impossible');
    };
  });
  await press(page, 'Everyone stops: begin');
  await expect(heading(page, 'Recording has stopped')).toBeVisible();
  expect(await wrongOn(page)).toEqual([]);
  await press(page, 'Start again');
  await expect(page.getByRole('banner')).toContainText('TESTCASE, Ash');
  await press(page, 'Everyone stops: begin');
  await expect(stepNow(page)).toContainText('say your name');
});
