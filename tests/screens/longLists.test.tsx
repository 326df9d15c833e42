/** A list longer than its room has keys below it. They come and go with it, never a frame later. */
import { cleanup, render, screen } from '@solidjs/testing-library';
import { createSignal, For } from 'solid-js';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { Scroller } from '#parts/Scroller.tsx';

/** Units: pixels, of the room and of each item. */
const room = 250;
const item = 100;

beforeEach(() => {
  const elements = HTMLElement.prototype;
  vi.spyOn(elements, 'clientHeight', 'get').mockReturnValue(room);
  vi.spyOn(elements, 'scrollHeight', 'get').mockImplementation(function height(this: HTMLElement) {
    return this.childElementCount * item;
  });
});

afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

const isKeyed = () => screen.queryByRole('group', { name: 'Pages' }) !== null;

test('the keys of a list go and come before the next frame is drawn', async () => {
  const frames: FrameRequestCallback[] = [];
  vi.spyOn(window, 'requestAnimationFrame').mockImplementation((frame) => frames.push(frame));
  const [items, setItems] = createSignal([1, 2, 3, 4, 5, 6]);
  render(() => (
    <Scroller>
      <For each={items()}>{(n) => <p>{n}</p>}</For>
    </Scroller>
  ));
  for (const frame of frames.splice(0)) frame(0);
  expect(isKeyed()).toBe(true);
  setItems([1]);
  await Promise.resolve();
  expect(isKeyed()).toBe(false);
  setItems([1, 2, 3, 4, 5, 6, 7]);
  await Promise.resolve();
  expect(isKeyed()).toBe(true);
});
