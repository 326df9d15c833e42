import type { Envelope } from '#engine/history/envelope.ts';
import type { CheckedRows } from './chain.ts';
import { type Failed, fail, type Report, report } from './failures.ts';
import { ask, type Home } from './home.ts';
import { limitFor, type Patience } from './keepRow.ts';
import type { Lately } from './lately.ts';
import { recover } from './recover.ts';

/** The rows of a case, also as the text they were kept as, and what has to be said about them. */
export type CaseRows = {
  readonly ok: true;
  readonly rows: readonly Envelope[];
  readonly texts: readonly string[];
  readonly reports: readonly Report[];
};

/** What was found of a case, and what has to be done about it. */
export type Found = CaseRows & {
  readonly reseed: readonly string[];
  readonly unreadable: readonly string[];
  /** How many rows each home was found with. */
  readonly counts: ReadonlyMap<string, number>;
};

export type Place = {
  readonly caseId: string;
  readonly homes: readonly Home[];
  readonly patience: Patience;
  readonly lately: Lately<CheckedRows>;
};

/**
 * What the homes together know of a case. `witness` are rows that were seen before, one more copy. Who only wants to
 * read has those, `orWitness`, where no home answers any more; not where one is locked.
 *
 * Fails: cannot-read, if none of the homes answers.
 */
export async function lookUp(
  { caseId, homes, patience, lately }: Place,
  witness: readonly string[],
  orWitness = false,
): Promise<Found | Failed> {
  const sources: { name: string; texts: readonly string[]; damaged: boolean }[] = [];
  const unreadable: string[] = [];
  let isLocked = false;
  const limitMs = limitFor(patience, witness.length);
  const asked = homes.map(({ name, readAll }) => ask(name, limitMs, () => readAll(caseId)));
  for (const [index, held] of (await Promise.all(asked)).entries()) {
    const name = homes[index]?.name ?? '';
    if (held.ok) sources.push({ name, texts: held.texts, damaged: held.damaged });
    else unreadable.push(name);
    isLocked ||= !held.ok && held.failure.code === 'case-locked';
  }
  const isEnough = orWitness && witness.length > 0 && !isLocked;
  if (sources.length === 0 && !isEnough) return fail('cannot-read');

  const inMind = { name: '', texts: [...witness], damaged: false };
  const { rows, texts, reports, reseed } = await recover(
    caseId,
    witness.length > 0 ? [...sources, inMind] : sources,
    lately.of(caseId),
  );
  lately.keep(caseId, { rows, texts });
  return {
    ok: true,
    rows,
    texts,
    reports: [
      ...reports.filter(({ home }) => home !== ''),
      ...unreadable.map((home) => report('home-unreadable', { home })),
    ],
    reseed: reseed.filter((name) => name !== ''),
    unreadable,
    counts: new Map(sources.map(({ name, texts }) => [name, texts.length])),
  };
}

/**
 * The same for a window that only reads. What another window is just writing looks like damage, so
 * only what is still so at a second look is said.
 *
 * Fails: cannot-read.
 */
export async function lookUpTwice(
  place: Place,
  witness: readonly string[],
): Promise<CaseRows | Failed> {
  const first = await lookUp(place, witness, true);
  if (!first.ok || first.reports.length === 0) return first;
  if (first.unreadable.length === place.homes.length) return first; // nobody to look at again
  await new Promise((resolve) => setTimeout(resolve, place.patience.secondLookMs));
  const second = await lookUp(place, witness, true);
  if (!second.ok) return second;
  const isStillSo = (said: Report) => first.reports.some((one) => isSame(one, said));
  return { ...second, reports: second.reports.filter(isStillSo) };
}

const isSame = (one: Report, other: Report): boolean =>
  one.code === other.code && one.home === other.home && one.row === other.row;
