import { checkpointsOf, yearsOld } from '#engine/applies.ts';
import { allergiesOf } from '#engine/checkpoints/allergiesOf.ts';
import { medicineOf } from '#engine/checkpoints/prophylaxis.ts';
import { exceptionsOf, verdictOf } from '#engine/closures/verdictOf.ts';
import { verdictWords } from '#engine/closures/verdictWords.ts';
import { momentName } from '#engine/counts/countsDue.ts';
import { lossOf } from '#engine/notes/lossOf.ts';
import type { Case, LeftPieces, Specimen } from '#engine/state.ts';
import { dateWords } from '#words/dates.ts';
import { say, sayAll, sayOf } from '#words/say.ts';
import { timeWords } from '../instants.ts';
import { type Branch, type Child, digits, el, person, table } from '../tree.ts';

/** Whose record it is, what was done, when and by whom. `kind` says what this page is. */
export function headOf(current: Case, code: string, kind: string): Branch {
  const { patient } = current;
  const weight = patient.weightKg === undefined ? '' : say` · ${patient.weightKg} kg`;
  const age = yearsOld(patient.born, current.startedAt);
  const until = current.finishedAt ? timeWords(current.finishedAt) : say`not finished`;
  return el(
    'header',
    { class: 'record-head' },
    el(
      'div',
      {},
      el(
        'p',
        { class: 'record-kind' },
        `${kind}${current.practice ? say` · PRACTICE, not a patient` : ''}`,
      ),
      el('h1', {}, person(patient.name)),
      el(
        'p',
        {},
        digits(patient.number),
        say` · born `,
        digits(patient.born),
        say` (${age} years)${weight}`,
      ),
      el('p', {}, say`Allergies: `, el('strong', {}, allergyWords(current))),
    ),
    el(
      'div',
      { class: 'record-side' },
      el('p', {}, el('strong', {}, current.sheet.title)),
      el('p', {}, variantWords(current)),
      el(
        'p',
        {},
        say`${dateWords(current.startedAt)}, ${timeWords(current.startedAt)} to ${until}`,
      ),
      el(
        'p',
        {},
        say`Sheet ${current.sheet.version} · chain code `,
        el('strong', { class: 'digits-type' }, code),
      ),
    ),
    el('p', { class: 'record-team' }, teamWords(current)),
  );
}

function allergyWords(current: Case): string {
  const allergies = allergiesOf(current);
  if (allergies === undefined) return say`not asked`;
  if (allergies === 'unwritten') return say`known, not written`;
  return allergies.length === 0 ? say`none known` : allergies.join(', ');
}

const variantWords = (current: Case): string => {
  const chosen = Object.values(current.variants);
  const names = current.sheet.variants.filter((one) => chosen.includes(one.id));
  return names.map((one) => one.name).join(' · ');
};

function teamWords(current: Case): string {
  const { scrub, circulator, surgeon, anaesthetist } = current.team;
  const reliefs = current.counts.reliefs.map(
    (one) => say`${one.to} for ${one.from} as ${sayOf(one.role)} at ${timeWords(one.at)}`,
  );
  const now = say`Scrub ${scrub} · Circulator ${circulator} · Surgeon ${surgeon} · Anaesthetist ${anaesthetist}`;
  return reliefs.length === 0 ? now : say`${now} · Reliefs: ${reliefs.join('; ')}`;
}

/** What came of it, in words, with every lasting exception. */
export function verdictBox(current: Case): Branch {
  const unsettled = Object.values(current.differing).map(
    (one) => say`${current.lines.get(one.line)?.name ?? one.line} does not agree.`,
  );
  const sentences = [...exceptionsOf(current).map((one) => one.sentence), ...unsettled];
  return el(
    'section',
    { class: 'record-verdict', 'data-verdict': verdictOf(current) },
    el('h2', {}, sayOf(verdictWords[verdictOf(current)])),
    sentences.length > 0
      ? el(
          'ul',
          {},
          sentences.map((one) => el('li', {}, one)),
        )
      : undefined,
  );
}

/** The counts that were made, one line each. */
export function countsList(current: Case): Branch {
  const { history } = current.counts;
  if (history.length === 0) return el('p', {}, say`No count was made.`);
  const items = history.map((count) => {
    const by = `${count.waived ? say`waived by` : say`agreed by`} ${sayAll(count.by)}: `;
    const name = el('strong', {}, momentName(current, count.moment));
    return el(
      'li',
      {},
      digits(timeWords(count.at)),
      ' ',
      name,
      ', ',
      by,
      countWords(current, count),
    );
  });
  return el('ul', { class: 'record-counts' }, items);
}

type Counted = Case['counts']['history'][number];

function countWords(current: Case, { differing, waived, lines, moment }: Counted): string {
  if (waived) return say`${lines} lines not counted`;
  if (differing.length === 0) return say`all ${lines} lines agree`;
  const names = differing.map(
    (line) => `${current.lines.get(line)?.name ?? line}${endWords(current, moment, line)}`,
  );
  return say`${lines} lines, of which did not agree: ${names.join(', ')}`;
}

/** How a line that did not agree at this count ended: whoever reads the first page need not look for it. */
function endWords(current: Case, moment: Counted['moment'], line: string): string {
  const end = current.settled.find((one) => one.line === line && one.moment === moment);
  if (!end) return '';
  const at = timeWords(end.settledAt);
  return end.how === 'agreed' ? say` (settled by recounts at ${at})` : say` (declared at ${at})`;
}

