import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

/** The whole worked case again in Debian's Firefox and WebKit. Browsers that are not here are left out by name. */
export default defineConfig({
  root: join(import.meta.dirname, '../..'),
  resolve: { alias: { '@playwright/test': join(import.meta.dirname, 'others/playwright.ts') } },
  test: { include: ['tests/browser/others/*.other.ts'], testTimeout: 900_000, maxWorkers: 2 },
});
