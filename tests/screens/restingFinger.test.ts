import { expect, test } from 'vitest';
import { ignoreRestingFingers } from '#screens/restingFinger.ts';

/** A page with one button, and how often it was pressed. */
function page() {
  const outer = document.createElement('div');
  const button = document.createElement('button');
  outer.append(button);
  document.body.append(outer);
  ignoreRestingFingers(outer);
  let presses = 0;
  button.addEventListener('click', () => {
    presses += 1;
  });
  const at = (event: Event, ms: number) => {
    Object.defineProperty(event, 'timeStamp', { value: ms });
    button.dispatchEvent(event);
  };
  return {
    presses: () => presses,
    touch: (pointerType: string, from: number, to: number) => {
      at(new PointerEvent('pointerdown', { bubbles: true, pointerType }), from);
      at(new PointerEvent('pointerup', { bubbles: true, pointerType }), to);
    },
    click: (ms: number) => at(new MouseEvent('click', { bubbles: true, cancelable: true }), ms),
  };
}

test('a tap is a press; a finger that rested is none, and the next tap is one again', () => {
  const { presses, touch, click } = page();
  touch('touch', 1000, 1400);
  click(1401);
  expect(presses()).toBe(1);
  touch('touch', 3000, 5200);
  click(5201);
  expect(presses()).toBe(1);
  touch('touch', 6000, 6100);
  click(6101);
  expect(presses()).toBe(2);
});

test('a mouse may take its time, and a key after a finger that rested is pressed', () => {
  const { presses, touch, click } = page();
  touch('mouse', 1000, 9000);
  click(9001);
  expect(presses()).toBe(1);
  touch('touch', 10_000, 13_000);
  click(20_000);
  expect(presses()).toBe(2);
});
