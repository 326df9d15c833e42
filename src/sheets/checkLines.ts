import { offeredAtOpening, variantGroups } from '#engine/offered.ts';
import type { Line, Turn } from '#engine/sheet.ts';
import { type Checking, checkName, isTold, mistake, type Path } from './checking.ts';
import { quoted } from './issues.ts';

/** Whether lines, turns and variants speak of what the sheet has, and do not contradict each other. */
export function checkLines(checking: Checking): void {
  const { sheet } = checking;
  const seen = new Map<string, string>();
  for (const line of sheet.lines) {
    const path = pathOf(line);
    const first = seen.get(line.id);
    if (first !== undefined)
      mistake(checking, 'said-twice', path, `the section ${first}`, 'be said once');
    seen.set(line.id, line.section);
    checkFilledIn(checking, line, path);
    checkNameOnce(checking, line, path);
    checkOpening(checking, line, path);
    checkTracked(checking, line, path);
    checkTogether(checking, line, path);
    for (const turn of line.turns) checkTurn(checking, line, turn, [...path, 'turns', turn.id]);
    for (const { line: other } of line.brings) {
      checkName(checking, 'unknown-line', [...path, 'brings', other], other, lineIds(checking));
      if (other === line.id)
        mistake(
          checking,
          'contradiction',
          [...path, 'brings', other],
          'the line itself',
          'another line',
        );
    }
  }
  checkVariants(checking);
}

/** Where a line stands in the sheet. */
export const pathOf = (line: Line): Path => ['sections', line.section, 'lines', line.id];

const lineIds = ({ sheet }: Checking): readonly string[] => sheet.lines.map(({ id }) => id);

function checkFilledIn(checking: Checking, line: Line, path: Path): void {
  const section = checking.written.sections.get(line.section);
  const written = section?.lines.get(line.id);
  if (section && written && section.class === undefined && written.class === undefined)
    mistake(
      checking,
      'missing',
      [...path, 'class'],
      'missing',
      'swab, sharp, small or instrument, here or at the section',
    );
  if (line.source === '' && written && !section?.source)
    mistake(
      checking,
      'missing',
      [...path, 'source'],
      'missing',
      'where it comes from, here or at the section ("common practice, no source" where so)',
    );
  const whole = /^(.*)-fragment$/.exec(line.id)?.[1];
  if (whole !== undefined && lineIds(checking).includes(whole))
    mistake(
      checking,
      'contradiction',
      path,
      quoted(line.id),
      `another name, since the fragments of a broken ${whole} get this one`,
    );
}

/** Lines are called aloud by their names: two of one name cannot be told apart. */
function checkNameOnce(checking: Checking, line: Line, path: Path): void {
  const called = ({ name }: Line): string => name.trim().toLowerCase();
  const { lines } = checking.sheet;
  const first = lines.find((one) => called(one) === called(line));
  if (line.name === '' || first === undefined || first === line) return;
  // A line that stands twice was told as such.
  if (lines.filter(({ id }) => id === line.id || id === first.id).length > 2) return;
  const found = `the line ${first.id}`;
  mistake(checking, 'said-twice', [...path, 'name'], found, 'be a name of its own');
}

function checkOpening(checking: Checking, line: Line, path: Path): void {
  const { pack, opening } = line;
  if (pack !== undefined && opening % pack !== 0)
    mistake(
      checking,
      'contradiction',
      [...path, 'opening'],
      String(opening),
      `whole packs of ${pack}`,
    );
  if (line.class === 'swab' && line.cuttable)
    mistake(
      checking,
      'contradiction',
      [...path, 'cuttable'],
      'yes',
      'no, since a counted swab is never cut',
    );
}

/** Why a line can be wholly inside, or undefined if nothing says so. */
function reasonInside({ sheet }: Checking, line: Line): string | undefined {
  if (line.class === 'swab') return 'a swab';
  if (line.startsIn !== undefined) return 'something that starts in the patient';
  if (line.stay.may !== 'no') return 'something that may stay inside';
  if (line.turns.some(({ at }) => at === 'patient')) return 'something that turns in the patient';
  const isGiven = sheet.lines.some(({ turns }) =>
    turns.some(({ at, gives }) =>
      gives.some(
        (given) =>
          given.line === line.id &&
          (given.place === 'patient' || (given.place === 'here' && at === 'patient')),
      ),
    ),
  );
  if (isGiven) return 'something that a turn leaves in the patient';
  const isInUse = sheet.closures.some(({ inUse }) => inUse.includes(line.id));
  return isInUse ? 'something in use inside at a closure' : undefined;
}

