import { cleanup, fireEvent, render, screen } from '@solidjs/testing-library';
import { createRoot, createSignal } from 'solid-js';
import { afterEach, expect, test, vi } from 'vitest';
import { CountLines, type CountLineView } from '#parts/CountLines.tsx';
import { createDigits } from '#parts/createDigits.ts';
import { Digits } from '#parts/Digits.tsx';

afterEach(cleanup);

/** Digits and what they gave, with taps a second apart unless said. */
function digitsUnderTest() {
  const given: number[] = [];
  const state = createRoot(() => createDigits((n) => given.push(n)));
  let atMs = 0;
  const tap = (digit: number, afterMs = 1000) => {
    atMs += afterMs;
    state.press(digit, atMs);
  };
  const labels = () => state.keys().map((key) => key.label);
  return { ...state, given, tap, labels };
}

test('one tap is a number from 0 to 9', () => {
  const { given, tap } = digitsUnderTest();
  for (let digit = 0; digit <= 9; digit += 1) tap(digit);
  expect(given).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
});

test('44 pieces of a tray are three taps, each on a key that says what it means', () => {
  const { given, tap, lengthen, labels, begun } = digitsUnderTest();
  lengthen();
  expect(labels().slice(1)).toEqual(['10', '20', '30', '40', '50', '60', '70', '80', '90']);
  tap(4);
  expect(labels()).toEqual(['40', '41', '42', '43', '44', '45', '46', '47', '48', '49']);
  expect(begun()).toBe('4–');
  expect(given).toEqual([]);
  tap(4);
  expect(given).toEqual([44]);
  expect(begun()).toBe('');
  expect(labels()[0]).toBe('0');
});

test('every number from 10 to 999 can be entered and comes out as itself', () => {
  const { given, tap, lengthen } = digitsUnderTest();
  const all: number[] = [];
  for (let n = 10; n <= 999; n += 1) {
    all.push(n);
    lengthen();
    if (n > 99) lengthen();
    for (const digit of `${n}`) tap(Number(digit));
  }
  expect(given).toEqual(all);
});

test('a longer number does not begin with 0', () => {
  const { given, tap, lengthen, keys, begun } = digitsUnderTest();
  lengthen();
  expect(keys()[0]?.isOff).toBe(true);
  tap(0);
  expect(begun()).toBe('––');
  tap(1);
  expect(keys()[0]?.isOff).toBe(false);
  tap(0);
  expect(given).toEqual([10]);
});

test('the key for longer numbers goes round: tens, hundreds, single digits', () => {
  const { longer, lengthen, labels, begun } = digitsUnderTest();
  expect(longer()).toBe('10+');
  lengthen();
  expect(longer()).toBe('100+');
  lengthen();
  expect(longer()).toBe('0–9');
  expect(labels()[3]).toBe('300');
  expect(begun()).toBe('–––');
  lengthen();
  expect(begun()).toBe('');
});

test('a bounce of the same key within 200 ms is one tap', () => {
  const { given, tap } = digitsUnderTest();
  tap(1);
  tap(1, 199);
  expect(given).toEqual([1]);
  tap(1, 201);
  expect(given).toEqual([1, 1]);
  tap(2, 50);
  expect(given).toEqual([1, 1, 2]);
});

function renderDigits(canGoBack = true) {
  const onNumber = vi.fn();
  const onBack = vi.fn();
  const onBegun = vi.fn();
  render(() => <Digits {...{ onNumber, onBack, onBegun, canGoBack }} />);
  return { onNumber, onBack, onBegun };
}

test('ten keys, one for longer numbers and one to go back', () => {
  const { onNumber, onBack, onBegun } = renderDigits();
  expect(screen.getAllByRole('button').map((key) => key.textContent)).toEqual([
    ...'0123456789',
    'Numbers 10+',
    'Back',
  ]);
  fireEvent.click(screen.getByRole('button', { name: '7' }));
  expect(onNumber).toHaveBeenCalledExactlyOnceWith(7);
  fireEvent.click(screen.getByRole('button', { name: 'Numbers 10+' }));
  fireEvent.click(screen.getByRole('button', { name: '20' }));
  expect(onBegun).toHaveBeenLastCalledWith('2–');
  fireEvent.click(screen.getByRole('button', { name: 'Back' }));
  expect(onBegun).toHaveBeenLastCalledWith('');
  expect(onBack).not.toHaveBeenCalled();
  fireEvent.click(screen.getByRole('button', { name: 'Back' }));
  expect(onBack).toHaveBeenCalledOnce();
});

