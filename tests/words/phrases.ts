import { Visitor } from 'vite';
import { verdictWords } from '#engine/closures/verdictWords.ts';
import { refusals } from '#engine/refusals.ts';
import { lineClasses, momentIds, roles } from '#engine/sheet.ts';
import { labelFields } from '#engine/specimens/labelOf.ts';
import { warnings } from '#engine/warnings.ts';
import { failures, reports } from '#journal/failures.ts';
import { newLabelNote } from '#practice/slips.ts';
import { caution } from '#record/page/recordTree.ts';
import { saveFirst, stillSaving, timeFirst } from '#session/core.ts';
import { notWhole } from '#session/notWhole.ts';
import { factWords } from '#sheets/parts.ts';
import { refusals as vaultRefusals } from '#vault/refusals.ts';
import { parsed, type Source, sourcesOf } from '../tidy/source.ts';

/** The keys of all that a file says: its English sentences, with `{0}` where a value stands. */
export function phrasesOf(source: Source): readonly string[] {
  const phrases: string[] = [];
  new Visitor({
    TaggedTemplateExpression: ({ tag, quasi }) => {
      if (tag.type !== 'Identifier' || tag.name !== 'say') return;
      const parts = quasi.quasis.map(({ value }) => value.cooked ?? '');
      const key = parts.reduce((before, part, place) => `${before}{${place - 1}}${part}`);
      phrases.push(key.replace(/\n\s*/g, ' '));
    },
  }).visit(parsed(source).program);
  return phrases;
}

/** Sentences that stand in a table and are said when they are needed. */
const tables: readonly string[] = [
  ...Object.values(refusals).flatMap(({ sentence, whatToDo }) => [sentence, whatToDo]),
  ...Object.values(warnings),
  ...Object.values(failures),
  ...Object.values(reports),
  ...Object.values(vaultRefusals),
  ...Object.values(labelFields),
  ...Object.values(verdictWords),
  ...[notWhole, saveFirst, stillSaving, timeFirst, caution, newLabelNote],
  'Somebody was relieved while it ran.', // written by a rule that applies entries, which says nothing itself
];

/** Words of the record that are said as they are: roles, kinds of lines, counts, media, sides, bags, fluids. */
export const dataWords: readonly string[] = [
  ...[...roles, 'everyone', 'patient', 'midwife', ...lineClasses, ...momentIds],
  ...['formalin', 'sterile pot', 'sterile-pot', 'saline', 'culture swab', 'culture-swab', 'dry'],
  ...['culture-bottle', 'fresh', 'transport-medium', 'cytology-fixative'],
  ...['left', 'right', 'both', 'midline', 'not applicable', 'intact', 'torn'],
  ...factWords,
  ...['cavity', 'wound', 'orifice', 'varies', 'mid-case', 'never', 'table', 'here', 'any', 'off'],
  ...['whole', 'confirm', 'time', 'text', 'counts', 'specimens', 'prophylaxis'],
  ...['suction', 'irrigation', 'imaging', 'earlier operation', 'seen', 'file', 'database', 'store'],
];

/** Everything that the program says, once each. */
export const allPhrases = (): ReadonlySet<string> =>
  new Set([...sourcesOf(/^src\/.*\.tsx?$/).flatMap(phrasesOf), ...tables, ...dataWords]);
