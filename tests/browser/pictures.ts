/** Takes the pictures that README shows, from the built program, into tests/browser/pictures/. */
import { mkdirSync } from 'node:fs';
import { chromium } from '@playwright/test';
import { preview } from 'vite';
import { launchOptions } from './launch.ts';

const folder = 'tests/browser/pictures';
mkdirSync(folder, { recursive: true });
const server = await preview({ preview: { port: 4373, strictPort: true }, logLevel: 'warn' });
const browser = await chromium.launch(launchOptions);
const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, hasTouch: true });

await page.goto('http://127.0.0.1:4373/');
await page.locator('#root > *').first().waitFor();
await page.screenshot({ path: `${folder}/start.png` });

await browser.close();
await server.close();
