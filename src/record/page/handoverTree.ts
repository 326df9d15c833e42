import { checkpointOf, signOut } from '#engine/applies.ts';
import { dueAfter, lastDoses, medicineOf } from '#engine/checkpoints/prophylaxis.ts';
import { exceptionsOf, verdictOf } from '#engine/closures/verdictOf.ts';
import { verdictWords } from '#engine/closures/verdictWords.ts';
import { insideOf } from '#engine/ledger.ts';
import { mustComeOut } from '#engine/moves/mustComeOut.ts';
import { tabletName } from '#engine/people.ts';
import type { Case } from '#engine/state.ts';
import { say, sayInside, sayOf } from '#words/say.ts';
import { instantText, timeWords } from '../instants.ts';
import { type Branch, type Child, digits, el, table } from '../tree.ts';
import type { WholeRecord } from '../wholeRecord.ts';
import { doseWords, headOf, leftTogether, lossPart, siteName } from './summary.ts';

/** One page for whoever looks after the patient next: what is still inside, and what is to be done about it. */
export function handoverTree({ current, code }: WholeRecord): Branch {
  const concerns = concernsOf(current);
  const open = current.finishedAt === undefined ? sayOf(verdictWords.open) : undefined;
  return el(
    'article',
    { class: 'record record-handover' },
    headOf(current, code, say`Hand-over note for recovery`),
    el(
      'section',
      { class: 'record-verdict', 'data-verdict': verdictOf(current) },
      el('h2', {}, open ?? sayOf(verdictWords[verdictOf(current)])),
      el(
        'ul',
        {},
        exceptionsOf(current).map(({ sentence }) => el('li', {}, sentence)),
      ),
    ),
    el('section', {}, el('h2', {}, say`Must come out`), comesOutPart(current)),
    el('section', {}, el('h2', {}, say`Stays`), staysForGood(current)),
    el('section', {}, el('h2', {}, say`Antibiotics`), dosesPart(current)),
    el('section', {}, el('h2', {}, say`Specimens sent`), sentPart(current)),
    el('section', { class: 'record-loss' }, lossPart(current)),
    el(
      'section',
      {},
      el('h2', {}, say`What matters for recovery`),
      concerns.length > 0
        ? el(
            'ul',
            {},
            concerns.map((words) => el('li', {}, words)),
          )
        : el('p', {}, say`Nothing was written down. Ask the team.`),
      el('div', { class: 'record-lines-to-write' }, el('p', {}), el('p', {}), el('p', {})),
    ),
    el(
      'section',
      { class: 'record-signs' },
      el('p', {}, say`Handed over by`),
      el('p', {}, say`Taken over by`),
      el('p', {}, say`Time`),
    ),
    el(
      'p',
      { class: 'record-caution' },
      say`Lastlook is an aid: this note says what the record knows, and no more. It is no prescription. Doses, and
        when drains and packing come out, are for licensed practitioners and local policy.`,
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
      current.handovers[line]?.plan ?? say`No plan was recorded. Ask the surgeon.`,
    ]);
  const lost = [...current.lines.values()].flatMap(({ id, name }) => {
    const n = insideOf(current.ledger, id);
    return n > 0 ? [el('li', {}, say`${n} ${name} inside by the record, not explained.`)] : [];
  });
  if (rows.length === 0 && lost.length === 0)
    return el('p', {}, say`Nothing that the record knows of.`);
  const columns = [say`What`, say`Pieces`, say`Where`, say`Why`, say`When and how it comes out`];
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
      const lot = set.lot ? say`, lot ${set.lot}` : '';
      const where = set.where ?? sayInside(siteName(current, set.site));
      const why = set.decidedBy ? say`, left by decision: ${set.reason ?? ''}` : '';
      return `${set.n} × ${current.lines.get(line)?.name ?? line}${where && `, ${where}`}${lot}${why}`;
    });
  if (words.length === 0) return el('p', {}, say`Nothing that the record knows of.`);
  return el(
    'ul',
    { class: 'record-times' },
    words.map((one) => el('li', {}, one)),
  );
}

/** Doses and when the table has the next one due. It is counted from the start of the dose, and only read out. */
function dosesPart(current: Case): Branch {
  if (current.doses.length === 0) return el('p', {}, say`No dose was recorded.`);
  const next = lastDoses(current).flatMap((dose) => {
    const due = dueAfter(current, dose);
    const name = medicineOf(current, dose.agent)?.name ?? dose.agent;
    const offset = current.lastAt.slice(-6);
    return due === undefined
      ? []
      : [
          say`${name}: the table has the next one at ${timeWords(instantText(due, offset))}, if it goes on.`,
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
  if (out.length === 0) return el('p', {}, say`None.`);
  const items = out.map((one) => {
    const sent = one.handedTo
      ? say`with ${one.handedTo} at ${timeWords(one.handedAt ?? '')}`
      : say`still here`;
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
    if (answer?.kind === 'open')
      return [say`${short}: left open by ${answer.name}: ${answer.reason}`];
    if (answer?.kind !== 'given' || answering.kind !== 'text') return [];
    return [`${short}: ${answer.value}`];
  });
  const own = /^(Label printed|Taken out as) /; // as the tablet wrote it before it did so in its own name
  const written = current.notes.filter(({ text, by }) => by !== tabletName && !own.test(text));
  const notes = written.map(({ text }) => text);
  return [...said, ...notes];
}
