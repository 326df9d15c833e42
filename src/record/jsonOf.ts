import { checkpointsOf } from '#engine/applies.ts';
import { entryWords } from '#engine/case/entryWords.ts';
import type { CaseEvent } from '#engine/case/events.ts';
import { exceptionsOf, verdictOf } from '#engine/closures/verdictOf.ts';
import { verdictWords } from '#engine/closures/verdictWords.ts';
import { lossOf } from '#engine/notes/lossOf.ts';
import type { Case } from '#engine/state.ts';
import { lineFactsOf } from './lineFacts.ts';
import { eventsIn, takenBack, type WholeRecord } from './wholeRecord.ts';

/**
 * Everything of a case as one JSON document, described by `record.schema.json`.
 *
 * The sheet stands in it whole, as the case keeps it, inside the entry that opened the case.
 */
export function jsonOf(record: WholeRecord): string {
  const { current, rows, head, code } = record;
  const back = takenBack(eventsIn(record));
  const document = {
    format: 'lastlook-record',
    version: 1,
    caseId: current.id,
    practice: current.practice,
    chain: { sha256: head, code, rows: rows.length },
    patient: current.patient,
    procedure: procedureOf(current),
    team: current.team,
    reliefs: current.counts.reliefs,
    startedAt: current.startedAt,
    incisionAt: current.incisionAt,
    finishedAt: current.finishedAt,
    verdict: {
      code: verdictOf(current),
      words: verdictWords[verdictOf(current)],
      exceptions: exceptionsOf(current).map((one) => one.sentence),
      unsettled: Object.keys(current.differing),
    },
    lines: lineFactsOf(current),
    counts: current.counts.history,
    stays: staysOf(current),
    missing: current.missing,
    specimens: Object.values(current.specimens),
    checkpoints: checkpointsIn(current),
    doses: current.doses,
    xrays: current.xrays,
    loss: lossIn(current),
    entries: eventsIn(record).map((event) => entryOf(current, event, back)),
  };
  return `${JSON.stringify(document, null, 2)}\n`;
}

const procedureOf = (current: Case) => ({
  sheet: current.sheet.id,
  title: current.sheet.title,
  sheetVersion: current.sheet.version,
  variants: Object.values(current.variants),
});

const staysOf = (current: Case) =>
  Object.entries(current.left).flatMap(([line, sets]) =>
    sets.map((set) => ({
      line,
      name: current.lines.get(line)?.name ?? line,
      ...set,
      handover: current.handovers[line],
    })),
  );

const checkpointsIn = (current: Case) =>
  checkpointsOf(current).map(({ id, name }) => ({ id, name, ...current.checkpoints[id] }));

/** An estimate that is not known is not written as a number. */
function lossIn(current: Case) {
  if (current.weighed.length + current.fluids.length === 0) return undefined;
  const { swabsMl, suctionMl, totalMl, isUnknown } = lossOf(current);
  return isUnknown ? { known: false } : { known: true, swabsMl, suctionMl, totalMl };
}

function entryOf(current: Case, event: CaseEvent, back: ReadonlyMap<number, number>) {
  const { subject, rest } = entryWords(current, event);
  const { entry, at, by, id, ...fact } = event;
  return {
    entry,
    at,
    by,
    id,
    words: `${subject} ${rest}`.trim(),
    takenBackBy: back.get(entry),
    fact,
  };
}
