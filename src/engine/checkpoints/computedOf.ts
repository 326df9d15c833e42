import { say, sayAll } from '#words/say.ts';
import { closuresOf } from '../applies.ts';
import { unreachable } from '../assert.ts';
import { countsDue, dueWords } from '../counts/countsDue.ts';
import { isExplained } from '../moves/isExplained.ts';
import type { ComputedFrom } from '../sheet.ts';
import type { Case } from '../state.ts';
import { bestDose, dosesByAgent, medicineOf, type StoodDose } from './prophylaxis.ts';

/** What a computed step says: whether it is satisfied, and in words. */
export type Computed = { readonly ok: boolean; readonly words: string };

/**
 * The answer that a step takes from the case.
 *
 * Rules: K5.
 */
export function computedOf(current: Case, from: ComputedFrom, now: string): Computed {
  switch (from) {
    case 'first-count':
      return firstCount(current);
    case 'counts':
      return counts(current);
    case 'specimens':
      return specimens(current);
    case 'prophylaxis':
      return prophylaxis(current, now);
    case 'left':
      return left(current);
    default:
      return unreachable(from);
  }
}

function firstCount(current: Case): Computed {
  const { first, done } = current.counts;
  if (first === 'agreed')
    return { ok: true, words: say`Agreed by ${sayAll(done.first?.by ?? [])}` };
  if (first === 'waived') return { ok: true, words: say`Waived: an X-ray is owed` };
  return { ok: false, words: say`The first count is not agreed` };
}

function counts(current: Case): Computed {
  const { running, reliefDue, waivers } = current.counts;
  const open = Object.keys(current.differing);
  if (running) return { ok: false, words: say`A count is running` };
  if (open.length > 0) return { ok: false, words: say`${open.length} not agreed` };
  if (reliefDue.length > 0) return { ok: false, words: say`A relief count is due` };
  const last = current.counts.history.at(-1);
  const declared = current.missing.filter((mark) => mark.why === 'declared').length;
  if (!last || last.moment === 'first') return { ok: false, words: say`No count since the first` };
  if (last.entry < current.agedEntry) return { ok: false, words: say`The last count is stale` };
  const [due] = countsDue(current, closuresOf(current), true);
  if (due) return { ok: false, words: dueWords(current, due) };
  if (declared > 0) return { ok: true, words: say`Not reconciled: ${declared} declared missing` };
  if (waivers.length > 0) return { ok: true, words: say`Not reconciled: a count was waived` };
  return { ok: true, words: say`All lines agree, ${last.lines} lines` };
}

function specimens(current: Case): Computed {
  const taken = Object.values(current.specimens).filter((one) => one.stage !== 'notTaken');
  if (taken.length === 0) return { ok: true, words: say`None taken` };
  const open = taken.filter((one) => one.stage !== 'readBack' && one.stage !== 'handedOver');
  const first = open[0];
  if (first)
    return { ok: false, words: say`${first.letter} ${first.name} is not labelled and read back` };
  return { ok: true, words: taken.map((one) => `${one.letter} ${one.name}`).join(', ') };
}

function prophylaxis(current: Case, now: string): Computed {
  const act = current.incisionAt ?? now;
  const best = bestDose(current, act);
  if (!best) return { ok: false, words: say`No dose recorded` };
  if (best.window.state !== 'in-window') return { ok: false, words: doseWords(current, best) };
  const inTime = dosesByAgent(current, act).filter(({ window }) => window.state === 'in-window');
  return { ok: true, words: inTime.map((stood) => doseWords(current, stood)).join('; ') };
}

function doseWords(current: Case, { dose, window }: StoodDose): string {
  const name = medicineOf(current, dose.agent)?.name ?? dose.agent;
  const started = say`${name} at ${dose.at.slice(11, 16)}`;
  if (window.windowMinutes === undefined) return say`${started}: the sheet has no window for it`;
  if (window.state === 'late') return say`${started}, after incision`;
  const before = say`${started}, ${window.minutes} min before`;
  return window.state === 'in-window'
    ? before
    : say`${before}: outside ${window.windowMinutes} min`;
}

function left(current: Case): Computed {
  const pieces = Object.entries(current.left).flatMap(([id, sets]) => {
    const line = current.lines.get(id);
    return line ? sets.map((set) => ({ line, set })) : [];
  });
  const open = pieces.find(({ line, set }) => !isExplained(line, set));
  if (open) return { ok: false, words: say`${open.line.name} stays without a reason` };
  if (pieces.length === 0) return { ok: true, words: say`Nothing stays` };
  return { ok: true, words: pieces.map(({ line, set }) => `${set.n} ${line.name}`).join(', ') };
}
