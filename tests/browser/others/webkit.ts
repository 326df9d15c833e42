/**
 * WebKit by the W3C's WebDriver protocol (https://www.w3.org/TR/webdriver2/): the driver of WebKitGTK knows no other.
 * Nine of its commands are sent here as they are.
 */
import { once } from 'node:events';
import { createServer } from 'node:net';
import {
  answersWithin,
  click,
  type Driver,
  ended,
  type Size,
  saidBy,
  started,
  stroke,
  textAt,
} from './driver.ts';
import { webKitPath } from './found.ts';

/** Units: milliseconds. */
const driverStartsWithin = 10_000;

/** The bar of the small browser takes some of its window. Units: pixels. */
const barHeight = 38;

type Post = (path: string, body?: object) => Promise<unknown>;

/**
 * Starts a screen that nobody sees, the driver, and one window.
 *
 * Throws: an error that says which part did not start, or what the browser said of a command.
 */
export async function startWebKit(size: Size): Promise<Driver> {
  const { display, screen } = await startScreen(size);
  const { driver, address } = await startDriver(display);
  const opened = send('POST', `${address}/session`, {
    capabilities: {
      alwaysMatch: { 'webkitgtk:browserOptions': { binary: webKitPath(), args: ['--automation'] } },
    },
  });
  const end = async () => {
    const session = await opened.catch(() => undefined);
    const path = `${address}/session/${textAt(session, 'sessionId')}`;
    if (session) await send('DELETE', path).catch(() => {}); // it may be gone already
    await ended(driver);
    await ended(screen);
  };
  try {
    const session = `${address}/session/${textAt(await opened, 'sessionId')}`;
    const post: Post = (path, body = {}) => send('POST', `${session}/${path}`, body);
    await post('window/rect', { ...size, height: size.height + barHeight });
    const picture = async () =>
      Buffer.from(String(await send('GET', `${session}/screenshot`)), 'base64');
    return { ...actsBy(post), picture, end };
  } catch (fault) {
    await end();
    throw fault;
  }
}

const actsBy = (post: Post) => ({
  goTo: async (url: string) => void (await post('url', { url })),
  reload: async () => void (await post('refresh')),
  run: (source: string, ...args: readonly unknown[]) => run(post, source, args),
  clickAt: async (x: number, y: number) => void (await post('actions', { actions: [click(x, y)] })),
  key: async (value: string) => void (await post('actions', { actions: [stroke(value)] })),
});

async function startScreen({ width, height }: Size) {
  const size = `${width}x${height + 100}x24`;
  const words = ['-displayfd', '1', '-screen', '0', size, '-nolisten', 'tcp', '-noreset'];
  const screen = await started('Xvfb', words);
  return { display: `:${await saidBy(screen.stdout, /(\d+)\n/)}`, screen };
}

/** The driver chooses no free port by itself, so that one is looked for first. */
async function startDriver(display: string) {
  const port = await freePort();
  const env = { DISPLAY: display, GDK_BACKEND: 'x11', NO_AT_BRIDGE: '1' };
  const words = ['--host=127.0.0.1', `--port=${port}`];
  const driver = await started('WebKitWebDriver', words, env);
  const address = `http://127.0.0.1:${port}`;
  const until = performance.now() + driverStartsWithin;
  while (!(await isUp(address))) {
    if (performance.now() > until || driver.exitCode !== null)
      throw new Error('WebKitWebDriver did not start.');
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  return { driver, address };
}

const isUp = (address: string): Promise<boolean> =>
  fetch(`${address}/status`).then(
    ({ ok }) => ok,
    () => false,
  );

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  server.close();
  await once(server, 'close');
  if (address === null || typeof address === 'string') throw new Error('No port is free.');
  return address.port;
}

/** One command. Throws: what the driver said is wrong, in its own words. */
async function send(method: 'GET' | 'POST' | 'DELETE', address: string, body?: object) {
  const answer = await fetch(address, {
    method,
    headers: { 'content-type': 'application/json' },
    signal: AbortSignal.timeout(answersWithin),
    ...(body && { body: JSON.stringify(body) }),
  });
  const { value }: { readonly value: unknown } = JSON.parse(await answer.text());
  if (!answer.ok) throw new Error(`${textAt(value, 'error')}: ${textAt(value, 'message')}`);
  return value;
}

/** The protocol runs a body that gives its answer to its last argument; a fault is thrown here again. */
async function run(post: Post, source: string, args: readonly unknown[]): Promise<unknown> {
  const script = `
    const words = [...arguments];
    const answer = words.pop();
    Promise.resolve()
      .then(() => (${source})(...words))
      .then((value) => answer({ value }), (fault) => answer({ fault: String(fault) }));`;
  const answered = Object(await post('execute/async', { script, args }));
  if ('fault' in answered) throw new Error(String(answered.fault));
  return answered.value;
}
