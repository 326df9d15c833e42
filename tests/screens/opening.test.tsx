import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { preloadScreens } from '#screens/App.tsx';
import { createSession } from '#session/createSession.ts';
import { makeWorld } from '../support/sessionPorts.ts';
import { libraryOf } from '../support/sheetLibrary.ts';
import { showApp } from '../support/showApp.tsx';

/** What is offered when a case is opened, on the screen that a nurse sees. */

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

const wholeSheets = await Promise.all(sheets.map((entry) => entry.load()));

/** The plan page of a sheet. */
async function planOf(title: string): Promise<void> {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.go({ screen: 'opening' });
  const library = libraryOf(wholeSheets);
  showApp(session, library);
  fireEvent.click(await screen.findByRole('button', { name: new RegExp(`^${title}`) }));
  await screen.findByRole('heading', { name: title });
}

const choice = (name: string) => screen.queryByRole('button', { name: new RegExp(`^${name}`) });
const next = () => screen.getByRole('button', { name: 'Next' });

test.each([
  ['Laparoscopic appendicectomy', 'Converted to open'],
  ['Total abdominal hysterectomy', 'Converted to open'],
  ['Thyroidectomy, one side or total', 'The other side as well'],
  ['Caesarean section', 'Caesarean after a trial'],
])('%s: a conversion is named and not offered at opening', async (title, conversion) => {
  await planOf(title);
  expect(choice(conversion)).toBeNull();
  expect(screen.getByText(/^Chosen in mid-case/).textContent).toContain(conversion);
});

test('a plan says what its variant opens, what it leaves out and what to know', async () => {
  await planOf('Laparoscopic appendicectomy');
  const words = choice('Linear stapler 45 mm')?.textContent;
  expect(words).toContain('Each reload brings a shim.');
  expect(words).toMatch(/Opens 1 Stapler handle.*, 1 Suture needle, .* in 4 pieces\./);
  expect(words).toMatch(/Leaves out .* in 3 pieces\./);
});

test.each([
  ['Open inguinal hernia repair with mesh', 'Left'],
  ['Total hip replacement', 'Left'],
  ['Wide local excision of breast with sentinel node', 'Left'],
])(
  '%s: no side is said until one is chosen, and the case does not go on without',
  async (title, side) => {
    await planOf(title);
    expect(choice('Side not chosen yet')).toBeNull();
    expect(screen.getByRole('group', { name: '▲ Side is not said yet: choose it' })).toBeTruthy();
    expect(choice(side)?.getAttribute('aria-pressed')).toBe('false');
    fireEvent.click(next());
    expect(screen.getByRole('heading', { name: title })).toBeTruthy();
    const left = choice(side);
    if (left) fireEvent.click(left);
    await waitFor(() =>
      expect(screen.queryByRole('group', { name: /is not said yet/ })).toBeNull(),
    );
    fireEvent.click(next());
    await screen.findByRole('heading', { name: 'Patient' });
  },
);

test('the page of the patient waits to be written in', async () => {
  await planOf('Laparoscopic appendicectomy');
  fireEvent.click(next());
  await waitFor(() => expect(document.activeElement).toBe(screen.getByLabelText('Name')));
});
