import { verdictOf } from '#engine/closures/verdictOf.ts';
import { verdictWords } from '#engine/closures/verdictWords.ts';
import { momentName } from '#engine/counts/countsDue.ts';
import type { Case, DiscrepancyStep, Settled } from '#engine/state.ts';
import { say, sayAll, sayInside, sayOf } from '#words/say.ts';
import type { Followed, Miscount, SlipState } from './followed.ts';
import type { LostPieces, Slip } from './script.ts';
import { pieces } from './world.ts';

/** One thing that was caught or missed. */
export type Finding = { readonly tone: 'caught' | 'missed'; readonly sentence: string };

export type Debrief = {
  readonly headline: string;
  /** What really happened, in order. */
  readonly happened: readonly string[];
  readonly findings: readonly Finding[];
  /** How the record ends, in its own words. */
  readonly verdict: string;
};

const caught = (sentence: string): Finding => ({ tone: 'caught', sentence });
const missed = (sentence: string): Finding => ({ tone: 'missed', sentence });

/** What was caught and what was missed in a practice, in sentences. */
export function debriefOf(now: Followed): Debrief {
  const { current } = now;
  if (!current)
    return { headline: say`Nothing was practised.`, happened: [], findings: [], verdict: '' };
  const findings = [
    ...now.script.slips.flatMap((slip) => ofSlip(now, current, slip)),
    ...ofCounts(now, current),
    ...ofUntrue(now, current),
    ...current.settled.filter(({ stage }) => stage === 'discrepancy').flatMap(ofSearch(current)),
  ];
  const isAll = findings.every(({ tone }) => tone === 'caught');
  return {
    headline: isAll ? say`You caught it all.` : say`Not all of it was caught.`,
    happened: now.script.slips
      .filter(({ id, kind }) => kind === 'label' || !isUnborn(now.slips[id]))
      .map(({ happened }) => sayOf(happened)),
    findings: [...findings].sort((one, other) => rank(one) - rank(other)),
    verdict: sayOf(verdictWords[verdictOf(current)]),
  };
}

const isUnborn = (state: SlipState | undefined): boolean =>
  state === undefined || state === 'waiting' || state === 'over';

/** What was missed comes first: it is what practice is for. */
const rank = ({ tone }: Finding): number => (tone === 'missed' ? 0 : 1);

function ofSlip(now: Followed, current: Case, slip: Slip): readonly Finding[] {
  const state = now.slips[slip.id];
  switch (slip.kind) {
    case 'lost':
      return isUnborn(state) ? [] : ofLost(now, current, slip);
    case 'pack':
      if (state === 'seen') return [caught(sayOf(slip.caught))];
      if (state !== 'there') return [];
      return current.counts.amendments.some(({ line }) => line === slip.line)
        ? [
            missed(sayOf(slip.missed)),
            caught(say`The counts showed it later, and it was amended in writing.`),
          ]
        : [missed(sayOf(slip.missed))];
    case 'label':
      return ofLabel(now, slip);
  }
}

function ofLost(now: Followed, current: Case, slip: LostPieces): readonly Finding[] {
  const closure = closureName(current, now.closedOver[slip.id]);
  const late = closure
    ? [missed(say`${closure} was closed while it lay ${sayOf(slip.where)}.`)]
    : [];
  if (now.slips[slip.id] === 'seen') {
    const inHand =
      pieces(now.world, slip.line, 'in hand') + pieces(now.world, slip.line, 'in hand, off');
    const open = inHand > 0 ? [missed(say`It was found, and nobody said so on the tablet.`)] : [];
    return [caught(sayOf(slip.caught)), ...late, ...open];
  }
  const isDeclared = current.missing.some(
    ({ line, why }) => line === slip.line && why === 'declared',
  );
  const declared = isDeclared
    ? [caught(say`It was declared unaccounted for: the record hides nothing.`)]
    : [];
  return [
    missed(sayOf(slip.missed)),
    missed(say`It lay ${sayOf(slip.where)}.`),
    ...late,
    ...declared,
  ];
}

const closureName = (current: Case, id: string | undefined): string | undefined =>
  current.sheet.closures.find((closure) => closure.id === id)?.name;

function ofLabel(
  now: Followed,
  slip: Extract<Slip, { readonly kind: 'label' }>,
): readonly Finding[] {
  const accepted = now.untrue.filter(({ line }) => line === slip.specimen);
  const wasRead = accepted.some(({ what }) => what === 'readBack');
  if (now.slips[slip.id] === 'seen' && !wasRead)
    return accepted.length === 0
      ? [caught(sayOf(slip.caught))]
      : [
          missed(sayOf(slip.missed)),
          caught(say`The second person saw it when the label was read back.`),
        ];
  return accepted.length === 0 ? [] : [missed(sayOf(slip.missed))];
}

function ofCounts(now: Followed, current: Case): readonly Finding[] {
  if (now.miscounts.length > 0)
    return now.miscounts.map((one) => missed(miscountWords(current, one)));
  const isCounted = now.live.some(({ type }) => type === 'countAgreed' || type === 'recounted');
  return isCounted ? [caught(say`At every count you said what lay there.`)] : [];
}

function miscountWords(current: Case, { moment, line, said, lay }: Miscount): string {
  const when =
    moment === 'recount' ? say`a recount` : say`the ${sayInside(momentName(current, moment))}`;
  const name = current.lines.get(line)?.name ?? line;
  const lies = lay === 1 ? say`1 lay there` : say`${lay} lay there`;
  return say`At ${when} you said ${said} of ${name}; ${lies}.`;
}

function ofUntrue(now: Followed, current: Case): readonly Finding[] {
  const name = (line: string) => current.lines.get(line)?.name ?? line;
  return now.untrue.flatMap(({ what, line }) => {
    if (what === 'moved')
      return [missed(say`You recorded ${name(line)} as moved. Nobody had seen it.`)];
    if (what === 'found')
      return [missed(say`You said that ${name(line)} was found. Nobody had found it.`)];
    return []; // a label is told with its slip
  });
}

const stepWords = (): Readonly<Record<DiscrepancyStep, string>> => ({
  'surgeon-told': say`telling the surgeon`,
  'record-read': say`reading the record back`,
  'field-searched': say`searching the field`,
  'room-searched': say`searching the room`,
  xray: say`the X-ray`,
});

/** Whether a discrepancy was gone about in the right way: told, read back, then searched. */
const ofSearch =
  (current: Case) =>
  (one: Settled): readonly Finding[] => {
    const name = current.lines.get(one.line)?.name ?? one.line;
    const first = ['surgeon-told', 'record-read'] as const;
    const left = first.filter((step) => !one.steps[step] || one.steps[step]?.skipped !== undefined);
    if (left.length === 0)
      return [
        caught(say`${name}: the surgeon was told and the record read back before it was settled.`),
      ];
    const words = sayAll(left.map((step) => stepWords()[step]));
    return [missed(say`${name}: ${words} was left out.`)];
  };
