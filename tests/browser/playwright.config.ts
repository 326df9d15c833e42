import { defineConfig } from '@playwright/test';
import { launchOptions } from './launch.ts';

const port = 4273; // not the port of `npm start`, which may be running

export default defineConfig({
  testDir: '.',
  testMatch: '**/*.e2e.ts',
  snapshotPathTemplate: '{testDir}/thumbnails/{arg}{ext}',
  outputDir: '../../test-results',
  fullyParallel: true,
  workers: 2,
  retries: 0,
  timeout: 60_000,
  expect: { timeout: 15_000 }, // a busy machine's disk may take its time to say that it has written
  forbidOnly: true,
  reporter: 'list',
  use: {
    baseURL: `http://127.0.0.1:${port}`,
    browserName: 'chromium',
    headless: true,
    viewport: { width: 1280, height: 800 },
    hasTouch: true,
    locale: 'en-GB',
    timezoneId: 'Europe/London',
    actionTimeout: 15_000,
    trace: 'retain-on-failure',
    launchOptions,
  },
  webServer: {
    command: `node node_modules/vite/bin/vite.js preview --port ${port} --strictPort`,
    cwd: '../..',
    url: `http://127.0.0.1:${port}/`,
    reuseExistingServer: false,
    timeout: 30_000,
  },
});
