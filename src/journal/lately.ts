/** What was read lately of some cases, so that it need not be worked out again where nothing has changed. */
export type Lately<T> = {
  readonly of: (caseId: string) => T | undefined;
  readonly keep: (caseId: string, one: T) => void;
  readonly forget: () => void;
};

/** Some 40 MB: what a small tablet has to spare. Units: rows, of all cases together. */
const rowsMax = 20_000;

/** Keeps what was looked at last, and lets go of the oldest when it gets too much. */
export function makeLately<T>(rowsOf: (one: T) => number, limit = rowsMax): Lately<T> {
  const known = new Map<string, T>();
  let rows = 0;

  function drop(caseId: string): void {
    const one = known.get(caseId);
    if (one !== undefined) rows -= rowsOf(one);
    known.delete(caseId);
  }

  return {
    of: (caseId) => known.get(caseId),
    keep: (caseId, one) => {
      drop(caseId);
      known.set(caseId, one);
      rows += rowsOf(one);
      for (const oldest of known.keys()) {
        if (rows <= limit) break;
        drop(oldest);
      }
    },
    forget: () => {
      known.clear();
      rows = 0;
    },
  };
}
