import { expect } from 'vitest';
import { parse } from 'yaml';
import { parseDrill } from '#drill/parseDrill.ts';
import { runDrill } from '#drill/runDrill.ts';
import type { Sheet } from '#engine/sheet.ts';
import type { Case, Patient } from '#engine/state.ts';
import { type ParsedSheet, parseSheet } from '#sheets/parseSheet.ts';
import { sheetNamed, sheets } from '../support/drillSheets.ts';

/** The shipped sheet. */
export const appendicectomy = sheetNamed('laparoscopic-appendicectomy');

/** What a made-up sheet says otherwise, as text of the format. */
type Parts = {
  readonly lines?: string;
  readonly sites?: string;
  readonly closures?: string;
  readonly moments?: string;
  readonly timeOut?: string;
  readonly signOut?: string;
  readonly policy?: string;
  readonly changes?: string;
};

const swabs = 'swab: { name: Swab, class: swab, opening: 10, pack: 5 }';
const skin = 'skin: { name: Skin, sites: [abdomen], count: closing }';

/** A sheet with one value in question and nothing else, read as every sheet is. */
export function parsedWith(parts: Parts): ParsedSheet {
  const { lines = swabs, closures = skin, timeOut = 'shared', signOut = 'shared' } = parts;
  const under = (key: string, text: string | undefined) =>
    text === undefined ? [] : [`${key}:`, ...text.split('\n').map((row) => `  ${row}`)];
  const text = [
    'sheet: published',
    'title: A published value',
    'version: 2026-01',
    'include: [core-steps, medicines, policy]',
    ...under('sites', parts.sites ?? 'abdomen: { name: Abdomen, kind: cavity }'),
    'sections:',
    '  things:',
    '    name: Things',
    '    class: small',
    '    source: made up for tests',
    '    lines:',
    ...lines.split('\n').map((row) => `      ${row}`),
    ...under('moments', parts.moments),
    'checkpoints:',
    '  sign-in: shared',
    ...[timeOut === 'shared' ? '  time-out: shared' : `  time-out:\n${timeOut}`],
    ...[signOut === 'shared' ? '  sign-out: shared' : `  sign-out:\n${signOut}`],
    ...under('closures', closures),
    'medicines: shared',
    ...(parts.policy === undefined ? ['policy: shared'] : under('policy', parts.policy)),
    ...under('changes', parts.changes),
    'sources: [made up for tests]',
  ].join('\n');
  return parseSheet(text, { file: 'published.yaml', shared: sheets.shared });
}

/** The same, which must be without a mistake. */
export function sheetWith(parts: Parts): Sheet {
  const parsed = parsedWith(parts);
  if (!parsed.ok) throw new Error(parsed.issues.map(({ message }) => message).join('\n'));
  return parsed.sheet;
}

/** What comes before an incision in a case without trouble, as steps of a drill. */
export const toIncision = `
- checkpoint: { id: sign-in, answers: usual }
- count: { moment: first, found: usual }
- dose: { agent: cefuroxime, mg: 1500 }
- checkpoint: { id: time-out, answers: usual }
- incision: {}`;

export const adult: Patient = { name: 'Testcase, Ash', number: 'TR-100', born: '1970-01-31' };

type Told = {
  readonly sheet?: Sheet;
  readonly patient?: Patient;
  readonly start?: string;
  readonly steps: string;
};

/** Runs steps in the format of drills, up to the last: any that does not go as it says fails the test. */
export function told({ sheet = appendicectomy, patient = adult, start, steps }: Told): Case {
  const { weightKg: weight, ...person } = patient;
  const parsed = parseDrill({
    drill: 'A published value',
    sheet: sheet.id,
    patient: weight === undefined ? person : { ...person, weight },
    start: start ?? '2026-01-05T08:00:00+00:00',
    steps: parse(steps),
  });
  if (!parsed.ok) throw new Error(parsed.problems.map(({ sentence }) => sentence).join('\n'));
  const outcome = runDrill(parsed.drill, sheet);
  expect(outcome.failures.map(({ path, sentence }) => `${path.join('.')}: ${sentence}`)).toEqual(
    [],
  );
  if (!outcome.current) throw new Error('the case was not opened');
  return outcome.current;
}
