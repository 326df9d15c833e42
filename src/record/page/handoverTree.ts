import { checkpointOf, signOut } from '#engine/applies.ts';
import { dueAfter, lastDoses, medicineOf } from '#engine/checkpoints/prophylaxis.ts';
import { exceptionsOf, verdictOf, verdictWords } from '#engine/closures/verdictOf.ts';
import { insideOf } from '#engine/ledger.ts';
import { mustComeOut } from '#engine/moves/mustComeOut.ts';
import type { Case } from '#engine/state.ts';
import { instantText, timeWords } from '../instants.ts';
import { type Branch, type Child, digits, el, table } from '../tree.ts';
import type { WholeRecord } from '../wholeRecord.ts';
import { doseWords, headOf, leftTogether, lossPart, siteName } from './summary.ts';

/** One page for whoever looks after the patient next: what is still inside, and what is to be done about it. */
export function handoverTree({ current, code }: WholeRecord): Branch {
  const concerns = concernsOf(current);
  const open = current.finishedAt === undefined ? verdictWords.open : undefined;
  return el(
    'article',
    { class: 'record record-handover' },
    headOf(current, code, 'Hand-over note for recovery'),
    el(
      'section',
      { class: 'record-verdict', 'data-verdict': verdictOf(current) },
      el('h2', {}, open ?? verdictWords[verdictOf(current)]),
      el(
        'ul',
        {},
        exceptionsOf(current).map(({ sentence }) => el('li', {}, sentence)),
      ),
    ),
    el('section', {}, el('h2', {}, 'Must come out'), comesOutPart(current)),
    el('section', {}, el('h2', {}, 'Stays'), staysForGood(current)),
    el('section', {}, el('h2', {}, 'Antibiotics'), dosesPart(current)),
    el('section', {}, el('h2', {}, 'Specimens sent'), sentPart(current)),
    el('section', { class: 'record-loss' }, lossPart(current)),
    el(
      'section',
      {},
      el('h2', {}, 'What matters for recovery'),
      concerns.length > 0
        ? el(
            'ul',
            {},
            concerns.map((words) => el('li', {}, words)),
          )
        : el('p', {}, 'Nothing was written down. Ask the team.'),
      el('div', { class: 'record-lines-to-write' }, el('p', {}), el('p', {}), el('p', {})),
    ),
    el(
      'section',
      { class: 'record-signs' },
      el('p', {}, 'Handed over by'),
      el('p', {}, 'Taken over by'),
      el('p', {}, 'Time'),
    ),
    el(
      'p',
      { class: 'record-caution' },
      'Lastlook is an aid: this note says what the record knows, and no more. It is no prescription. Doses, and when drains and packing come out, are for licensed practitioners and local policy.',
    ),
  );
}

/** What was left and is to come out: packing, drains. Number first, since it is what is counted at removal. */
function comesOutPart(current: Case): Branch {
  const rows = leftTogether(current)
    .filter(({ line }) => mustComeOut(current.lines.get(line)))
    .map(({ line, set }): readonly Child[] => [
      current.lines.get(line)?.name ?? line,
      el('strong', { class: 'digits-type record-pieces' }, set.n),
      set.where ?? siteName(current, set.site),
      set.reason ?? '',
      current.handovers[line]?.plan ?? 'No plan was recorded. Ask the surgeon.',
    ]);
  const lost = [...current.lines.values()].flatMap(({ id, name }) => {
    const n = insideOf(current.ledger, id);
    return n > 0 ? [el('li', {}, `${n} ${name} inside by the record, not explained.`)] : [];
  });
  if (rows.length === 0 && lost.length === 0)
    return el('p', {}, 'Nothing that the record knows of.');
  const columns = ['What', 'Pieces', 'Where', 'Why', 'When and how it comes out'];
  return el(
    'div',
    {},
    rows.length > 0 ? table('record-stays', columns, rows) : undefined,
    lost.length > 0 ? el('ul', {}, lost) : undefined,
  );
}

function staysForGood(current: Case): Branch {
  const words = leftTogether(current)
    .filter(({ line }) => !mustComeOut(current.lines.get(line)))
    .map(({ line, set }) => {
      const lot = set.lot ? `, lot ${set.lot}` : '';
      const where = set.where ?? siteName(current, set.site).toLowerCase();
      const why = set.decidedBy ? `, left by decision: ${set.reason ?? ''}` : '';
      return `${set.n} ${current.lines.get(line)?.name ?? line}${where && `, ${where}`}${lot}${why}`;
    });
  if (words.length === 0) return el('p', {}, 'Nothing that the record knows of.');
  return el(
    'ul',
    { class: 'record-times' },
    words.map((one) => el('li', {}, one)),
  );
}

/** Doses and when the table has the next one due. It is counted from the start of the dose, and only read out. */
function dosesPart(current: Case): Branch {
  if (current.doses.length === 0) return el('p', {}, 'No dose was recorded.');
  const next = lastDoses(current).flatMap((dose) => {
    const due = dueAfter(current, dose);
    const name = medicineOf(current, dose.agent)?.name ?? dose.agent;
    const offset = current.lastAt.slice(-6);
    return due === undefined
      ? []
      : [
          `${name}: the table has the next one at ${timeWords(instantText(due, offset))}, if it goes on.`,
        ];
  });
  const all = [...doseWords(current), ...next];
  return el(
    'ul',
    { class: 'record-times' },
    all.map((words) => el('li', {}, words)),
  );
}

function sentPart(current: Case): Branch {
  const out = Object.values(current.specimens).filter(
    ({ stage }) => stage !== 'planned' && stage !== 'notTaken',
  );
  if (out.length === 0) return el('p', {}, 'None.');
  const items = out.map((one) => {
    const sent = one.handedTo
      ? `with ${one.handedTo} at ${timeWords(one.handedAt ?? '')}`
      : 'still here';
    return el('li', {}, digits(one.letter), ` ${one.name}, ${one.test}: ${sent}.`);
  });
  return el('ul', { class: 'record-times' }, items);
}

/** What was said at sign out in words, and every note of the case that a person wrote. */
function concernsOf(current: Case): readonly string[] {
  const answers = current.checkpoints[signOut]?.answers ?? {};
  const steps = checkpointOf(current, signOut)?.steps ?? [];
  const said = steps.flatMap(({ id, short, answering }) => {
    const answer = answers[id];
    if (answer?.kind === 'open') return [`${short}: left open by ${answer.name}: ${answer.reason}`];
    if (answer?.kind !== 'given' || answering.kind !== 'text') return [];
    return [`${short}: ${answer.value}`];
  });
  const own = /^(Label printed|Taken out as) /;
  const notes = current.notes.filter(({ text }) => !own.test(text)).map(({ text }) => text);
  return [...said, ...notes];
}
