import { sheets } from 'virtual:sheets';
import { cleanup, fireEvent, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { preloadScreens } from '#screens/App.tsx';
import { speak } from '#screens/speaking.ts';
import { createSession } from '#session/createSession.ts';
import { sheetInWords } from '#session/sheetInWords.ts';
import { say } from '#words/say.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

beforeAll(preloadScreens, 30_000);
afterEach(async () => {
  cleanup();
  await speak('en-GB');
});

const found = await sheets.find(({ id }) => id === 'laparoscopic-appendicectomy')?.load();
if (!found) throw new Error('The sheet is not there.');
const sheet = found;

async function started(world = makeWorld()) {
  const session = createSession(world.ports);
  await session.start();
  await speak(session.store.getSnapshot().context.language);
  showApp(session, [sheet]);
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

test('the operations stand in the order of their titles in the language that is spoken', async () => {
  const world = makeWorld();
  const session = createSession({ ...world.ports, languages: ['de'] });
  await session.start();
  await speak('de');
  const wanted = [
    'caesarean-section',
    'laparoscopic-appendicectomy',
    'total-abdominal-hysterectomy',
  ];
  const all = await Promise.all(
    sheets.filter(({ id }) => wanted.includes(id)).map(({ load }) => load()),
  );
  showApp(session, all);
  await press('Fall beginnen');
  const operations = await screen.findByRole('group', { name: 'Bogen' });
  const titles = [...operations.querySelectorAll('.choice-name')].map((one) => one.textContent);
  // The files stand in the order of their English titles, caesarean section first.
  expect(titles).toEqual([
    'Abdominale Hysterektomie',
    'Kaiserschnitt',
    'Laparoskopische Appendektomie',
  ]);
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

/** Words that German has not, whatever their case. */
const english = new RegExp(
  `\\b(${[
    'the|and|with|from|now|passed|ahead|of|to|is|are|has|have|been|by|or|if|it|count|yes|no|off|reason|where|stays',
    'theatre|anaesthesia|incision|circulator|anaesthetist|surgeon|scrub|everyone|keyhole',
  ].join('|')})\\b`,
  'gi',
);

/** All that is read on the page, and all that a screen reader says of it. */
function readOnPage(): readonly string[] {
  const words: string[] = [];
  for (const element of document.body.querySelectorAll('*')) {
    for (const child of element.childNodes)
      if (child.nodeType === Node.TEXT_NODE) words.push(child.textContent ?? '');
    for (const name of ['aria-label', 'title', 'placeholder', 'alt'])
      words.push(element.getAttribute(name) ?? '');
  }
  return words;
}

/** The words of another language that stand on the screens, each screen by its name. */
async function foreignOn<View>(
  views: readonly View[],
  nameOf: (view: View) => string,
  show: (view: View) => unknown,
): Promise<readonly string[]> {
  const found: string[] = [];
  for (const view of views) {
    await show(view);
    await new Promise((resolve) => setTimeout(resolve, 50));
    for (const words of readOnPage())
      for (const [word] of words.matchAll(english))
        found.push(`${nameOf(view)}: ${word} in "${words}"`);
  }
  return found;
}

async function inGerman() {
  await speak('de');
  const session = createSession({ ...makeWorld().ports, languages: ['de'] });
  await session.start();
  const german = sheetInWords(sheet);
  showApp(session, [german]);
  return { session, german };
}

test('a case that was opened in German has no English word on any of its screens', async () => {
  const { session, german } = await inGerman();
  await session.begin(invented(german));
  const about = (name: 'checkpoint' | 'count' | 'specimen' | 'look' | 'closing', id: string) =>
    ({ name, about: id }) as const;
  const views = [
    ...(['frame', 'brief', 'leaving', 'wall', 'dose', 'paper', 'record'] as const).map((name) => ({
      name,
    })),
    ...german.checkpoints.map(({ id }) => about('checkpoint', id)),
    ...german.specimens.map(({ id }) => about('specimen', id)),
    ...german.closures.flatMap(({ id }) => [about('look', id), about('closing', id)]),
    about('count', 'first'),
  ];
  expect(
    await foreignOn(
      views,
      ({ name }) => name,
      (view) => session.show(view),
    ),
  ).toEqual([]);
});

test('nor has any screen outside of a case', async () => {
  const { session, german } = await inGerman();
  await session.begin(invented(german));
  const screens = ['start', 'opening', 'people', 'library', 'afterwards'] as const;
  expect(
    await foreignOn(
      screens,
      (name) => name,
      (name) => session.go({ screen: name }),
    ),
  ).toEqual([]);
});
