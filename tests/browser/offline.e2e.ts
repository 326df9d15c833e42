import {
  cpSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { createServer, type Server } from 'node:http';
import { tmpdir } from 'node:os';
import { extname, join } from 'node:path';
import { expect, type Page, test } from '@playwright/test';
import { openTeachingCase, patient } from './teachingCase.ts';
import { button, press, starting, untilOffline } from './theatre.ts';

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.webmanifest': 'application/manifest+json',
};

/** A copy of the build in a folder of its own, served on loopback, that a test may change or stop. */
async function serveCopy() {
  const folder = mkdtempSync(join(tmpdir(), 'lastlook-'));
  cpSync('dist', folder, { recursive: true });
  const server = createServer((request, response) => {
    const path = new URL(request.url ?? '/', 'http://127.0.0.1').pathname;
    const file = join(folder, path === '/' ? 'index.html' : path);
    if (!existsSync(file)) return void response.writeHead(404).end();
    response.writeHead(200, { 'content-type': types[extname(file)] ?? 'application/octet-stream' });
    response.end(readFileSync(file));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('The server has no port.');
  const remove = () => rmSync(folder, { recursive: true, force: true });
  return { folder, server, origin: `http://127.0.0.1:${address.port}`, remove };
}

async function stop(server: Server): Promise<void> {
  server.closeAllConnections();
  await new Promise<void>((resolve) => server.close(() => resolve()));
}

/** A part of the program that is fetched only when it is opened, which none of these tests does. */
function laterPart(folder: string): string {
  const name = readdirSync(join(folder, 'assets')).find((file) => /^DebriefScreen.*js$/.test(file));
  if (!name) throw new Error('The build has no part of its own for the debrief.');
  return `/assets/${name}`;
}

/** Makes the served copy another version: another title, another worker, and one part less. */
function deployNewVersion(folder: string): void {
  const page = join(folder, 'index.html');
  writeFileSync(page, readFileSync(page, 'utf8').replace('<title>Lastlook<', '<title>Newer<'));
  const part = laterPart(folder);
  rmSync(join(folder, part));
  const worker = join(folder, 'sw.js');
  const text = readFileSync(worker, 'utf8');
  const listed = `\\"${part}\\",`;
  if (!text.includes(listed)) throw new Error(`The worker does not list ${part}.`);
  writeFileSync(
    worker,
    text.replace(/const VERSION = '\w+'/, "const VERSION = 'newer'").replace(listed, ''),
  );
}

const fetchNewVersion = (page: Page) =>
  page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    await registration.update();
    await new Promise<void>((resolve) => {
      const look = () => (registration.waiting ? resolve() : void setTimeout(look, 20));
      look();
    });
  });

const askForNewVersion = (page: Page) =>
  page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    const { port1, port2 } = new MessageChannel();
    const answer = new Promise<unknown>((resolve) => {
      port1.onmessage = (event) => resolve(event.data);
    });
    (registration.waiting ?? registration.active)?.postMessage('use-this-version', [port2]);
    return answer;
  });

test('the program starts again with the network cut and the server gone', async ({
  page,
  context,
}) => {
  const copy = await serveCopy();
  await page.goto(copy.origin);
  await untilOffline(page);
  await context.setOffline(true);
  await page.reload();
  await expect(page.locator('#root > *').first()).toBeVisible();

  await context.setOffline(false);
  await stop(copy.server);
  const tab = await context.newPage();
  await tab.goto(copy.origin);
  await expect(tab.locator('#root > *').first()).toBeVisible();
  copy.remove();
});

/** A case is open, and a newer version is on the tablet beside the one in use. */
async function newVersionInACase(page: Page, copy: Awaited<ReturnType<typeof serveCopy>>) {
  await page.goto(copy.origin);
  await untilOffline(page);
  await openTeachingCase(page);
  deployNewVersion(copy.folder);
  await fetchNewVersion(page);
}

