import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor, within } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { labelCodeOf } from '#scan/labelCode.ts';
import { preloadScreens } from '#screens/App.tsx';
import { createSession, type Session } from '#session/createSession.ts';
import { scanOn, typeOn } from '../support/scanner.ts';
import { seen } from '../support/seen.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

const loaded = await sheets.find((known) => known.id === 'ports-and-swabs')?.load();
if (!loaded) throw new Error('The teaching sheet is not there.');
const sheet = loaded;

/** A case on the screen, at the first count: the patient is TR-100. */
async function onScreen(world = makeWorld()): Promise<Session> {
  const session = createSession(world.ports);
  await session.start();
  await session.begin(invented(sheet));
  showApp(session, [sheet]);
  return session;
}

const scan = (text: string): void => scanOn(document.body, text);
const current = (session: Session) => {
  const { current: open } = session.store.getSnapshot().context;
  if (!open) throw new Error('A case is open.');
  return open;
};
const stop = () => screen.findByRole('dialog', { name: 'Stop: everyone' });
const stopped = "Stopped: a wristband with another number than this patient's was scanned.";

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

const views = [
  { name: 'frame' },
  { name: 'checkpoint', about: 'sign-in' },
  { name: 'count', about: 'first' },
  { name: 'specimen', about: 'appendix' },
  { name: 'closing', about: 'abdomen' },
  { name: 'leaving' },
  { name: 'record' },
  { name: 'wall' },
] as const;

test.each(views)(
  'the wristband of another patient stops the case on the screen $name',
  async (view) => {
    const session = await onScreen();
    session.show(view);
    scan('TR-101');
    expect((await stop()).textContent).toContain(
      'Stop. The wristband says TR-101. This case is of Testcase, Ash, TR-100.',
    );
    await waitFor(() => expect(current(session).notes.map(({ text }) => text)).toEqual([stopped]));
    session.show({ name: 'frame' });
    expect(await stop()).toBeDefined();
    fireEvent.click(within(await stop()).getByRole('button', { name: 'Everyone has stopped' }));
    await waitFor(() => expect(screen.queryByRole('dialog')).toBeNull());
  },
);

test('the number of the other patient is in no entry of the case', async () => {
  const session = await onScreen();
  scan('TR-101');
  await stop();
  await waitFor(() => expect(current(session).notes).toHaveLength(1));
  const rows = await session.readRows();
  expect(rows?.length).toBeGreaterThan(1);
  expect(JSON.stringify(rows)).not.toContain('TR-101');
});

test('a scan that comes while the screens of a case are still being drawn is not lost', async () => {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin(invented(sheet));
  await session.go({ screen: 'start' });
  showApp(session, [sheet]);
  const [one] = session.store.getSnapshot().context.cases;
  const opening = session.go({
    screen: 'case',
    caseId: one?.caseId ?? '',
    view: { name: 'frame' },
  });
  scan('TR-101');
  await opening;
  expect(await stop()).toBeDefined();
});

test('half a scan is kept when something is entered and the screen changes in the middle of it', async () => {
  const session = await onScreen();
  typeOn(document.body, [...'TR-'], 5, 0);
  await session.send({ type: 'note', text: 'Something else.' });
  session.show({ name: 'leaving' });
  typeOn(document.body, [...'100', 'Enter'], 5);
  expect(await screen.findByText('The wristband is of this patient.')).toBeDefined();
});

test('this patient’s wristband says so, lifts the stop, and enters nothing', async () => {
  const session = await onScreen();
  scan('tr-100');
  expect(await screen.findByText('The wristband is of this patient.')).toBeDefined();
  expect(current(session).notes).toEqual([]);
  scan('TR-101');
  await stop();
  scan('TR-100');
  await waitFor(() => expect(screen.queryByText('Stop: everyone')).toBeNull());
});

test('a code of another form is asked about: a wristband stops, anything else does not', async () => {
  const session = await onScreen();
  scan('AX4711-B');
  const asked = await screen.findByRole('dialog', { name: 'What was that?' });
  expect(asked.textContent).toContain('A code says AX4711-B.');
  fireEvent.click(within(asked).getByRole('button', { name: 'Not a wristband' }));
  await waitFor(() => expect(screen.queryByRole('dialog')).toBeNull());
  expect(current(session).notes).toEqual([]);
  scan('AX4711-B');
  fireEvent.click(await screen.findByRole('button', { name: 'A wristband, of another patient' }));
  expect(await stop()).toBeDefined();
  await waitFor(() => expect(current(session).notes.map(({ text }) => text)).toEqual([stopped]));
});

