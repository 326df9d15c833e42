import type { Checkpoint, Sheet, Step } from '#engine/sheet.ts';
import { appliesTo, choicesOf } from './checkClosures.ts';
import { fieldOf, type Path, positionAt } from './checking.ts';
import { pathOf } from './checkLines.ts';
import { type Warning, warningOf } from './issues.ts';
import type { Tree } from './tree.ts';

/**
 * Units: steps; words a minute read aloud; seconds.
 *
 * Source: WHO Implementation Manual 2008 (five to nine items, about a minute; from memory); speed of reading
 * aloud: common practice, no source.
 */
const stepsMax = 9;
const wordsPerMinute = 150;
const secondsMax = 60;

/** What an author should know of a sheet that is allowed all the same. */
export function warningsOf(sheet: Sheet, tree: Tree): readonly Warning[] {
  const warn = (path: Path, says: string): Warning =>
    warningOf(positionAt(tree, path), fieldOf(path), says);
  const longOnes = sheet.checkpoints.flatMap((checkpoint) => {
    const path: Path = ['checkpoints', checkpoint.id];
    const { steps, seconds } = longestOf(sheet, checkpoint);
    const found: Warning[] = [];
    if (steps > stepsMax)
      found.push(
        warn(path, `can ask ${steps} steps at once, and more than ${stepsMax} are skipped`),
      );
    if (seconds > secondsMax)
      found.push(
        warn(path, `takes about ${seconds} seconds to read aloud, and should take about a minute`),
      );
    return found;
  });
  const unseen = sheet.lines.filter(({ film, counted }) => film === 'no' && counted);
  const [first] = unseen;
  if (first === undefined) return longOnes;
  const names = unseen.map(({ name }) => name).join(', ');
  const says = `cannot be shown by an X-ray, so that no film settles its loss (all such: ${names})`;
  return [...longOnes, warn(pathOf(first), says)];
}

/** The most that a checkpoint can ask of one case: steps that exclude each other do not add up. */
function longestOf(sheet: Sheet, checkpoint: Checkpoint): { steps: number; seconds: number } {
  let [steps, words] = [0, 0];
  // Where there are too many choices, the steps are taken as if all were asked.
  const choices = choicesOf(sheet, checkpoint.steps) ?? [sheet.variants.map(({ id }) => id)];
  for (const chosen of choices) {
    const asked = checkpoint.steps.filter((step) => appliesTo(chosen, step.when));
    const together = most(asked, () => 1);
    const read = most(asked, ({ ask }) => ask.split(/\s+/).length);
    [steps, words] = [Math.max(steps, together), Math.max(words, read)];
  }
  return { steps, seconds: Math.round((words / wordsPerMinute) * 60) };
}

/** Steps always asked, and for each earlier answer that steps depend on, its longest branch. */
function most(steps: readonly Step[], weight: (step: Step) => number): number {
  let sum = 0;
  const branches = new Map<string, Map<string, number>>();
  for (const step of steps) {
    const { when } = step;
    if (when?.step === undefined) {
      sum += weight(step);
      continue;
    }
    const branch = branches.get(when.step) ?? new Map<string, number>();
    for (const answer of when.is ?? [String(when.flagged ?? 'any')])
      branch.set(answer, (branch.get(answer) ?? 0) + weight(step));
    branches.set(when.step, branch);
  }
  for (const branch of branches.values()) {
    const always = branch.get('any') ?? 0;
    const rest = [...branch].filter(([answer]) => answer !== 'any').map(([, size]) => size);
    sum += always + Math.max(0, ...rest);
  }
  return sum;
}
