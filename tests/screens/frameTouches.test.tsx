import { cleanup, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeAll, expect, test } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import { preloadScreens } from '#screens/App.tsx';
import { createSession } from '#session/createSession.ts';
import { nestedSites } from '../simulator/sheets.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';
import { showApp } from '../support/showApp.tsx';

beforeAll(preloadScreens, 30_000);
afterEach(cleanup);

const sheet = { ...nestedSites, checkpoints: [] };

/** A case with three sites after its incision, on the frame. */
async function operating() {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin(invented(sheet));
  const table = { swab: 5, needle: 2, protector: 1 };
  const commands: readonly Command[] = [
    { type: 'beginCount', moment: 'first' },
    ...Object.entries(table).map(
      ([line, field]): Command => ({ type: 'enter', line, field, off: 0 }),
    ),
    { type: 'agree' },
    { type: 'incision' },
  ];
  for (const command of commands) {
    const outcome = await session.send(command);
    if (!outcome.ok) throw new Error(`${command.type} was not entered`);
  }
  session.show({ name: 'frame' });
  showApp(session, [sheet]);
  await screen.findByText('All lines');
  return session;
}

/** Where on the screen something changed, each part once. */
const wheres = (records: readonly MutationRecord[]): readonly string[] => {
  const parts = records.map(({ target }) => {
    const element = target instanceof Element ? target : target.parentElement;
    const part = element?.closest('.wire, .frame-head, .holds, .foot, .band, .spine');
    return part?.getAttribute('data-line') ?? part?.className ?? element?.className ?? 'page';
  });
  return [...new Set(parts)].sort();
};

test('with several sites too, one move touches its row and the foot, and no hold that stays as it is', async () => {
  const session = await operating();
  const records: MutationRecord[] = [];
  const observer = new MutationObserver((more) => void records.push(...more));
  observer.observe(document.documentElement, {
    ...{ subtree: true, childList: true, characterData: true, attributes: true },
  });
  for (const [from, to, n] of [
    ['table', 'patient/abdomen', 2],
    ['patient/abdomen', 'off', 1],
  ] as const) {
    const entry = screen.getAllByRole('status').at(-1)?.getAttribute('data-entry');
    records.length = 0;
    await session.send({ type: 'move', line: 'swab', from, to, n });
    await waitFor(() =>
      expect(screen.getAllByRole('status').at(-1)?.getAttribute('data-entry')).not.toBe(entry),
    );
    await waitFor(() => expect(wheres(records)).toContain('foot'));
    expect(wheres(records)).toEqual(['foot', 'swab']); // the uterus is closed first: nothing there has changed
  }
  observer.disconnect();
});
