/** A unit whose people are set up on the tablet, and how they confirm. The people are invented. */
import { expect, type Page } from '@playwright/test';
import { patient, team } from './teachingCase.ts';
import { button, dialog, openCase, press, type } from './theatre.ts';

const pins: Readonly<Record<string, string>> = {
  [team.scrub]: '4716',
  [team.circulator]: '8305',
  [team.surgeon]: '92614',
};

/** Taps a PIN, and answers how long that took. Units: milliseconds. */
export async function tapPin(page: Page, label: string, pin: string): Promise<number> {
  const pad = dialog(page).getByRole('group', { name: label, exact: true });
  await expect(pad).toBeVisible();
  const beganAt = performance.now();
  for (const digit of pin) await press(pad, digit);
  return performance.now() - beganAt;
}

/** The person whose turn it is gives the PIN. Units: milliseconds. */
export const giveTurn = (page: Page, name: string): Promise<number> =>
  tapPin(page, `PIN of ${name}`, pins[name] ?? '');

/** Somebody of the unit confirms. */
export async function giveAs(page: Page, name: string): Promise<void> {
  await dialog(page)
    .getByRole('button', { name: new RegExp(`^${name}`) })
    .tap();
  await giveTurn(page, name);
  await expect(dialog(page)).toHaveCount(0);
}

async function setUp(page: Page, name: string, role: string): Promise<void> {
  await type(dialog(page), 'Name', name);
  await press(dialog(page), role);
  await press(dialog(page), 'To the PIN');
  const pin = pins[name] ?? '';
  await tapPin(page, `${name} chooses a PIN: 4 to 8 digits`, pin);
  await press(dialog(page), 'Take it');
  await tapPin(page, `The same PIN again, ${name}`, pin);
}

/** Sets up three people: scrub, circulator and surgeon of the teaching case. */
export async function setUpUnit(
  page: Page,
  look: (screen: string) => Promise<void> = async () => {},
): Promise<void> {
  await expect(page.getByText('asks nobody for a PIN and keeps cases unencrypted')).toBeVisible();
  await press(page, 'Set up people…');
  await expect(button(page, 'Set up the first person')).toBeVisible();
  await look('people-none');
  await press(page, 'Set up the first person');
  await setUp(page, team.scrub, 'Scrub');
  await expect(dialog(page)).toContainText('Write this code on paper');
  await expect(dialog(page)).toContainText(/([0-9A-Z]{5}-){5}[0-9A-Z]/);
  await look('people-code');
  await press(page, 'It is on paper');
  for (const [name, role] of [
    [team.circulator, 'Circulator'],
    [team.surgeon, 'Surgeon'],
  ] as const) {
    await press(page, 'Add a person');
    await setUp(page, name, role);
    await giveAs(page, team.scrub);
    await expect(page.getByRole('listitem').filter({ hasText: name })).toBeVisible();
  }
  await press(page, 'Back');
}

/** Opens the teaching case in the name of somebody of the unit. */
export async function openCaseBy(page: Page, by: string): Promise<void> {
  const asked = openCase(page, { patient, team, sheet: 'Ports and swabs' });
  await giveAs(page, by);
  await asked;
}
