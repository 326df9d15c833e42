import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { watchBattery, watchClock } from '#session/browserDevice.ts';
import { keepAwake } from '#session/keepAwake.ts';

const given = (name: string, value: unknown): void => {
  Object.defineProperty(navigator, name, { value, configurable: true });
};

/** A battery as the browser gives it, which the test empties. */
class Battery extends EventTarget {
  charging = false;
  level = 1;
  to(level: number, charging = false): void {
    this.level = level;
    this.charging = charging;
    this.dispatchEvent(new Event('levelchange'));
    this.dispatchEvent(new Event('chargingchange'));
  }
}

/** The lock of a screen, and how often it was asked for. */
function screenLock() {
  const held: (EventTarget & { readonly released: () => number })[] = [];
  const request = async () => {
    let times = 0;
    const release = async () => {
      times += 1;
    };
    const lock = Object.assign(new EventTarget(), { release, released: () => times });
    held.push(lock);
    return lock;
  };
  return { held, wakeLock: { request } };
}

const settled = () => new Promise<void>((resolve) => setTimeout(resolve));

beforeEach(() => {
  vi.useRealTimers();
});
afterEach(() => {
  for (const name of ['getBattery', 'wakeLock']) Reflect.deleteProperty(navigator, name);
  vi.useRealTimers();
});

test('a low battery is said on the way down, and no more when it is charged', async () => {
  const battery = new Battery();
  given('getBattery', async () => battery);
  const said: (string | undefined)[] = [];
  await watchBattery((sentence) => said.push(sentence));
  for (const level of [0.5, 0.21, 0.2, 0.15, 0.1, 0.05]) battery.to(level);
  battery.to(0.05, true);
  expect(said).toEqual([
    'The battery is at 20 % or less. Connect the tablet to its charger.',
    'The battery is at 10 % or less. Connect the tablet to its charger.',
    'The battery is at 5 % or less. Connect the tablet to its charger.',
    undefined,
  ]);
});

test('nothing is said where the browser does not tell of a battery, or fails to', async () => {
  const said = vi.fn();
  await watchBattery(said);
  given('getBattery', async () => {
    throw new Error('not allowed');
  });
  await watchBattery(said);
  expect(said).not.toHaveBeenCalled();
});

test('a screen that cannot be kept awake is said once', async () => {
  const said: string[] = [];
  const awake = keepAwake((sentence) => said.push(sentence));
  awake.hold();
  await settled();
  awake.release();
  awake.hold();
  await settled();
  awake.release();
  expect(said).toEqual(['This tablet cannot be kept awake. Set its screen not to sleep.']);
});

test('a lock that the system took is asked for again when the page comes back to the front', async () => {
  const { held, wakeLock } = screenLock();
  given('wakeLock', wakeLock);
  const awake = keepAwake(() => undefined);
  awake.hold();
  await settled();
  expect(held).toHaveLength(1);
  held[0]?.dispatchEvent(new Event('release'));
  document.dispatchEvent(new Event('visibilitychange'));
  await settled();
  expect(held).toHaveLength(2);
  awake.release();
  document.dispatchEvent(new Event('visibilitychange'));
  await settled();
  expect(held).toHaveLength(2);
});

test('a case that is left while the browser thinks keeps no screen awake', async () => {
  const { held, wakeLock } = screenLock();
  given('wakeLock', wakeLock);
  const awake = keepAwake(() => undefined);
  awake.hold();
  awake.hold();
  awake.release();
  await settled();
  expect(held.map(({ released }) => released())).toEqual([1]);
});

test('a clock that was set back is said at once; one that was put right or went ahead is not', () => {
  vi.useFakeTimers({ toFake: ['Date', 'setInterval'] });
  vi.setSystemTime('2026-01-05T09:00:00Z');
  const said: string[] = [];
  watchClock((sentence) => said.push(sentence));
  for (const time of ['08:59', '10:01', '09:31', '09:32']) {
    vi.setSystemTime(`2026-01-05T${time}:00Z`);
    vi.advanceTimersByTime(5000);
  }
  expect(said).toEqual([
    'The clock of this tablet was set back by 30 min. Compare it with the clock of the room.',
  ]);
});
