import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { drillsOf, type ReadyDrill } from '#drill/drillFile.ts';
import { type FileIssue, readDrills } from '#drill/readDrills.ts';
import { type DrillOutcome, runDrill } from '#drill/runDrill.ts';
import type { Sheet } from '#engine/sheet.ts';
import { loadShared, loadSheets } from '#sheets/loadSheets.ts';
import { debriefOf } from './debrief.ts';
import { followed } from './follow.ts';
import { type Guide, readGuide } from './readGuide.ts';
import { sceneNow } from './sceneNow.ts';
import type { Prepared, Script } from './script.ts';

export type PracticeIssue = FileIssue & { readonly file: string };
export type LoadedPractice =
  | { readonly ok: true; readonly scripts: readonly Script[] }
  | { readonly ok: false; readonly issues: readonly PracticeIssue[] };

const guideEnding = '.guide.yaml';

/**
 * Every practice case of `checklists/practice`: a drill and, beside it, its guide. The drill is the worked
 * solution, so it is played through the guide: whoever does what it does has caught all of it. Node only.
 *
 * Throws: what the file system throws, if a file cannot be read.
 */
export function loadPractice(checklists: string): LoadedPractice {
  const folder = join(checklists, 'practice');
  const loaded = loadSheets(checklists);
  if (!existsSync(folder) || !loaded.ok) return { ok: true, scripts: [] }; // sheets tell their own mistakes
  const files = readdirSync(folder).sort();
  const issues: PracticeIssue[] = [];
  const scripts: Script[] = [];
  for (const file of files.filter(
    (name) => name.endsWith('.yaml') && !name.endsWith(guideEnding),
  )) {
    const made = scriptOf(folder, file, { sheets: loaded.sheets, checklists });
    if ('id' in made) scripts.push(made);
    else issues.push(...made);
  }
  for (const { id, patient } of scripts)
    if (scripts.some((other) => other.id !== id && other.patient.number === patient.number))
      issues.push({
        file: `practice/${id}.yaml`,
        line: 1,
        sentence: `${patient.number} is the number of another case too.`,
      });
  if (issues.length > 0) return { ok: false, issues };
  return { ok: true, scripts: scripts.sort((one, other) => one.level - other.level) };
}

type Beside = { readonly sheets: readonly Sheet[]; readonly checklists: string };

function scriptOf(folder: string, file: string, beside: Beside): Script | readonly PracticeIssue[] {
  const id = file.replace(/\.yaml$/, '');
  const guideFile = `${id}${guideEnding}`;
  const issue = (where: string, sentence: string, line = 1): readonly PracticeIssue[] => [
    { file: `practice/${where}`, line, sentence },
  ];
  const { sheets, checklists } = beside;
  const read = drillsOf(readFileSync(join(folder, file), 'utf8'), {
    shared: loadShared(checklists),
    byName: (name) => {
      const sheet = sheets.find((known) => known.id === name);
      return sheet ? { ok: true, sheet } : { ok: false, sentence: `There is no sheet ${name}.` };
    },
  });
  if (!read.ok) return read.issues.map((one) => ({ ...one, file: `practice/${file}` }));
  const [ready, second] = read.drills;
  if (!ready || second) return issue(file, 'A practice case is one drill.');
  if (typeof ready.drill.sheet !== 'string')
    return issue(file, 'A practice case names a sheet of checklists/.');
  if (!existsSync(join(folder, guideFile)))
    return issue(file, `There is no ${guideFile} beside it.`);
  const guide = guideIn(readFileSync(join(folder, guideFile), 'utf8'));
  if ('issues' in guide)
    return guide.issues.map((one) => ({ ...one, file: `practice/${guideFile}` }));
  const played = runDrill(ready.drill, ready.sheet);
  const [failure] = played.failures;
  if (failure) return issue(file, failure.sentence, ready.lineOf(failure.path));
  const script = joined(id, ready, guide, played);
  if (typeof script === 'string') return issue(guideFile, script);
  const wrong = wrongIn(script, ready.sheet, played);
  return wrong === undefined ? script : issue(guideFile, wrong);
}

function guideIn(text: string): Guide | { readonly issues: readonly FileIssue[] } {
  const read = readDrills(text);
  if (!read.ok) return { issues: read.issues };
  const [document] = read.documents;
  const parsed = readGuide(document?.data);
  if (parsed.ok) return parsed.guide;
  return {
    issues: parsed.problems.map(({ path, sentence }) => ({
      line: document?.lineOf(path) ?? 1,
      sentence,
    })),
  };
}

function joined(
  id: string,
  { drill, sheet }: ReadyDrill,
  guide: Guide,
  played: DrillOutcome,
): Script | string {
  const { name, about, level, scenes, slips, begins } = guide;
  const last = drill.steps.findIndex((step) => begins !== undefined && step.id === begins);
  if (begins !== undefined && last < 0) return `begins: no step of the drill has the id ${begins}.`;
  const prepared: readonly Prepared[] = played.commands
    .filter(({ step }) => step <= last)
    .map(({ command, by }) => ({ command, by }));
  // The person practises today: a time of the drill's day in what is recorded first would be wrong.
  if (JSON.stringify(prepared).includes(drill.start.slice(0, 10)))
    return 'What is recorded before it begins holds a time of the drill.';
  const { patient, team, variants } = drill;
  const who = { patient, team, variants, sheet: sheet.id };
  return { id, name, about, level, ...who, prepared, scenes, slips };
}

/** What does not hold together between drill, sheet and guide; undefined where all does. */
function wrongIn(script: Script, sheet: Sheet, played: DrillOutcome): string | undefined {
  if (!script.patient.number.startsWith('PRACTICE-'))
    return 'The number of the patient begins with PRACTICE-, so that nobody takes it for a real one.';
  const scenes = script.scenes.map(({ id }) => id);
  const lines = sheet.lines.map(({ id }) => id);
  const specimens = sheet.specimens.map(({ id }) => id);
  for (const slip of script.slips) {
    if (slip.kind !== 'label' && !lines.includes(slip.line))
      return `The sheet has no line ${slip.line}.`;
    if (slip.kind === 'label' && !specimens.includes(slip.specimen))
      return `The sheet has no specimen ${slip.specimen}.`;
    if (slip.kind === 'lost' && !scenes.includes(slip.at)) return `There is no scene ${slip.at}.`;
  }
  const end = followed(script, played.events);
  const left = end.current && sceneNow(script, end.current, end.live).scene;
  if (left) return `The drill does not come to the end of the scene ${left.id}.`;
  const waiting = script.slips.find(({ id }) => end.slips[id] !== 'seen');
  if (waiting) return `The drill does not find what ${waiting.id} hides.`;
  const missed = debriefOf(end).findings.find(({ tone }) => tone === 'missed');
  return missed && `The drill is no solution. ${missed.sentence}`;
}
