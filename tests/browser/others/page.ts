/** The page and its parts as the tests of a whole case use them, on top of a driver that knows none of it. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Driver } from './driver.ts';
import { makeParts, type Parts, type Spot, type Step, type Words } from './inPage.ts';

/** How long a part may take to be there, and to be free for a finger. Units: milliseconds. */
export const within = 15_000;

const pause = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));

/** Asks again until the answer is right; answers the last one. */
export async function until<T>(
  ask: () => Promise<T>,
  isRight: (answer: T) => boolean,
  ms = within,
): Promise<T> {
  const end = performance.now() + ms;
  for (let wait = 10; ; wait = Math.min(wait * 2, 100)) {
    const answer = await ask();
    if (isRight(answer) || performance.now() > end) return answer;
    await pause(wait);
  }
}

const wordsOf = (words: string | RegExp): Words =>
  typeof words === 'string' ? { text: words } : { source: words.source, flags: words.flags };

type Named = { readonly name?: string | RegExp; readonly exact?: boolean };

/** From where parts are looked for. */
class Place {
  protected readonly driver: Driver;
  readonly steps: readonly Step[];

  constructor(driver: Driver, steps: readonly Step[] = []) {
    this.driver = driver;
    this.steps = steps;
  }

  protected inside(step: Step): Part {
    return new Part(this.driver, [...this.steps, step]);
  }

  getByRole(role: string, { name, exact = false }: Named = {}): Part {
    return this.inside({ by: 'role', role, exact, ...(name && { name: wordsOf(name) }) });
  }

  getByText(words: string | RegExp, { exact = false } = {}): Part {
    return this.inside({ by: 'text', words: wordsOf(words), exact });
  }

  locator(selector: string, { hasText }: { readonly hasText?: string | RegExp } = {}): Part {
    const words = hasText === undefined ? {} : { hasText: wordsOf(hasText) };
    return this.inside({ by: 'css', selector, ...words });
  }
}

/** A part of the page: how it is found. It is looked for anew each time. */
export class Part extends Place {
  filter({ hasText }: { readonly hasText: string | RegExp }): Part {
    return this.inside({ by: 'filter', hasText: wordsOf(hasText) });
  }

  first(): Part {
    return this.inside({ by: 'nth', n: 0 });
  }

  async all(): Promise<readonly Part[]> {
    const { count } = await this.say();
    return Array.from({ length: count }, (_, n) => this.inside({ by: 'nth', n }));
  }

  /** One call of what runs inside the page. */
  private ask<K extends keyof Parts>(
    what: K,
    ...args: readonly unknown[]
  ): Promise<Awaited<ReturnType<Parts[K]>>> {
    const source = `(what, ...words) => window.partsOfPage[what](...words)`;
    // The driver answers what `makeParts` made in the page, through JSON.
    return this.driver.run(source, what, ...args) as Promise<Awaited<ReturnType<Parts[K]>>>;
  }

  say = () => this.ask('say', this.steps);

  async #there(): Promise<void> {
    const { count } = await until(this.say, (said) => said.count > 0);
    if (count === 0) throw new Error(`Nothing is found by ${this}.`);
  }

  count = async (): Promise<number> => (await this.say()).count;

  isVisible = async (): Promise<boolean> => (await this.say()).isVisible;

  async textContent(): Promise<string | null> {
    await this.#there();
    return (await this.say()).text;
  }

  async getAttribute(name: string): Promise<string | null> {
    await this.#there();
    return (await this.say()).attributes[name] ?? null;
  }

  ariaSnapshot = (): Promise<string> => this.ask('spoken', this.steps);

  /** One touch in the middle, as soon as it is there, at rest and free. */
  async tap(): Promise<void> {
    const look = (): Promise<Spot> => this.ask('spotOf', this.steps);
    const spot = await until(look, (answer) => 'x' in answer);
    if ('waits' in spot) throw new Error(`${this} cannot be tapped. ${spot.waits}`);
    await this.driver.clickAt(spot.x, spot.y);
  }

  async fill(words: string): Promise<void> {
    await this.#there();
    const wrong = await this.ask('fill', this.steps, words);
    if (wrong) throw new Error(`${this}: ${wrong}`);
  }

  /** A key of the keyboard, in the field that has the focus. */
  async press(key: string): Promise<void> {
    if (key !== 'Enter') throw new Error(`Only Enter is known, not ${key}.`);
    await this.driver.key('\uE007'); // Enter, in the protocol
  }

  async evaluate(inPage: (element: Element) => unknown): Promise<unknown> {
    await this.#there();
    const source = `(steps) => (${inPage})(window.partsOfPage.one(steps))`;
    return this.driver.run(source, this.steps);
  }

  override toString(): string {
    return JSON.stringify(this.steps);
  }
}

const queries = readFileSync(
  createRequire(import.meta.url)
    .resolve('@testing-library/dom')
    .replace(/index\.js$/, '@testing-library/dom.umd.min.js'),
  'utf8',
);

/** The whole page. */
export class WholePage extends Place {
  readonly clock = {
    setSystemTime: (time: string): Promise<void> => this.#setTime(time, 'goes on'),
    setFixedTime: (time: string): Promise<void> => this.#setTime(time, 'stands'),
  };

  async goto(address: string): Promise<void> {
    await this.driver.goTo(address);
    await this.#moveIn();
  }

  async reload(): Promise<void> {
    await this.driver.reload();
    await this.#moveIn();
  }

  /** The library, and what is made of it; and faults of the page are heard. A new page has none of them. */
  async #moveIn(): Promise<void> {
    await this.driver.run(`() => {
      window.faults = [];
      const hear = ({ type, message, reason, blockedURI }) =>
        window.faults.push(type + ': ' + (message ?? reason ?? blockedURI));
      for (const type of ['error', 'unhandledrejection', 'securitypolicyviolation'])
        addEventListener(type, hear);
    }`);
    await this.driver.run(`() => { ${queries}; }`);
    await this.driver.run(`() => {
      window.partsOfPage = (${makeParts})(window.TestingLibraryDom);
    }`);
  }

  /** From now on the page takes it to be that time. Both its clocks jump, so that none was set against the other. */
  async #setTime(time: string, how: 'goes on' | 'stands'): Promise<void> {
    const source = `(at, how) => {
      const { date: Real, steadyMs } = (window.clocksOfDevice ??= {
        date: Date,
        steadyMs: performance.now.bind(performance),
      });
      const aheadMs = at - Real.now();
      const now = how === 'stands' ? () => at : () => Real.now() + aheadMs;
      performance.now = () => steadyMs() + aheadMs;
      window.Date = class extends Real {
        constructor(...words) {
          if (words.length === 0) super(now());
          else super(...words);
        }
        static now() {
          return now();
        }
      };
    }`;
    await this.driver.run(source, Date.parse(time), how);
  }

  /** What the page asked of another origin, and its faults. Both must stay empty. */
  async wrong(): Promise<unknown> {
    return this.driver.run(`() => [
      ...window.faults,
      ...performance
        .getEntriesByType('resource')
        .map(({ name }) => name)
        .filter((address) => /^(https?|wss?):/.test(address) && !address.startsWith(location.origin)),
    ]`);
  }

  waitForTimeout = pause;

  async evaluate(inPage: ((value?: unknown) => unknown) | string, value?: unknown) {
    return this.driver.run(typeof inPage === 'string' ? `() => ${inPage}` : `${inPage}`, value);
  }
}
