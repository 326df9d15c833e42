/**
 * Stands in the place of Playwright where the whole-case tests are played in WebKit, which Playwright knows only in
 * a build of its own. What a test file makes of `test` when it is read is not used there.
 */
export { expect } from './expect.ts';

export const test = {
  extend: () => test,
  step: (_name: string, play: () => Promise<void>) => play(),
};
