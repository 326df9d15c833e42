/** What the whole-case tests need of a browser, whatever protocol it speaks. */
import { type ChildProcess, spawn } from 'node:child_process';
import { on, once } from 'node:events';
import type { Readable } from 'node:stream';

export type Size = { readonly width: number; readonly height: number };

export type Driver = {
  readonly goTo: (address: string) => Promise<void>;
  readonly reload: () => Promise<void>;
  /** Runs the text of a function in the page with these arguments, and answers what it answered or promised. */
  readonly run: (source: string, ...args: readonly unknown[]) => Promise<unknown>;
  /** A press and a release of the main button there. Units: CSS pixels of the view. */
  readonly clickAt: (x: number, y: number) => Promise<void>;
  /** A key of the keyboard, by its character in WebDriver. */
  readonly key: (character: string) => Promise<void>;
  /** A picture of the view, PNG. */
  readonly picture: () => Promise<Buffer>;
  /** Ends all that was started for it. */
  readonly end: () => Promise<void>;
};

/** A command is answered within this, or the browser has stopped. Units: milliseconds. */
export const answersWithin = 60_000;

/** Starts a program. Throws: an error, where there is no such program. */
export async function started(program: string, words: readonly string[], env = {}) {
  const child = spawn(program, words, {
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, ...env },
  });
  await once(child, 'spawn');
  for (const stream of [child.stdout, child.stderr]) stream.setEncoding('utf8').resume(); // read, or it would wait
  return child;
}

/** What stands in the brackets of the pattern, once the program has said it. Throws: an error, if it never does. */
export async function saidBy(stream: Readable, pattern: RegExp): Promise<string> {
  const signal = AbortSignal.timeout(answersWithin);
  let said = '';
  for await (const [text] of on(stream, 'data', { signal, close: ['end'] })) {
    said += text;
    const [, found] = pattern.exec(said) ?? [];
    if (found !== undefined) return found;
  }
  throw new Error(`It did not start: ${said}`);
}

/** Ends a program that was started here. */
export async function ended(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  child.kill();
  await once(child, 'exit');
}

/** The value of a field of an answer, as text. */
export function textAt(value: unknown, name: string): string {
  const fields = new Map<string, unknown>(Object.entries(Object(value)));
  return String(fields.get(name) ?? '');
}

/** One touch there, as WebDriver and WebDriver BiDi both write it. Neither browser makes a click of a driven touch. */
export const click = (x: number, y: number) => ({
  type: 'pointer',
  id: 'finger',
  parameters: { pointerType: 'mouse' },
  actions: [
    { type: 'pointerMove', duration: 0, x: Math.round(x), y: Math.round(y) },
    { type: 'pointerDown', button: 0 },
    { type: 'pointerUp', button: 0 },
  ],
});

export const stroke = (value: string) => ({
  type: 'key',
  id: 'keyboard',
  actions: [
    { type: 'keyDown', value },
    { type: 'keyUp', value },
  ],
});
