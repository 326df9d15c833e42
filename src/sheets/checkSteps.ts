import type { Sheet, Step, When } from '#engine/sheet.ts';
import { type Checking, checkName, isTold, mistake, type Path } from './checking.ts';
import { listed, quoted } from './issues.ts';
import { standardCheckpoints, whoItems } from './words.ts';

/** Whether checkpoints and last looks ask what can be answered, when it can be asked. */
export function checkSteps(checking: Checking): void {
  const { sheet, written } = checking;
  for (const checkpoint of sheet.checkpoints) {
    const path: Path = ['checkpoints', checkpoint.id];
    checkStepList(checking, checkpoint.steps, [...path, 'steps']);
    checkWhen(checking, checkpoint.when, [...path, 'when'], []);
    if (checkpoint.steps.length === 0 && !isUnread(checking, checkpoint.id))
      mistake(checking, 'missing', [...path, 'steps'], 'missing', 'at least one step');
    const one = written.checkpoints.get(checkpoint.id);
    if (one && !Object.hasOwn(standardCheckpoints, checkpoint.id))
      for (const key of ['name', 'before', 'leader', 'present'] as const)
        if (one[key] === undefined)
          mistake(
            checking,
            'missing',
            [...path, key],
            'missing',
            `said, since ${checkpoint.id} is not one of the three checkpoints of the WHO list`,
          );
    const acts = ['anaesthesia', 'incision', 'leaving', ...sheet.closures.map(({ id }) => id)];
    checkName(checking, 'unknown-act', [...path, 'before'], checkpoint.before, acts);
    if (checkpoint.present.length > 0 && !checkpoint.present.includes(checkpoint.leader))
      mistake(
        checking,
        'contradiction',
        [...path, 'leader'],
        quoted(checkpoint.leader),
        'one of those who must be present',
      );
  }
  [...written.closures.keys()].forEach((key, index) => {
    checkStepList(checking, sheet.closures[index]?.look ?? [], ['closures', key, 'look']);
  });
  checkWhoItems(checking);
}

function checkStepList(checking: Checking, steps: readonly Step[], path: Path): void {
  steps.forEach((step, index) => {
    // A step that could not be read was told; nothing more can be said of it.
    if (step.ask === '') return;
    const here: Path = [...path, step.id];
    const earlier = steps.slice(0, index);
    checkWhen(checking, step.when, [...here, 'when'], earlier);
    if (!isTold(checking, [...here, 'answer'])) {
      checkAnswers(checking, step, here);
      checkNumber(checking, step, here);
    }
    if (step.source === '')
      mistake(
        checking,
        'missing',
        [...here, 'source'],
        'missing',
        'where it comes from, here or above the steps ("common practice, no source" where so)',
      );
    const { answering } = step;
    const isDose = answering.kind === 'computed' && answering.from === 'prophylaxis';
    if (isDose && checking.sheet.medicines.length === 0)
      mistake(
        checking,
        'contradiction',
        [...here, 'answer'],
        'prophylaxis',
        'something else, or the sheet should have medicines',
      );
  });
}

/** The words that can answer a step; undefined where any number, time or text can. */
function answersOf({ answering }: Step): readonly string[] | undefined {
  if (answering.kind === 'confirm') return ['yes', 'no'];
  if (answering.kind === 'choice') return answering.options.map(({ id }) => id);
  return answering.kind === 'computed' ? [] : undefined;
}

function checkAnswers(checking: Checking, step: Step, path: Path): void {
  const { kind } = step.answering;
  const answers = answersOf(step);
  if (kind === 'choice' && (answers?.length ?? 0) < 2)
    mistake(checking, 'contradiction', [...path, 'answer'], 'one answer', 'two answers or more');
  const isSaid = step.usual !== undefined && step.usual !== '';
  if (!isSaid && (kind === 'choice' || kind === 'number' || kind === 'text'))
    mistake(
      checking,
      'missing',
      [...path, 'usual'],
      'missing',
      'the answer of a case without trouble',
    );
  if (isSaid && answers !== undefined)
    checkAnswer(checking, [...path, 'usual'], step.usual ?? '', answers);
  if (isSaid && kind === 'number' && !/^\d{1,5}(\.\d+)?$/.test(step.usual ?? ''))
    mistake(
      checking,
      'out-of-range',
      [...path, 'usual'],
      quoted(step.usual ?? ''),
      'a number from 0 to 99999',
    );
  step.stopOn.forEach((answer, index) => {
    const here: Path = [...path, 'stop-on', index];
    if (answers !== undefined) checkAnswer(checking, here, answer, answers);
    if (answer === step.usual)
      mistake(checking, 'contradiction', here, quoted(answer), 'an answer that is not the usual');
  });
}

function checkAnswer(
  checking: Checking,
  path: Path,
  answer: string,
  answers: readonly string[],
): void {
  if (answers.length > 0) checkName(checking, 'unknown-answer', path, answer, answers);
  else
    mistake(
      checking,
      'unknown-answer',
      path,
      quoted(answer),
      'none, since the case itself answers',
    );
}

