import { join } from 'node:path';
import { defineConfig } from '@playwright/test';
import chromium from './playwright.config.ts';

/** The whole worked case again in Debian's Firefox, or the one that FIREFOX names. */
export default defineConfig({
  ...chromium,
  testMatch: ['wholeCase.firefox.ts', 'taps.e2e.ts'],
  outputDir: '../../test-results/firefox',
  use: {
    ...chromium.use,
    browserName: 'firefox',
    channel: 'moz-firefox',
    launchOptions: { executablePath: join(import.meta.dirname, 'firefoxBridge.mjs') },
  },
});