test('a new version waits while a case is open, and is taken at the first screen', async ({
  page,
}) => {
  const copy = await serveCopy();
  await newVersionInACase(page, copy);
  await page.reload();
  await expect(page.getByRole('banner')).toContainText(patient.name);
  await expect(page).toHaveTitle('Lastlook');

  await press(page.getByRole('navigation', { name: 'Stations of the case' }), starting('Record'));
  await press(page, 'All cases');
  await expect(button(page, starting(patient.name))).toBeVisible();
  await expect(page).toHaveTitle('Lastlook');
  await page.reload();
  await expect(page).toHaveTitle('Newer');
  await expect(button(page, starting(patient.name))).toBeVisible();
  expect(await askForNewVersion(page)).toEqual({ changed: false });
  await stop(copy.server);
  copy.remove();
});

test('a new version waits although every page was closed in between', async ({ page, context }) => {
  const copy = await serveCopy();
  await newVersionInACase(page, copy);
  await page.close();

  const again = await context.newPage();
  // The browser gives up the old worker a moment after its last page; a page that comes sooner keeps it, and the test
  // would wait for what then cannot happen.
  await again.waitForTimeout(1500);
  await again.goto(copy.origin);
  await expect
    .poll(() => again.evaluate(async () => (await navigator.serviceWorker.ready).waiting))
    .toBeNull();
  await again.reload();
  await expect(again.getByRole('banner')).toContainText(patient.name);
  await expect(again).toHaveTitle('Lastlook');

  await again.goto(`${copy.origin}/?newest`);
  await expect(again).toHaveTitle('Newer');
  await stop(copy.server);
  copy.remove();
});

test('a window on the old version keeps its parts until it is closed', async ({
  page,
  context,
}) => {
  const copy = await serveCopy();
  const part = laterPart(copy.folder);
  const isThere = (window: Page) => window.evaluate(async (it) => (await fetch(it)).ok, part);
  await newVersionInACase(page, copy);

  const other = await context.newPage();
  expect(await askForNewVersion(page)).toEqual({ changed: true });
  await other.goto(copy.origin);
  await expect(other).toHaveTitle('Newer');
  expect(await askForNewVersion(other)).toEqual({ changed: false });
  expect(await isThere(page)).toBe(true);

  await page.close();
  expect(await askForNewVersion(other)).toEqual({ changed: false });
  await expect.poll(() => isThere(other)).toBe(false);
  await stop(copy.server);
  copy.remove();
});

test('the page may load nothing but its own files', async ({ page, baseURL }) => {
  const problems: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') problems.push(message.text());
  });
  const asked: string[] = [];
  page.on('request', (request) => asked.push(new URL(request.url()).origin));
  await page.goto('/');
  await expect(page.locator('#root > *').first()).toBeVisible();
  expect(problems).toEqual([]);
  expect(new Set(asked)).toEqual(new Set([baseURL]));

  const outside = await page.evaluate(() =>
    fetch('http://127.0.0.1:9/').then(
      () => 'allowed',
      () => 'refused',
    ),
  );
  expect(outside).toBe('refused');
  expect(problems.join(' ')).toContain('Content Security Policy');
});

test('the page makes no markup and no script from text that is not its own', async ({ page }) => {
  await page.goto('/');
  await expect(page.locator('#root > *').first()).toBeVisible();
  const tried = await page.evaluate(() => {
    const attempt = (work: () => unknown): string => {
      try {
        work();
        return 'allowed';
      } catch {
        return 'refused';
      }
    };
    const part = document.createElement('div');
    const types: { createPolicy?: (name: string, rules: object) => unknown } = Reflect.get(
      window,
      'trustedTypes',
    );
    return {
      handler: attempt(() => {
        part.innerHTML = '<img src="x" onerror="document.title = 1">';
      }),
      frame: attempt(() => {
        part.innerHTML = '<iframe srcdoc="x"></iframe>';
      }),
      policy: attempt(() => types.createPolicy?.('other', {})),
      worker: attempt(() => new Worker('blob:x')),
      run: attempt(() => {
        const script = document.createElement('script');
        script.textContent = 'document.title = 2';
        document.body.append(script);
      }),
      left: part.childElementCount,
    };
  });
  expect(tried).toMatchObject({ handler: 'refused', frame: 'refused', policy: 'refused', left: 0 });
  expect(tried).toMatchObject({ worker: 'refused', run: 'refused' });
  await expect(page).toHaveTitle('Lastlook');
});
