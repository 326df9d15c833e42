import { type Failed, fail, type Report, report } from './failures.ts';
import { ask, type Home, type Row, type Stored } from './home.ts';

/** How long and how often homes are asked, and who is told meanwhile. */
export type Patience = {
  /** A home that has not answered by then counts as failed. */
  readonly limitMs: number;
  /** So much longer for each row, where a whole case is read or written. */
  readonly rowMs: number;
  /** An entry not kept by then is reported as not saved, though nothing has failed. */
  readonly noticeMs: number;
  /** The pauses before the second try, the third, and so on. */
  readonly pausesMs: readonly number[];
  /** The pause before a window that only reads looks again at what seems damaged. */
  readonly secondLookMs: number;
  readonly tell: (caseId: string, said: Report) => void;
};

/** How long a home may take for so many rows. */
export const limitFor = ({ limitMs, rowMs }: Patience, rows: number): number =>
  limitMs + rows * rowMs;

/**
 * Writes one row to all homes, again and again to those that failed. Trouble is told at once, its end
 * too.
 *
 * Fails: home-taken and home-gap at once, the last failure after all tries. Some homes may then hold
 * the row and others not.
 */
export async function keepRow(
  homes: readonly Home[],
  row: Row,
  patience: Patience,
): Promise<Stored> {
  let isTrouble = false;
  const sayTrouble = () => {
    if (!isTrouble) patience.tell(row.caseId, report('not-saved'));
    isTrouble = true;
  };
  const notice = setTimeout(sayTrouble, patience.noticeMs);
  try {
    const stored = await tryAll(new Set(homes), row, patience, sayTrouble);
    if (stored.ok && isTrouble) patience.tell(row.caseId, report('saved-again'));
    return stored;
  } finally {
    clearTimeout(notice);
  }
}

async function tryAll(
  lacking: Set<Home>,
  row: Row,
  { limitMs, pausesMs }: Patience,
  sayTrouble: () => void,
): Promise<Stored> {
  let failure: Failed = fail('not-saved');
  for (const pauseMs of [0, ...pausesMs]) {
    if (pauseMs > 0) await new Promise((resolve) => setTimeout(resolve, pauseMs));
    const asked = [...lacking].map(async (home) => {
      const stored = await ask(home.name, limitMs, () => home.append(row));
      if (stored.ok) lacking.delete(home);
      return stored;
    });
    const failures = (await Promise.all(asked)).filter((stored) => !stored.ok);
    if (lacking.size === 0) return { ok: true };
    failure = failures.find(isSettled) ?? failures[0] ?? failure;
    if (isSettled(failure)) break;
    sayTrouble();
  }
  return failure;
}

/** Trying again would give the same answer. */
const isSettled = ({ failure: { code } }: Failed): boolean =>
  code === 'home-taken' || code === 'home-gap';
