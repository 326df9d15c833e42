import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { preloadScreens } from '#screens/App.tsx';
import { createSession, type Session } from '#session/createSession.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

/* What the team says before the patient comes: of the sheet, for the plan of this case, one tap away. */

async function opened(id: string): Promise<Session> {
  const sheet = await sheets.find((known) => known.id === id)?.load();
  if (!sheet) throw new Error(`The sheet ${id} is not there.`);
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin(invented(sheet));
  showApp(session, [sheet]);
  return session;
}

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

const list = (heading: string): readonly string[] =>
  [...(screen.getByText(heading).parentElement?.querySelectorAll('li') ?? [])].map(
    (item) => item.textContent ?? '',
  );

test('it is read before sign in, with the plan that was chosen and what is to be taken', async () => {
  const session = await opened('laparoscopic-appendicectomy');
  fireEvent.click(await screen.findByRole('button', { name: 'Team brief' }));
  await screen.findByRole('heading', { name: 'Team brief' });
  expect(list('To be said')).toContain(
    'How sick is the patient - lactate, pressure; is blood grouped?',
  );
  expect(screen.getByText('Pre-tied loops, one to three')).toBeTruthy();
  expect(screen.getByText('for histology, formalin')).toBeTruthy();

  await session.send({ type: 'variant', to: 'intracorporeal-tie' });
  const plan = () => document.querySelector('.brief-plan')?.textContent;
  await waitFor(() => expect(plan()).toContain('Tie inside, free braided strand'));
  expect(plan()).not.toContain('Pre-tied loops, one to three');
});

test('it stays one tap away on the spine, and ticks nothing', async () => {
  const session = await opened('laparoscopic-appendicectomy');
  const entry = session.store.getSnapshot().context.last?.seq;
  session.show({ name: 'frame' });
  fireEvent.click(await screen.findByRole('button', { name: /^Prepare/ }));
  await screen.findByRole('heading', { name: 'Team brief' });
  expect(session.store.getSnapshot().context.last?.seq).toBe(entry);
  expect(screen.queryAllByRole('checkbox')).toEqual([]);
});

test('a sheet without a brief says so', async () => {
  await opened('ports-and-swabs');
  fireEvent.click(await screen.findByRole('button', { name: 'Team brief' }));
  await screen.findByText('This sheet asks for nothing at the brief.');
});
