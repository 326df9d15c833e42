/**
 * Firefox by the W3C's WebDriver BiDi (https://www.w3.org/TR/webdriver-bidi/), which it speaks by itself over a web
 * socket on loopback. Seven of its commands are sent here as they are.
 */
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
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
import { firefoxPath } from './found.ts';

type Send = (method: string, params: object) => Promise<unknown>;

/** Nothing leaves the machine: what is not on loopback is asked of a port at which nobody listens. */
const settings = `
user_pref('network.proxy.type', 1);
user_pref('network.proxy.http', '127.0.0.1');
user_pref('network.proxy.http_port', 9);
user_pref('network.proxy.ssl', '127.0.0.1');
user_pref('network.proxy.ssl_port', 9);
`;

/**
 * Starts a Firefox that nobody sees, with a profile of its own.
 *
 * Throws: an error that says that it did not start, or what it said of a command.
 */
export async function startFirefox(size: Size): Promise<Driver> {
  const profile = mkdtempSync(join(tmpdir(), 'firefox-'));
  writeFileSync(join(profile, 'user.js'), settings);
  const words = ['--headless', '--no-remote', '--profile', profile, '--remote-debugging-port', '0'];
  const firefox = await started(firefoxPath, words);
  const end = async () => {
    await ended(firefox);
    rmSync(profile, { recursive: true, force: true });
  };
  try {
    const address = await saidBy(firefox.stderr, /WebDriver BiDi listening on (ws:\/\/\S+)/);
    const send = await connected(`${address}/session`);
    await send('session.new', { capabilities: {} });
    const { contexts } = Object(await send('browsingContext.getTree', {}));
    const context = textAt(contexts[0], 'context');
    await send('browsingContext.setViewport', { context, viewport: size });
    return { ...actsBy(send, context), end };
  } catch (fault) {
    await end();
    throw fault;
  }
}

const actsBy = (send: Send, context: string) => {
  const perform = async (acts: object) =>
    void (await send('input.performActions', { context, actions: [acts] }));
  return {
    goTo: async (url: string) =>
      void (await send('browsingContext.navigate', { context, url, wait: 'complete' })),
    reload: async () => void (await send('browsingContext.reload', { context, wait: 'complete' })),
    run: (source: string, ...args: readonly unknown[]) => run(send, context, source, args),
    clickAt: (x: number, y: number) => perform(click(x, y)),
    key: (value: string) => perform(stroke(value)),
    picture: async () => {
      const taken = await send('browsingContext.captureScreenshot', { context });
      return Buffer.from(textAt(taken, 'data'), 'base64');
    },
  };
};

async function connected(address: string): Promise<Send> {
  const socket = new WebSocket(address);
  await once(socket, 'open', { signal: AbortSignal.timeout(answersWithin) });
  const waiting = new Map<number, (answer: unknown) => void>();
  socket.addEventListener('message', ({ data }) => {
    const answer: unknown = JSON.parse(String(data));
    waiting.get(Number(textAt(answer, 'id')))?.(answer);
  });
  let last = 0;
  return async (method, params) => {
    last += 1;
    const id = last;
    const answered = new Promise<unknown>((resolve) => waiting.set(id, resolve));
    const late = AbortSignal.timeout(answersWithin);
    socket.send(JSON.stringify({ id, method, params }));
    const answer = await Promise.race([answered, once(late, 'abort')]);
    waiting.delete(id);
    if (late.aborted) throw new Error(`${method} was not answered.`);
    if (textAt(answer, 'type') === 'error')
      throw new Error(`${textAt(answer, 'error')}: ${textAt(answer, 'message')}`);
    return Object(answer).result;
  };
}

/** Values go as JSON: the protocol has a way of its own to write them, which nothing here needs. */
async function run(send: Send, context: string, source: string, args: readonly unknown[]) {
  const functionDeclaration = `async (words) =>
    JSON.stringify({ value: await (${source})(...JSON.parse(words)) })`;
  const answer = await send('script.callFunction', {
    target: { context },
    functionDeclaration,
    awaitPromise: true,
    arguments: [{ type: 'string', value: JSON.stringify(args) }],
  });
  const { type, result, exceptionDetails } = Object(answer);
  if (type !== 'success') throw new Error(textAt(exceptionDetails, 'text'));
  return JSON.parse(textAt(result, 'value')).value;
}
