import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, type Page } from '@playwright/test';
import { switchOn, type Tablet } from './tablet.ts';
import { onTheTable, patient, signInShort, team, untilOperating } from './teachingCase.ts';
import {
  choose,
  counting,
  countLines,
  dialog,
  foot,
  heading,
  holds,
  press,
  shown,
  starting,
  tapPiece,
  test,
} from './theatre.ts';
import { giveAs, giveTurn, openCaseBy, setUpUnit, tapPin } from './unit.ts';

const swab = 'Swab 10 × 10';

/** Every byte that the page can read of its own storage, as letters one byte each. */
const everyByte = (page: Page): Promise<string> =>
  page.evaluate(async () => {
    const letters = (bytes: Uint8Array) =>
      Array.from(bytes, (byte) => String.fromCharCode(byte)).join('');
    const inUtf8 = (text: string) => letters(new TextEncoder().encode(text));
    const parts: string[] = [];
    for (const { name } of await indexedDB.databases()) {
      const database = await new Promise<IDBDatabase>((resolve, reject) => {
        const request = indexedDB.open(name ?? '');
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
      for (const store of database.objectStoreNames) {
        const all = database.transaction(store).objectStore(store).openCursor();
        await new Promise<void>((resolve) => {
          all.onsuccess = () => {
            const cursor = all.result;
            if (!cursor) return resolve();
            parts.push(`${store}: `, inUtf8(JSON.stringify([cursor.key, cursor.value])), '\n');
            cursor.continue();
          };
        });
      }
      database.close();
    }
    async function walk(folder: FileSystemDirectoryHandle): Promise<void> {
      for await (const [name, handle] of folder.entries()) {
        if (handle instanceof FileSystemDirectoryHandle) await walk(handle);
        else if (handle instanceof FileSystemFileHandle)
          parts.push(
            `${name}: `,
            letters(new Uint8Array(await (await handle.getFile()).arrayBuffer())),
          );
      }
    }
    await walk(await navigator.storage.getDirectory());
    return parts.join('');
  });

/** Files of the profile, in folders whose name fits, that hold a text in UTF-8 or UTF-16. */
function filesWith(profile: string, folder: RegExp, text: string): readonly string[] {
  const needles = [Buffer.from(text, 'utf8'), Buffer.from(text, 'utf16le')];
  return readdirSync(profile, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && folder.test(entry.parentPath))
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => needles.some((needle) => readFileSync(path).includes(needle)));
}

async function again(tablet: Tablet, profile: string, origin: string): Promise<Tablet> {
  await tablet.kill();
  expect(tablet.wrong).toEqual([]);
  return switchOn(profile, origin);
}

const secrets = [patient.name, patient.number, patient.born, 'Testcase'];

test('people confirm by PIN; a killed tablet goes on without one, and holds nothing to read', async ({
  baseURL,
}, testInfo) => {
  test.setTimeout(150_000);
  const origin = new URL(baseURL ?? '').origin;
  const profile = testInfo.outputPath('profile');
  let tablet = await switchOn(profile, origin);
  let { page } = tablet;
  await setUpUnit(page);

  await press(page, 'Start a case');
  await openCaseBy(page, team.circulator);
  await signInShort(page);
  await press(page, 'Begin the count');
  await countLines(page, onTheTable);
  await press(page, `${team.scrub} agrees`);
  await press(page, `${team.circulator} agrees`);
  await tapPin(page, `PIN of ${team.scrub}`, '9038');
  await expect(dialog(page)).toContainText(`That is not the PIN of ${team.scrub}.`);
  const tookMs = await giveTurn(page, team.scrub);
  expect(tookMs).toBeLessThan(2000);
  await giveTurn(page, team.circulator);
  await expect(dialog(page)).toHaveCount(0);
  await expect(counting(page)).toHaveCount(0);
  await untilOperating(page);
  await tapPiece(page, swab, 'on the table');

  tablet = await again(tablet, profile, origin);
  ({ page } = tablet);
  await expect(page.getByRole('banner')).toContainText('Patient hidden');
  for (const secret of secrets) await expect(page.locator('body')).not.toContainText(secret);
  await expect(holds(page)).toContainText(`1 ${swab}`);
  await tapPiece(page, swab, 'on the table');
  expect(await shown(page, swab, 'in the patient')).toBe(2);
  const bytes = await everyByte(page);
  expect(bytes).toContain(team.scrub); // the people of the unit are not secret, so the search works
  for (const secret of [...secrets, 'Swab', 'countAgreed']) expect(bytes).not.toContain(secret);

  await press(page, 'Unlock');
  await giveAs(page, team.surgeon);
  await expect(page.getByRole('banner')).toContainText(patient.name);
  await tablet.kill();
  for (const secret of secrets)
    expect(filesWith(profile, /IndexedDB|File System/, secret)).toEqual([]);
});

test('a forgotten PIN stops no count, and a locked tablet shows neither record nor names', async ({
  page,
}) => {
  test.setTimeout(120_000);
  await page.goto('/');
  await setUpUnit(page);
  await press(page, 'Start a case');
  await openCaseBy(page, team.circulator);
  await signInShort(page);
  await press(page, 'Begin the count');
  await countLines(page, onTheTable);
  await press(page, `${team.scrub} agrees`);
  await press(page, `${team.circulator} agrees`);
  await press(dialog(page), 'Without a PIN…');
  await choose(dialog(page), 'Why without a PIN', 'PIN forgotten');
  await giveTurn(page, team.circulator);
  await expect(dialog(page)).toHaveCount(0);

  await page.goto('/');
  await press(page.getByRole('navigation', { name: 'Stations of the case' }), starting('Record'));
  await expect(heading(page, 'This shows the patient, and the tablet is locked')).toBeVisible();
  await expect(holds(page)).toContainText('Locked: the patient is hidden.');
  await press(foot(page), 'Unlock');
  await giveAs(page, team.circulator);
  const record = page.getByRole('article');
  await expect(record).toContainText(patient.name);
  await expect(record).toContainText(`without PIN: ${team.scrub} (PIN forgotten)`);

  await press(page, 'All cases');
  await expect(page.getByRole('button', { name: patient.name })).toBeVisible();
  await press(page, 'Lock now');
  await expect(page.getByRole('button', { name: 'Patient hidden' })).toBeVisible();
  await expect(page.locator('body')).not.toContainText(patient.name);

  await press(page, 'People…');
  await press(page, 'A PIN is lost…');
  await choose(dialog(page), 'Whose PIN is lost', team.circulator);
  await tapPin(page, `${team.circulator} chooses a PIN: 4 to 8 digits`, '6194');
  await press(dialog(page), 'Take it');
  await tapPin(page, `The same PIN again, ${team.circulator}`, '6194');
  for (const other of [team.scrub, team.surgeon]) {
    await choose(dialog(page), 'Who confirms', other);
    await giveTurn(page, other);
  }
  await expect(dialog(page)).toHaveCount(0);
  await press(page, 'Lock now');
  await press(page, 'Unlock');
  await choose(dialog(page), 'Who confirms', team.circulator);
  await giveTurn(page, team.circulator);
  await expect(dialog(page)).toContainText(`That is not the PIN of ${team.circulator}.`);
  await tapPin(page, `PIN of ${team.circulator}`, '6194');
  await expect(dialog(page)).toHaveCount(0);
});
