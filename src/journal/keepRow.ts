import { type Failed, fail, type Report, report } from './failures.ts';
import { ask, type Home, type Row, type Stored } from './home.ts';

/** How long and how often homes are asked, and who is told meanwhile. */
export type Patience = {
  /** A home that has not answered by then counts as failed. */
  readonly limitMs: number;
  /** An entry not kept by then is reported as not saved, though nothing has failed. */
  readonly noticeMs: number;
  /** The pauses before the second try, the third, and so on. */
  readonly pausesMs: readonly number[];
  readonly tell: (caseId: string, said: Report) => void;
};

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
  { limitMs, noticeMs, pausesMs, tell }: Patience,
): Promise<Stored> {
  const lacking = new Set(homes);
  let isTrouble = false;
  const sayTrouble = () => {
    if (!isTrouble) tell(row.caseId, report('not-saved'));
    isTrouble = true;
  };
  const notice = setTimeout(sayTrouble, noticeMs);
  let failure: Failed = fail('not-saved');

  for (const pauseMs of [0, ...pausesMs]) {
    if (pauseMs > 0) await new Promise((resolve) => setTimeout(resolve, pauseMs));
    const asked = [...lacking].map(async (home) => {
      const stored = await ask(home.name, limitMs, () => home.append(row));
      if (stored.ok) lacking.delete(home);
      return stored;
    });
    const failures = (await Promise.all(asked)).filter((stored) => !stored.ok);
    failure = failures.find(isSettled) ?? failures[0] ?? failure;
    if (lacking.size === 0 || isSettled(failure)) break;
    sayTrouble();
  }
  clearTimeout(notice);
  if (lacking.size > 0) return failure;
  if (isTrouble) tell(row.caseId, report('saved-again'));
  return { ok: true };
}

/** Trying again would give the same answer. */
const isSettled = ({ failure: { code } }: Failed): boolean =>
  code === 'home-taken' || code === 'home-gap';
