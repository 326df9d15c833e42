import { afterEach, describe, expect, test, vi } from 'vitest';
import { keepTexts } from '#journal/keptTexts.ts';

const text = (n: number) =>
  JSON.stringify({ n, text: `Müller 縫合 \u2028 \n ${'x'.repeat(n % 7)}` });
const texts = (count: number, from = 1) => Array.from({ length: count }, (_, n) => text(from + n));

/** Whatever is unpacked comes out as something else. */
class Garbling extends TransformStream<Uint8Array, Uint8Array> {
  constructor() {
    super({ transform: (_, controller) => controller.enqueue(new TextEncoder().encode('{}')) });
  }
}

afterEach(() => vi.unstubAllGlobals());

describe('Texts that are kept', () => {
  test('are given back as they were, those that were read first', async () => {
    const kept = keepTexts(texts(3));
    for (const added of texts(1000, 4)) {
      kept.push(added);
      // Time for some to be packed, and for some to come while others are.
      if (kept.count() % 10 === 0) await new Promise((resolve) => setTimeout(resolve, 0));
    }
    expect(kept.count()).toBe(1003);
    expect(await kept.all()).toEqual(texts(1003));
    expect(await kept.at(0)).toBe(text(1));
    expect(await kept.at(70)).toBe(text(71));
    expect(await kept.at(1002)).toBe(text(1003));
    expect(await kept.at(1003)).toBeUndefined();
  });

  test('are whole at every moment while they are packed', async () => {
    const kept = keepTexts([]);
    const seen: Promise<readonly string[]>[] = [];
    for (const added of texts(300)) {
      kept.push(added);
      seen.push(kept.all());
      await Promise.resolve();
    }
    for (const [index, one] of (await Promise.all(seen)).entries())
      expect(one).toEqual(texts(index + 1));
  });

  test('are packed: all but the newest are unpacked when they are asked for', async () => {
    const opened = vi.fn();
    const Unpacking = DecompressionStream;
    vi.stubGlobal(
      'DecompressionStream',
      class extends Unpacking {
        constructor(format: CompressionFormat) {
          super(format);
          opened();
        }
      },
    );
    const kept = keepTexts([]);
    for (const added of texts(640)) kept.push(added);
    await vi.waitFor(async () => {
      opened.mockClear();
      expect(await kept.all()).toEqual(texts(640));
      expect(opened).toHaveBeenCalledTimes(9);
    }, 10_000);
  });

  test.each([
    ['that cannot pack', 'CompressionStream', undefined],
    ['in which nothing comes out as it went in', 'DecompressionStream', Garbling],
  ])('stay as they are in a browser %s', async (_, name, instead) => {
    vi.stubGlobal(name, instead);
    const kept = keepTexts([]);
    for (const added of texts(300)) {
      kept.push(added);
      await new Promise((resolve) => setTimeout(resolve, 0));
    }
    expect(await kept.all()).toEqual(texts(300));
  });
});
