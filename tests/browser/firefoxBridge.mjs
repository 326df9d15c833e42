#!/usr/bin/env node
/**
 * Stands between Playwright and Firefox, which talk WebDriver BiDi over a web socket on loopback. Playwright asks for
 * some emulation that a long-term release of Firefox does not know yet, and gives up. Here such a command is answered
 * with nothing done; everything else goes through as it is. Playwright starts this file as if it were the browser.
 */
import { spawn } from 'node:child_process';
import { WebSocket, WebSocketServer } from 'ws';

const browser = process.env.FIREFOX ?? '/usr/bin/firefox-esr';
const firefox = spawn(browser, process.argv.slice(2), { stdio: ['ignore', 'inherit', 'pipe'] });
for (const signal of ['SIGTERM', 'SIGINT', 'SIGHUP'])
  process.on(signal, () => firefox.kill(signal));
firefox.on('exit', (status) => process.exit(status ?? 1));

let said = '';
firefox.stderr.setEncoding('utf8').on('data', (text) => {
  said += text;
  const ready = /WebDriver BiDi listening on (ws:\/\/\S+)/.exec(said);
  if (ready && !server) server = serve(ready[1]);
  if (!ready) process.stderr.write(text);
});

let server;

function serve(address) {
  const own = new WebSocketServer({ host: '127.0.0.1', port: 0 });
  own.on('listening', () => {
    console.error(`WebDriver BiDi listening on ws://127.0.0.1:${own.address().port}`);
  });
  own.on('connection', (playwright) => join(playwright, new WebSocket(`${address}/session`)));
  return own;
}

function join(playwright, there) {
  const asked = new Map();
  const waiting = [];
  there.on('open', () => {
    for (const text of waiting.splice(0)) there.send(text);
  });
  playwright.on('message', (data) => {
    const text = data.toString();
    const { id, method } = JSON.parse(text);
    asked.set(id, method);
    if (there.readyState === WebSocket.OPEN) there.send(text);
    else waiting.push(text);
  });
  there.on('message', (data) => {
    const text = data.toString();
    const { id, error } = JSON.parse(text);
    const method = asked.get(id) ?? '';
    asked.delete(id);
    const isLeftOut = error === 'unknown command' && method.startsWith('emulation.');
    playwright.send(isLeftOut ? JSON.stringify({ type: 'success', id, result: {} }) : text);
  });
  playwright.on('close', () => there.close());
  there.on('close', () => playwright.close());
}
