import { screen } from '@solidjs/testing-library';
import type { Sheet } from '#engine/sheet.ts';
import { createSession, type Session } from '#session/createSession.ts';
import { invented, makeWorld } from './sessionPorts.ts';
import { showApp } from './showApp.tsx';

/** The program at the counting frame of a case whose first count saw what the sheet opens. */
export async function atFrame(sheet: Sheet): Promise<Session> {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin(invented(sheet));
  await session.send({ type: 'beginCount', moment: 'first' });
  for (const line of sheet.lines.filter((one) => one.opening > 0 && one.counted))
    await session.send({
      type: 'enter',
      line: line.id,
      field: line.opening,
      ...(line.pack === undefined ? {} : { packs: [line.opening] }),
    });
  const agreed = await session.send({ type: 'agree' });
  if (!agreed.ok) throw new Error('The first count agrees.');
  session.show({ name: 'frame' });
  showApp(session, [sheet]);
  await screen.findByRole('button', { name: 'Add to field' });
  return session;
}
