import { mostPressingFirst, type Owed } from '#engine/case/owedAfter.ts';
import { daysSince } from '#engine/quantities.ts';
import { csvOf } from '#record/tables/csv.ts';

/** One thing that is owed, and whose case owes it. */
export type OwedLine = Owed & {
  readonly patient: string;
  readonly number: string;
  readonly title: string;
  readonly startedAt: string;
};

const kinds: Readonly<Record<Owed['kind'], string>> = {
  film: 'film not read',
  result: 'result not seen',
  removal: 'must come out',
};

/** What is owed over all cases, as the screen lists it, for a spreadsheet. */
export function owedTable(owed: readonly OwedLine[], now: string) {
  const rows = [...owed]
    .sort(mostPressingFirst)
    .map((one) => [
      kinds[one.kind],
      one.words,
      one.since,
      daysSince(one.since, now),
      one.who,
      one.plan,
      one.patient,
      one.number,
      one.title,
      one.startedAt,
    ]);
  const columns = ['owed', 'what', 'since', 'days', 'who', 'plan', 'patient', 'number'];
  const text = csvOf({ columns: [...columns, 'operation', 'operated at'], rows });
  return { text, name: `lastlook-owed-${now.slice(0, 10)}.csv`, type: 'text/csv' };
}