test('the label of another patient’s specimen stops the case on any screen', async () => {
  const session = await onScreen();
  const open = current(session);
  const specimen = Object.values(open.specimens)[0];
  if (!specimen) throw new Error('The sheet plans a specimen.');
  scan(labelCodeOf({ ...open, id: 'another-case' }, specimen));
  expect((await stop()).textContent).toContain('This label is of another patient.');
  await waitFor(() => expect(current(session).notes).toHaveLength(1));
  scan(labelCodeOf(open, specimen));
  expect(await stop()).toBeDefined(); // a label says nothing of who lies there
  fireEvent.click(screen.getByRole('button', { name: 'Everyone has stopped' }));
  scan(labelCodeOf(open, specimen));
  expect(
    await screen.findByText(/^That is the label of A Appendix, of this patient\./),
  ).toBeDefined();
});

test('a scan in a blind count enters no number, and says none', async () => {
  const session = await onScreen();
  await session.send({ type: 'beginCount', moment: 'first' });
  session.show({ name: 'count', about: 'first' });
  await screen.findByText(/^Line 1 of/);
  for (const text of [']d20109506000134352', 'LL00000000000000000', '12345678']) scan(text);
  await screen.findByRole('dialog');
  fireEvent.click(screen.getByRole('button', { name: 'Not a wristband' }));
  scan(']d20109506000134352');
  expect(
    await screen.findByText(
      'That is a pack. A count is running: nothing is added before it is agreed or broken off.',
    ),
  ).toBeDefined();
  await new Promise((done) => setTimeout(done, 400)); // whatever was kept back would be given back by now
  expect(seen(current(session))).toEqual({});
  expect(screen.getByText(/^Line 1 of/)).toBeDefined();
});

test('what is typed by a person still counts', async () => {
  const session = await onScreen();
  await session.send({ type: 'beginCount', moment: 'first' });
  session.show({ name: 'count', about: 'first' });
  await screen.findByText(/^Line 1 of/);
  typeOn(document.body, ['5'], 300);
  await waitFor(() => expect(Object.keys(seen(current(session)) ?? {})).toHaveLength(1));
});

test('keys of a scanner that sends no Enter are nobody’s digits', async () => {
  const session = await onScreen();
  await session.send({ type: 'beginCount', moment: 'first' });
  session.show({ name: 'count', about: 'first' });
  await screen.findByText(/^Line 1 of/);
  typeOn(document.body, [...'12345678'], 5);
  await new Promise((done) => setTimeout(done, 400));
  expect(seen(current(session))).toEqual({});
});

test('the step that says who the patient is takes the wristband as support; a wrong one stops its yes', async () => {
  const session = await onScreen();
  session.show({ name: 'checkpoint', about: 'sign-in' });
  fireEvent.click(await screen.findByRole('button', { name: 'Everyone stops: begin' }));
  expect(await screen.findByText('Scan the wristband, or read it aloud.')).toBeDefined();
  scan('TR-101');
  fireEvent.click(within(await stop()).getByRole('button', { name: 'Everyone has stopped' }));
  const yes = () => screen.getByRole('button', { name: 'Yes, said aloud' });
  await waitFor(() => expect(yes().getAttribute('aria-disabled')).toBe('true'));
  fireEvent.click(yes());
  scan('TR-100');
  expect(
    await screen.findByText('✓ The wristband that was scanned is of this patient.'),
  ).toBeDefined();
  expect(current(session).checkpoints['sign-in']?.answers).toEqual({});
  fireEvent.click(yes());
  await waitFor(() =>
    expect(current(session).checkpoints['sign-in']?.answers).toMatchObject({
      identity: { kind: 'given', value: 'yes', scanned: true },
    }),
  );
  expect(await screen.findByText(/Yes, wristband scanned/)).toBeDefined();
  expect(screen.queryByText(/Scan the wristband/)).toBeNull(); // the next step is about something else
});

test('a wristband that was scanned before the checkpoint began supports nothing in it', async () => {
  const world = makeWorld();
  const session = await onScreen(world);
  scan('TR-100');
  await screen.findByText('The wristband is of this patient.');
  world.wait(1);
  session.show({ name: 'checkpoint', about: 'sign-in' });
  fireEvent.click(await screen.findByRole('button', { name: 'Everyone stops: begin' }));
  expect(await screen.findByText('Scan the wristband, or read it aloud.')).toBeDefined();
});
