import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { closuresOf, gatesOf, isInUse } from '#engine/applies.ts';
import type { Command } from '#engine/case/events.ts';
import { holdsOf } from '#engine/closures/holdsOf.ts';
import { verdictOf } from '#engine/closures/verdictOf.ts';
import { usualFound } from '#engine/counts/usualFound.ts';
import { insideOf, rowOf } from '#engine/ledger.ts';
import type { Closure, Sheet } from '#engine/sheet.ts';
import { begunWith, toEnd } from '#rehearsal/finish.ts';
import { inside } from '#rehearsal/having.ts';
import { act, type Play } from '#rehearsal/play.ts';
import { looked, takenOut } from '#rehearsal/usual.ts';
import { loadSheets } from '../../src/sheets/loadSheets.ts';

/** Every sheet as it is shipped can be closed, whatever is chosen, and none over a piece that is inside. */
const loaded = loadSheets('checklists');
const sheets: readonly Sheet[] = loaded.ok ? loaded.sheets : [];

/** The variants of each group, in order. */
const groupsOf = ({ variants }: Sheet): readonly (readonly string[])[] => {
  const groups = new Map<string, string[]>();
  for (const { group, id } of variants) groups.set(group, [...(groups.get(group) ?? []), id]);
  return [...groups.values()];
};

const choiceOf = (sheet: Sheet): fc.Arbitrary<readonly string[]> =>
  fc.tuple(...groupsOf(sheet).map((ids) => fc.constantFrom(...ids)));

/** Each variant once, beside the first of every other group. */
function singleChoices(sheet: Sheet): readonly (readonly string[])[] {
  const groups = groupsOf(sheet);
  const usual = groups.flatMap(([first = '']) => first);
  const others = groups.flatMap((ids, index) =>
    ids.slice(1).map((id) => usual.map((one, at) => (at === index ? id : one))),
  );
  return [usual, ...others];
}

function played(sheet: Sheet, choice: readonly string[]) {
  const open = begunWith(sheet, choice, {});
  if (!open.ok) throw new Error(open.why);
  const finished = toEnd(open.play, {});
  if (!finished.ok) throw new Error(`${JSON.stringify(finished.part)}: ${finished.why}`);
  return finished;
}

function made(play: Play, command: Command): Play {
  const acted = act(play, command);
  if (!acted.ok) throw new Error(`${command.type}: ${acted.refusal.code}`);
  return acted.play;
}

function stepped(step: ReturnType<typeof looked>): Play {
  if (!step.ok) throw new Error(step.why);
  return step.play;
}

/** A count in which everything inside is seen and counted, as when a tape hangs out: the tally agrees. */
function countedWithInside(play: Play, closure: Closure): Play {
  let next = made(play, { type: 'beginCount', moment: closure.count });
  for (const line of next.current.counts.running?.lines ?? []) {
    const { current } = next;
    const { field, off } = usualFound(current, closure.count, line);
    const hidden = isInUse(current, line) ? 0 : insideOf(current.ledger, line);
    next = made(next, { type: 'enter', line, field: field + hidden, off });
  }
  return made(next, { type: 'agree' });
}

describe.each(sheets)('$id', (sheet) => {
  const clean = (choice: readonly string[]): void => {
    const { current } = played(sheet, choice).play;
    expect(verdictOf(current)).toBe('reconciled');
    for (const line of current.lines.keys()) {
      const row = rowOf(current.ledger, line);
      expect([line, insideOf(current.ledger, line), row.missing]).toEqual([line, 0, 0]);
      const accounted = row.table + row.off + row.stays + row.specimen + row.away;
      expect([line, accounted + row.supply + row.changed]).toEqual([line, 0]);
    }
  };

  test.each(singleChoices(sheet))('a clean case closes with %s, %s, %s', (...choice) => {
    clean(choice);
  });

  test('a clean case closes with any choice', () => {
    fc.assert(fc.property(choiceOf(sheet), clean), { numRuns: 8, seed: 20260105 });
  });

  test('no closure is made over a piece that can be inside, though its count agrees', () => {
    const lines = sheet.lines.filter(({ tracked }) => tracked);
    const anywhere = fc.record({
      choice: choiceOf(sheet),
      line: fc.constantFrom(...lines),
      site: fc.constantFrom(...sheet.sites),
    });
    const property = fc.property(anywhere, ({ choice, line, site }) => {
      const { before } = played(sheet, choice);
      const closures = before[0] ? closuresOf(before[0].current) : [];
      const own = closures.findIndex(({ sites }) => sites.includes(site.id));
      // Where the closure says that it may be in use, the first later one that does not say so holds it.
      const held = closures.findIndex((one, at) => at >= own && !one.inUse.includes(line.id));
      const [ready, closure, holding] = [before[own], closures[own], closures[held]];
      if (!ready || !closure || !holding) throw new Error(`nothing closes ${site.id} on it`);
      const put = inside(ready, line, site.id);
      fc.pre(put.ok);
      if (!put.ok) return;
      if (held !== own) {
        const holds = holdsOf(put.play.current, holding.id).map(({ code, about }) => [code, about]);
        expect(holds).toContainEqual(['piece-inside', line.id]);
        return;
      }
      const agreed = countedWithInside(stepped(looked(put.play, closure.id, {})), closure);
      const holds = holdsOf(agreed.current, closure.id);
      expect(holds.map(({ code, about }) => [code, about])).toEqual([['piece-inside', line.id]]);
      expect(act(agreed, { type: 'close', closure: closure.id }).ok).toBe(false);
      // Every later gate is held by it too, until it is out; then this one opens.
      for (const gate of gatesOf(agreed.current).slice(own + 1)) {
        const codes = holdsOf(agreed.current, gate).map(({ code }) => code);
        expect([gate, codes.includes('piece-inside')]).toEqual([gate, true]);
      }
      const out = stepped(looked(stepped(takenOut(agreed, line.id)), closure.id, {}));
      const last = countedWithInside(out, closure);
      expect(act(last, { type: 'close', closure: closure.id }).ok).toBe(true);
    });
    fc.assert(property, { numRuns: 40, seed: 20260105 });
  });
});
