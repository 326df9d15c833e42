import { readFileSync } from 'node:fs';
import { cleanup, fireEvent, render, screen } from '@solidjs/testing-library';
import { createSignal } from 'solid-js';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { PinPad } from '#parts/PinPad.tsx';

beforeEach(() => void vi.useFakeTimers({ toFake: ['performance', 'Date'] }));
afterEach(() => {
  cleanup();
  vi.useRealTimers();
});

/** One tap, a while after the one before. Units: milliseconds. */
function tap(name: string, afterMs = 300): void {
  vi.advanceTimersByTime(afterMs);
  const event = new MouseEvent('click', { bubbles: true });
  Object.defineProperty(event, 'timeStamp', { value: performance.now() });
  fireEvent(screen.getByRole('button', { name }), event);
}

const dots = () => document.querySelectorAll('.pin-dots > [data-on="yes"]').length;

test('The last digit of a known PIN sends it, and nothing of it stays on the screen', () => {
  const given: string[] = [];
  render(() => <PinPad label="PIN of Testa" digits={4} onPin={(pin) => given.push(pin)} />);
  for (const digit of '471') tap(digit);
  expect([given, dots()]).toEqual([[], 3]);
  expect(document.body.textContent).not.toContain('471');
  tap('6');
  expect([given, dots()]).toEqual([['4716'], 0]);
});

test('A glove that bounces taps once; the same digit twice is two taps a while apart', () => {
  const given: string[] = [];
  render(() => <PinPad label="PIN" digits={4} onPin={(pin) => given.push(pin)} />);
  tap('4');
  tap('4', 40);
  tap('4', 200);
  tap('7');
  tap('1');
  expect(given).toEqual(['4471']);
});

test('A new PIN is taken with a key, from its fourth digit on; a digit is rubbed out', () => {
  const given: string[] = [];
  render(() => <PinPad label="PIN" onPin={(pin) => given.push(pin)} />);
  for (const digit of '471') tap(digit);
  tap('Take it');
  expect(given).toEqual([]);
  tap('Rub out');
  for (const digit of '16') tap(digit);
  tap('Take it');
  expect(given).toEqual(['4716']);
});

test('While a PIN is looked at nothing is typed; why it was not taken is said', () => {
  const [isBusy, setBusy] = createSignal(true);
  const given: string[] = [];
  render(() => (
    <PinPad
      label="PIN"
      digits={4}
      isBusy={isBusy()}
      said="That is not the PIN of Testa."
      onPin={(pin) => given.push(pin)}
    />
  ));
  for (const digit of '4716') tap(digit);
  expect([given, dots()]).toEqual([[], 0]);
  setBusy(false);
  expect(screen.getByText('That is not the PIN of Testa.')).toBeDefined();
});

test('Digits also come from a keyboard', () => {
  const given: string[] = [];
  render(() => <PinPad label="PIN" digits={4} onPin={(pin) => given.push(pin)} />);
  for (const key of ['4', '7', 'x', '9', 'Backspace', '1', '6']) {
    vi.advanceTimersByTime(300);
    fireEvent.keyDown(window, { key });
  }
  expect(given).toEqual(['4716']);
});

test('Its keys are 112 px for a gloved finger', () => {
  const css = readFileSync('src/parts/PinPad.css', 'utf8');
  expect(css).toMatch(/\.pin-key \{\s*block-size: 112px;/);
  expect(css.match(/grid-template-columns: repeat\(\d, 112px\)/g)).toHaveLength(2);
});
