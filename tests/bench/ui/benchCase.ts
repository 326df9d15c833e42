import type { Command } from '#engine/case/events.ts';
import type { Sheet } from '#engine/sheet.ts';
import { createSession } from '#session/createSession.ts';
import { closure, line, sheet } from '../../simulator/sheets.ts';
import { invented, makeWorld } from '../../support/sessionPorts.ts';

/** Pieces of each line on the table at the start. */
const pieces = 4;

const lineIds = (lines: number): readonly string[] =>
  Array.from({ length: lines }, (_, at) => `item-${at + 1}`);

/** One site, and so many lines whose pieces go in and come back to the table. */
const benchSheet = (lines: number): Sheet =>
  sheet(`bench-${lines}`, {
    title: 'Bench',
    sites: [{ id: 'abdomen', name: 'abdomen', kind: 'cavity' }],
    lines: lineIds(lines).map((id, at) =>
      line(id, { name: `Item ${at + 1}`, class: 'instrument', opening: pieces }),
    ),
    checkpoints: [],
    closures: [closure('abdomen', ['abdomen'], 'closing', { look: [] })],
  });

/** A case after its incision, with everything counted on the table, as a tablet gives it out. */
export async function benchCase(lines: number): Promise<string> {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin(invented(benchSheet(lines)));
  const entries = lineIds(lines).map(
    (id): Command => ({ type: 'enter', line: id, field: pieces, off: 0 }),
  );
  const commands: readonly Command[] = [
    { type: 'beginCount', moment: 'first' },
    ...entries,
    { type: 'agree' },
    { type: 'incision' },
  ];
  for (const command of commands) {
    const outcome = await session.send(command);
    if (!outcome.ok) throw new Error(`The bench's case does not take ${command.type}.`);
  }
  const { current } = session.store.getSnapshot().context;
  return (await session.exportCase(current?.id ?? '')) ?? '';
}
