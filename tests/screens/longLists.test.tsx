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

test('a mark that comes or goes out of sight is counted without measuring again', async () => {
  const places = vi
    .spyOn(HTMLElement.prototype, 'getBoundingClientRect')
    .mockImplementation(function place(this: HTMLElement) {
      const top = item * Number(this.dataset.item ?? 0);
      return new DOMRect(0, top, 100, this.dataset.item === undefined ? room : item);
    });
  const [marked, setMarked] = createSignal<readonly number[]>([0]);
  render(() => (
    <Scroller
      words={({ below, marked }) => ({
        up: 'Up',
        down: `${below} below, ${marked.length} of them`,
      })}
    >
      <For each={[0, 1, 2, 3, 4, 5]}>
        {(n) => <p data-item={n} data-marked={marked().includes(n) ? 'yes' : 'no'} />}
      </For>
    </Scroller>
  ));
  await screen.findByRole('button', { name: '4 below, 0 of them' });
  const asked = places.mock.calls.length;
  setMarked([1, 3, 5]);
  await screen.findByRole('button', { name: '4 below, 2 of them' });
  setMarked([5]);
  await screen.findByRole('button', { name: '4 below, 1 of them' });
  expect(places.mock.calls.length).toBe(asked);
});
