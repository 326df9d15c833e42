import type { Line, Sheet } from '#engine/sheet.ts';

/**
 * The sheet with one line of each kind, so that trying it is quick. Lines are of one kind where every rule treats
 * them alike: what has turns, comes out of a turn, comes along or is opened by an answer is a kind of its own.
 */
export function shrunk(sheet: Sheet): Sheet {
  const kept = new Map<string, Line>();
  const special = specialLines(sheet);
  for (const line of sheet.lines) {
    const kind = special.has(line.id) ? line.id : kindOf(sheet, line);
    if (!kept.has(kind)) kept.set(kind, line);
  }
  const lines = [...kept.values()];
  const isKept = (id: string): boolean => lines.some((line) => line.id === id);
  const keptOf = (pieces: Readonly<Record<string, number>>) =>
    Object.fromEntries(Object.entries(pieces).filter(([line]) => isKept(line)));
  return {
    ...sheet,
    lines,
    variants: sheet.variants.map(({ opens, without, ...variant }) => ({
      ...variant,
      opens: keptOf(opens),
      ...(without === undefined ? {} : { without: keptOf(without) }),
    })),
    closures: sheet.closures.map((one) => ({ ...one, inUse: one.inUse.filter(isKept) })),
  };
}

/** Lines that others name. */
function specialLines(sheet: Sheet): ReadonlySet<string> {
  const named = sheet.lines.flatMap(({ id, turns, brings }) => [
    ...(turns.length > 0 ? [id] : []),
    ...turns.flatMap(({ gives }) => gives.map(({ line }) => line)),
    ...(brings.length > 0 ? [id, ...brings.map(({ line }) => line)] : []),
  ]);
  const opened = sheet.checkpoints.flatMap(({ steps }) =>
    steps.flatMap(({ answering }) =>
      answering.kind === 'number' && answering.opens ? [answering.opens.line] : [],
    ),
  );
  return new Set([...named, ...opened]);
}

function kindOf(sheet: Sheet, line: Line): string {
  const closures = sheet.closures.filter(({ inUse }) => inUse.includes(line.id));
  const variants = sheet.variants.filter(
    ({ opens, without }) => line.id in opens || line.id in (without ?? {}),
  );
  return JSON.stringify([
    line.class,
    line.opening > 0,
    line.pack !== undefined,
    line.tracked,
    line.counted,
    line.stay,
    line.startsIn,
    line.cuttable,
    closures.map(({ name }) => name),
    variants.map(({ id }) => id),
  ]);
}
