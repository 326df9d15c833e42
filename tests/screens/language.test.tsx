import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, render, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { makeRecordKit } from '#record/makeRecordKit.ts';
import { owedTable } from '#review/owedTable.ts';
import { App, preloadScreens } from '#screens/App.tsx';
import { speak } from '#screens/speaking.ts';
import { createSession } from '#session/createSession.ts';
import { say } from '#words/say.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { libraryOf } from '../support/sheetLibrary.ts';

beforeAll(preloadScreens, 30_000);
afterEach(async () => {
  cleanup();
  await speak('en-GB');
});

const found = await sheets.find(({ id }) => id === 'laparoscopic-appendicectomy')?.load();
if (!found) throw new Error('The sheet is not there.');
const sheet = found;
const record = () =>
  Promise.resolve({ ...makeRecordKit('', (head) => head.slice(0, 8)), owedTable });

async function started(world = makeWorld()) {
  const session = createSession(world.ports);
  await session.start();
  await speak(session.store.getSnapshot().context.language);
  render(() => (
    <App session={session} library={libraryOf([sheet])} record={record} practice={async () => []} />
  ));
  return { session, world };
}

const press = async (name: string) => fireEvent.click(await screen.findByRole('button', { name }));

test('the language is changed on the first screen, at once, and is kept', async () => {
  const { session, world } = await started();
  expect(screen.getByRole('button', { name: 'Start a case' })).toBeTruthy();
  await press('English (UK)');
  await press('Deutsch');
  await screen.findByRole('button', { name: 'Fall beginnen' });
  expect(document.documentElement.lang).toBe('de');
  expect(screen.queryByText('Start a case')).toBeNull();
  cleanup();
  await session.go({ screen: 'start' });
  await started(world);
  expect(screen.getByRole('button', { name: 'Deutsch' })).toBeTruthy();
  await press('Deutsch');
  await press('English (US)');
  await screen.findByRole('button', { name: 'Start a case' });
  expect(document.documentElement.lang).toBe('en-US');
});

test('of two languages that are asked for at once the last is spoken, whichever book is read first', async () => {
  const slower = speak('de');
  await speak('en-GB');
  await slower;
  expect(say`Start a case`).toBe('Start a case');
  await speak('de');
  expect(say`Start a case`).toBe('Fall beginnen');
});

test('a case that is open speaks the language that was chosen: frame, holds, log and verdict', async () => {
  const { session } = await started();
  await session.begin({ ...invented(sheet), practice: false });
  session.show({ name: 'frame' });
  await screen.findByRole('region', { name: 'Counting frame' });
  await speak('de');
  await screen.findByRole('region', { name: 'Zählrahmen' });
  const holds = await screen.findByRole('complementary');
  expect(holds.textContent).toContain('Der Schnitt wartet auf');
  expect(holds.textContent).toContain('Erste Zählung nicht bestätigt');
  const outcome = await session.send({ type: 'incision' });
  expect(outcome).toMatchObject({
    refusal: { sentence: 'Der Haltepunkt ist nicht beendet.' },
  });
  session.show({ name: 'record' });
  await waitFor(() =>
    expect(screen.getByRole('main').textContent).toContain('Der Fall ist nicht beendet.'),
  );
  expect(screen.getByRole('main').textContent).toContain('Zähl- und Checklistenprotokoll');
});