function checkNumber(checking: Checking, step: Step, path: Path): void {
  const { written, sheet } = checking;
  const { answering } = step;
  if (answering.kind === 'number') {
    const { opens } = answering;
    if (opens === undefined) return;
    const [lines, sites] = [sheet.lines.map(({ id }) => id), sheet.sites.map(({ id }) => id)];
    checkName(checking, 'unknown-line', [...path, 'opens', 'line'], opens.line, lines);
    const opened = sheet.lines.find(({ id }) => id === opens.line);
    if (opened && opened.startsIn === undefined)
      mistake(
        checking,
        'contradiction',
        [...path, 'opens', 'line'],
        quoted(opens.line),
        'a line with starts-in, since it begins in the patient',
      );
    checkName(checking, 'unknown-site', [...path, 'opens', 'site'], opens.site, sites);
    return;
  }
  const [list, owner, , key] = path;
  const steps =
    list === 'checkpoints'
      ? written.checkpoints.get(String(owner))?.steps
      : written.closures.get(String(owner))?.look;
  const one = steps?.get(String(key));
  for (const word of ['unit', 'flag', 'opens'] as const)
    if (one?.[word] !== undefined)
      mistake(
        checking,
        'contradiction',
        [...path, word],
        'said',
        `left out, since only answer: number has ${word}`,
      );
}

/** Whether a condition names variants of the sheet, and an earlier step with that answer. */
export function checkWhen(
  checking: Checking,
  when: When | undefined,
  path: Path,
  earlier: readonly Step[],
): void {
  if (when === undefined) return;
  const variants = checking.sheet.variants.map(({ id }) => id);
  when.variant?.forEach((variant, index) => {
    checkName(checking, 'unknown-variant', [...path, 'variant', index], variant, variants);
  });
  if (when.step === undefined) {
    if (when.is !== undefined || when.flagged !== undefined)
      mistake(checking, 'missing', [...path, 'step'], 'missing', 'the step that is meant');
    return;
  }
  const step = earlier.find(({ id }) => id === when.step);
  if (step === undefined) {
    const known = earlier.map(({ id }) => id);
    checkName(checking, 'unknown-step', [...path, 'step'], when.step, known);
    return;
  }
  const answers = answersOf(step);
  when.is?.forEach((answer, index) => {
    if (answers !== undefined) checkAnswer(checking, [...path, 'is', index], answer, answers);
  });
  if (when.flagged !== undefined && !(step.answering.kind === 'number' && step.answering.flag))
    mistake(
      checking,
      'contradiction',
      [...path, 'flagged'],
      'said',
      `left out, since ${step.id} has no flag`,
    );
}

/**
 * Every item of the WHO list is asked in its checkpoint, or is left out by name.
 *
 * Source: WHO Implementation Manual 2008, on modifying the list: removing items is strongly discouraged.
 */
function checkWhoItems(checking: Checking): void {
  const { sheet, leftOut } = checking;
  for (const standard of Object.keys(standardCheckpoints)) {
    const numbers = whoItems.flatMap(({ checkpoint }, index) =>
      checkpoint === standard ? [index + 1] : [],
    );
    const missing = numbers.filter((item) => !leftOut.has(item) && !isAsked(sheet, item));
    for (const { id } of sheet.checkpoints) {
      const strays = id === standard ? [] : numbers.filter((item) => isAsked(sheet, item, id));
      const path: Path = ['checkpoints', id, 'steps'];
      if (strays.length > 0) mistake(checking, 'who-place', path, itemsInWords(strays), standard);
    }
    if (missing.length === 0 || isUnread(checking, standard)) continue;
    mistake(
      checking,
      'who-item',
      ['checkpoints', standard],
      itemsInWords(missing),
      'a step for each, or a change that leaves it out by number, with reason and approver',
    );
  }
}

const isAsked = (sheet: Sheet, item: number, checkpoint?: string): boolean =>
  sheet.checkpoints.some(
    ({ id, steps }) =>
      (checkpoint === undefined || id === checkpoint) &&
      steps.some(({ whoItem }) => whoItem === item),
  );

/** Whether some of it could not be read, so that nobody knows what it asks. That was told already. */
const isUnread = ({ issues }: Checking, checkpoint: string): boolean =>
  issues.some(
    ({ code, field }) =>
      field === 'checkpoints' ||
      code === 'unknown-file' ||
      ((code === 'unknown-shared' || code === 'wrong-kind' || code === 'missing') &&
        `${field}.`.startsWith(`checkpoints.${checkpoint}.`)),
  );

function itemsInWords(items: readonly number[]): string {
  const words = items.map((item) => `${item} (${whoItems[item - 1]?.words ?? ''})`);
  return `WHO ${items.length === 1 ? 'item' : 'items'} ${listed(words)}`;
}