test('there is no way back from the first line', () => {
  const { onBack } = renderDigits(false);
  const back = screen.getByRole('button', { name: 'Back' });
  expect(back.getAttribute('aria-disabled')).toBe('true');
  fireEvent.click(back);
  fireEvent.keyDown(window, { key: 'Backspace' });
  expect(onBack).not.toHaveBeenCalled();
});

test('a keyboard does the same, but not while somebody writes or a sheet is open', () => {
  const { onNumber, onBack } = renderDigits();
  fireEvent.keyDown(window, { key: '3' });
  fireEvent.keyDown(window, { key: '+' });
  fireEvent.keyDown(window, { key: '1' });
  fireEvent.keyDown(window, { key: '2' });
  fireEvent.keyDown(window, { key: 'Backspace' });
  fireEvent.keyDown(window, { key: '4', ctrlKey: true });
  fireEvent.keyDown(window, { key: '4', repeat: true });
  expect(onNumber.mock.calls).toEqual([[3], [12]]);
  expect(onBack).toHaveBeenCalledOnce();

  const field = document.body.appendChild(document.createElement('input'));
  fireEvent.keyDown(field, { key: '5', bubbles: true });
  field.remove();
  const sheet = document.body.appendChild(document.createElement('dialog'));
  sheet.setAttribute('open', '');
  fireEvent.keyDown(window, { key: '5' });
  sheet.remove();
  expect(onNumber).toHaveBeenCalledTimes(2);
});

test('the keyboard is let go with the digits', () => {
  const onNumber = vi.fn();
  const { unmount } = render(() => <Digits onNumber={onNumber} onBack={() => {}} canGoBack />);
  unmount();
  fireEvent.keyDown(window, { key: '5' });
  expect(onNumber).not.toHaveBeenCalled();
});

const lines: readonly CountLineView[] = [
  { id: 'swab', name: 'Swab', entered: 10 },
  { id: 'seal', name: 'Seal' },
  { id: 'bag', name: 'Bag' },
];
const parts = [
  { id: 'field', label: 'Field and table', state: 'done' },
  { id: 'off', label: 'Off the field', state: 'here' },
] as const;

test('the line of the moment is marked, those before show what was said', () => {
  const [currentId, setCurrent] = createSignal<string | undefined>('seal');
  const [begun, setBegun] = createSignal('');
  const opened = vi.fn();
  render(() => (
    <CountLines
      title="Closing count"
      {...{ parts, lines }}
      currentId={currentId()}
      begun={begun()}
      progress="Line 2 of 3"
      onOpen={opened}
    />
  ));
  const now = () => document.querySelector('.count-line[aria-current="true"]');
  expect(now()?.textContent).toBe('Seal–');
  setBegun('4–');
  expect(now()?.textContent).toBe('Seal4–');
  fireEvent.click(screen.getByRole('button', { name: /Swab/ }));
  expect(opened).toHaveBeenCalledExactlyOnceWith('swab');
  expect(screen.queryByRole('button', { name: /Bag/ })).toBeNull();
  expect(screen.getByText(/Off the field/).getAttribute('aria-current')).toBe('step');
  setCurrent(undefined);
  expect(now()).toBeNull();
});

test('the next line is announced, and a line keeps its element', () => {
  const [rows, setRows] = createSignal(lines);
  const [currentId, setCurrent] = createSignal('seal');
  const { container } = render(() => (
    <CountLines
      title="First count"
      parts={parts}
      lines={rows()}
      currentId={currentId()}
      progress=""
    />
  ));
  const seal = container.querySelector('[data-line="seal"]');
  setRows(lines.map((line) => (line.id === 'seal' ? { ...line, entered: 2 } : { ...line })));
  setCurrent('bag');
  expect(container.querySelector('[data-line="seal"]')).toBe(seal);
  expect(seal?.textContent).toBe('Seal2');
  expect(container.querySelector('[aria-live]')?.textContent).toBe('Bag');
});