/** What was left on purpose, in plain words, and who has to do with it next. */
export function staysPart(current: Case): Branch {
  const rows = leftTogether(current).map(({ line, set }): readonly Child[] => {
    const handover = current.handovers[line];
    const decided = set.decidedBy ? say`decided by ${sayAll(set.decidedBy)}` : undefined;
    const why = [set.reason, set.lot ? say`lot ${set.lot}` : undefined, decided];
    return [
      current.lines.get(line)?.name ?? line,
      digits(set.n),
      set.where ?? siteName(current, set.site),
      why.filter(Boolean).join(' · '),
      handover ? `${handover.to}: ${handover.plan}` : '',
    ];
  });
  if (rows.length === 0) return el('p', {}, say`Nothing was left on purpose.`);
  return table(
    'record-stays',
    [say`What`, say`Pieces`, say`Where`, say`Why`, say`Handed over`],
    rows,
  );
}

type Left = { readonly line: string; readonly set: LeftPieces };

/** What was left, with pieces of which the same is said taken together: two knots are one row. */
export function leftTogether(current: Case): readonly Left[] {
  const kept = new Map<string, Left>();
  for (const [line, sets] of Object.entries(current.left))
    for (const set of sets) {
      const { n, at: _, ...said } = set;
      const key = JSON.stringify([
        line,
        said.site,
        said.where,
        said.reason,
        said.lot,
        said.decidedBy,
      ]);
      const before = kept.get(key);
      kept.set(key, { line, set: before ? { ...set, n: before.set.n + n } : set });
    }
  return [...kept.values()];
}

export const siteName = (current: Case, site: string | undefined): string =>
  current.sheet.sites.find((one) => one.id === site)?.name ?? site ?? '';

/** Each specimen from the field to whoever took it. */
export function specimensPart(current: Case): Branch {
  const specimens = Object.values(current.specimens);
  if (specimens.length === 0) return el('p', {}, say`No specimen was taken.`);
  const rows = specimens.map((one): readonly Child[] => [
    `${one.letter} ${one.name}`,
    outWords(current, one),
    one.pot
      ? `${one.pot}, ${sayOf(one.medium ?? '')}${one.mediumReason ? ` (${one.mediumReason})` : ''}`
      : '',
    doneWords(one.labelledBy, one.labelledAt),
    doneWords(one.readBackBy, one.readBackAt),
    doneWords(one.handedTo, one.handedAt),
  ]);
  const columns = [
    say`Specimen`,
    say`Out`,
    say`Pot`,
    say`Labelled`,
    say`Read back`,
    say`Handed over`,
  ];
  return table('record-specimens', columns, rows);
}

/** What is known of a specimen's way out. */
export function outWords(current: Case, one: Specimen): string {
  if (one.stage === 'planned') return say`not out`;
  if (one.stage === 'notTaken') return say`not taken: ${one.partReason ?? ''}`;
  const carries = Object.entries(one.carries ?? {}).map(
    ([line, n]) => `${n} × ${current.lines.get(line)?.name ?? line}`,
  );
  const pieces = one.pieces === 1 ? say`one piece` : say`${one.pieces} pieces`;
  const whole = one.isWhole
    ? say`whole`
    : say`not whole: ${one.partReason ?? say`no reason given`}`;
  const on = carries.length > 0 ? say`, with ${carries.join(', ')}` : '';
  return `${one.takenAt ? timeWords(one.takenAt) : ''} ${pieces}, ${whole}${on}`;
}

const doneWords = (who: string | undefined, at: string | undefined): string =>
  who && at ? `${timeWords(at)} ${who}` : '';

/** The checkpoints, the incision and the doses, each with its time. */
export function timesPart(current: Case): Branch {
  const checkpoints = checkpointsOf(current).map((one) => {
    const state = current.checkpoints[one.id];
    const fast = state?.fast ? say`, faster than it can be said` : '';
    const done = state?.finishedAt
      ? say`${timeWords(state.finishedAt)}, led by ${state.leader}${fast}`
      : say`not finished`;
    return `${one.name} ${done}`;
  });
  const incision = current.incisionAt ? [say`Incision ${timeWords(current.incisionAt)}`] : [];
  const items = [...checkpoints, ...incision, ...doseWords(current)];
  return el(
    'ul',
    { class: 'record-times' },
    items.map((words) => el('li', {}, words)),
  );
}

/** Every dose that was recorded. */
export const doseWords = (current: Case): readonly string[] =>
  current.doses.map((dose) => {
    const name = medicineOf(current, dose.agent)?.name ?? dose.agent;
    const mg = dose.mg === undefined ? say`, dose not recorded` : say` ${dose.mg} mg`;
    return say`${name} at ${timeWords(dose.at)}${mg}`;
  });

/** What was weighed and measured, as an estimate or as none. */
export function lossPart(current: Case): readonly Branch[] {
  if (current.weighed.length + current.fluids.length === 0) return [];
  const loss = lossOf(current);
  const sum = say`Swabs ${loss.swabsMl} mL + suction less irrigation ${loss.suctionMl} mL = about ${loss.totalMl}
    mL.`;
  const words = loss.isUnknown
    ? say`No estimate: a dry weight is not known, or is more than what was weighed.`
    : say`${sum} Weighing reads high; dry weights are those of the sheet.`;
  const look = say`More irrigation was recorded than the suction holds. Look again.`;
  return [
    el('p', {}, el('strong', {}, say`Fluid and blood, estimated: `), words),
    ...(loss.needsLook ? [el('p', {}, look)] : []),
  ];
}
