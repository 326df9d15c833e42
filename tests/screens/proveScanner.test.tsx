import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { proofElements } from '#scan/proveScanner.ts';
import { separator } from '#scan/separator.ts';
import { preloadScreens } from '#screens/App.tsx';
import { createSession, type Session } from '#session/createSession.ts';
import { scanOn, typeOn } from '../support/scanner.ts';
import { makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

const loaded = await sheets.find((known) => known.id === 'ports-and-swabs')?.load();
if (!loaded) throw new Error('The teaching sheet is not there.');
const sheet = loaded;

async function atProof(): Promise<Session> {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.go({ screen: 'people' });
  showApp(session, [sheet]);
  fireEvent.click(await screen.findByRole('button', { name: 'Prove the scanner…' }));
  await screen.findByRole('dialog', { name: 'Prove the scanner' });
  return session;
}

const scan = (text: string): void => scanOn(document.body, text);
const settings = (session: Session) => session.store.getSnapshot().context.scanner;

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

test('a scanner that is set right is told so', async () => {
  await atProof();
  scan(`]C1${proofElements}`);
  expect(await screen.findByText(/^✓ This scanner is set right\./)).toBeDefined();
});

test('one that is set wrong is told what to change', async () => {
  await atProof();
  scan(proofElements);
  expect((await screen.findByRole('alert')).textContent).toContain('Switch its AIM identifier on.');
});

test('the tablet is told which letters mean the separator, keeps it, and then the scanner is right', async () => {
  const session = await atProof();
  const sent = `]C1${proofElements.replace(separator, '{GS}')}`;
  scan(sent);
  fireEvent.click(
    await screen.findByRole('button', { name: /^On this tablet, \{GS\} means the separator\./ }),
  );
  expect(settings(session)).toEqual({ separatorText: '{GS}' });
  scan(sent);
  expect(await screen.findByText(/^✓ This scanner is set right\./)).toBeDefined();
  fireEvent.click(screen.getByRole('button', { name: /^Forget the separator/ }));
  await waitFor(() => expect(settings(session)).toEqual({}));
  scan(sent);
  expect((await screen.findByRole('alert')).textContent).toContain('sends {GS} for the separator');
});

test('so is a key that a scanner presses for it', async () => {
  const session = await atProof();
  const [before = '', after = ''] = `]C1${proofElements}`.split(separator);
  const keys = [...before, 'F8', ...after, 'Enter'];
  typeOn(document.body, keys, 5);
  fireEvent.click(
    await screen.findByRole('button', { name: /^On this tablet, F8 means the separator\./ }),
  );
  expect(settings(session)).toEqual({ separatorKey: 'F8' });
  typeOn(document.body, keys, 5);
  expect(await screen.findByText(/^✓ This scanner is set right\./)).toBeDefined();
});