function checkTracked(checking: Checking, line: Line, path: Path): void {
  if (line.tracked) return;
  const reason = reasonInside(checking, line);
  if (reason !== undefined)
    mistake(
      checking,
      'contradiction',
      [...path, 'tracked'],
      'no',
      `yes, since it is ${reason} and can be wholly inside`,
    );
}

/** Counted with others of its group: there must be others, and none of what is counted singly everywhere. */
function checkTogether(checking: Checking, line: Line, path: Path): void {
  if (line.together !== true) return;
  const others = checking.sheet.lines.filter(
    ({ id, group, together }) => id !== line.id && group === line.group && together === true,
  );
  const isAlone = line.group === undefined || others.length === 0;
  const isSingle = line.class === 'swab' || line.class === 'sharp' || line.pack !== undefined;
  if (isAlone || isSingle)
    mistake(
      checking,
      'contradiction',
      [...path, 'together'],
      'yes',
      isSingle
        ? 'no, since swabs, sharps and packs are each counted by themselves'
        : 'no, since no other line of its group has it',
    );
}

function checkTurn(checking: Checking, line: Line, turn: Turn, path: Path): void {
  const asked = turn.gives.some(({ n }) => n === 'asked');
  if (asked && turn.asks === undefined)
    mistake(
      checking,
      'missing',
      [...path, 'asks'],
      'missing',
      'what is asked for, since a line has n: asked',
    );
  if (!asked && turn.asks !== undefined)
    mistake(
      checking,
      'contradiction',
      [...path, 'asks'],
      quoted(turn.asks),
      'left out, or a line that begins should have n: asked',
    );
  if (line.class === 'swab')
    mistake(
      checking,
      'contradiction',
      path,
      'a turn of a swab',
      'left out, since a counted swab stays whole',
    );
  const isStayTold = (one: Line): boolean => isTold(checking, [...pathOf(one), 'stay']);
  turn.gives.forEach((given, index) => {
    const here: Path = [...path, 'gives', index];
    checkName(checking, 'unknown-line', [...here, 'line'], given.line, lineIds(checking));
    const begins = checking.sheet.lines.find(({ id }) => id === given.line);
    if (begins?.stay.may === 'no' && given.place === 'stays' && !isStayTold(begins))
      mistake(
        checking,
        'contradiction',
        [...here, 'place'],
        '"stays"',
        `another place, or the line ${given.line} should have stay`,
      );
  });
}

function checkVariants(checking: Checking): void {
  const { sheet } = checking;
  const seen = new Map<string, string>();
  for (const { id, group, opens, without = {} } of sheet.variants) {
    const path: Path = ['variants', group, id];
    const first = seen.get(id);
    if (first !== undefined)
      mistake(checking, 'said-twice', path, `the group ${first}`, 'be said once');
    seen.set(id, group);
    for (const [line, n] of Object.entries(opens)) {
      checkName(checking, 'unknown-line', [...path, 'opens', line], line, lineIds(checking));
      const pack = sheet.lines.find((known) => known.id === line)?.pack;
      if (pack !== undefined && n % pack !== 0)
        mistake(
          checking,
          'contradiction',
          [...path, 'opens', line],
          String(n),
          `whole packs of ${pack}`,
        );
    }
    for (const [line, n] of Object.entries(without)) {
      checkName(checking, 'unknown-line', [...path, 'without', line], line, lineIds(checking));
      const known = sheet.lines.find((one) => one.id === line);
      if (known && n > known.opening)
        mistake(
          checking,
          'out-of-range',
          [...path, 'without', line],
          String(n),
          `at most the opening of the line, ${known.opening}`,
        );
    }
  }
  for (const group of variantGroups(sheet)) checkChoices(checking, group);
}

/** A case begins with the first of a group unless another is chosen: something must be there to begin with. */
function checkChoices(checking: Checking, group: string): void {
  const ways = checking.sheet.variants.filter((one) => one.group === group);
  ways.forEach(({ id, choose }, index) => {
    const path: Path = ['variants', group, id, 'choose'];
    if (choose === 'mid-case' && index === 0)
      mistake(checking, 'contradiction', path, 'mid-case', 'said of no first variant of a group');
    if (choose === 'never' && index > 0)
      mistake(checking, 'contradiction', path, 'never', 'said only of the first of its group');
    if (choose === 'never' && offeredAtOpening(checking.sheet, group).length === 0)
      mistake(checking, 'contradiction', path, 'never', 'said where another can be chosen');
  });
}
