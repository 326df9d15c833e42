import { unreachable } from '#engine/assert.ts';
import { isInstant } from '#engine/quantities.ts';
import { roles } from '#engine/sheet.ts';
import type { Patient, Team } from '#engine/state.ts';
import { isTimeOfDay } from './clock.ts';
import type { Drill, DrillStep, Expectation } from './drill.ts';
import { askedFrom, isCommandWord } from './parseCommand.ts';
import {
  type Given,
  isRecord,
  kindOf,
  knownFrom,
  listed,
  listFrom,
  mapFrom,
  type Path,
  type Problem,
  tell,
  textFrom,
  textsFrom,
  within,
} from './problems.ts';
import { drillKeys, type ExpectKey, expectKeys, stepKeys } from './stepWords.ts';

export type ParsedDrill =
  | { readonly ok: true; readonly drill: Drill }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * A drill from a document of unknown content, or everything in it that is not as the format says.
 *
 * Unknown keys, commands and fields are mistakes, never ignored.
 */
export function parseDrill(document: unknown): ParsedDrill {
  const problems: Problem[] = [];
  const drill = drillFrom({ value: document, path: [], problems });
  return drill && problems.length === 0 ? { ok: true, drill } : { ok: false, problems };
}

/** People who are obviously invented, for a drill that is not about them. */
const nobody: Patient = { name: 'Testcase, Ash', number: 'TR-100', born: '1970-01-31' };
const somebody: Team = {
  scrub: 'Testa',
  circulator: 'Prueba',
  surgeon: 'Ensayo',
  anaesthetist: 'Probe',
};
const someday = '2026-01-05T08:00:00+00:00';

function drillFrom(given: Given): Drill | undefined {
  if (!isRecord(given.value))
    return tell(given, `A drill is a set of fields: ${listed(keysOf(drillKeys))}.`);
  const fields = knownFrom(given, 'a drill', keysOf(drillKeys)) ?? {};
  const at = (key: keyof typeof drillKeys) => within(given, key, fields[key]);
  if (fields.drill === undefined) tell(given, 'A drill needs a title: `drill: ...`.');
  const title = fields.drill === undefined ? '' : textFrom(at('drill'), 'drill');
  const sheet = sheetFrom(at('sheet'));
  const patient = fields.patient === undefined ? nobody : patientFrom(at('patient'));
  const team = fields.team === undefined ? somebody : teamFrom(at('team'));
  const variants = fields.variants === undefined ? [] : variantsFrom(at('variants'));
  const start = fields.start === undefined ? someday : instantFrom(at('start'), 'start');
  const refused = optionalText(at('refused'), 'refused');
  if (fields.steps === undefined && refused === undefined)
    tell(given, 'A drill needs steps: what is done and what is expected.');
  const listOfSteps = fields.steps === undefined ? [] : listFrom(at('steps'), 'steps');
  const steps = (listOfSteps ?? []).map(stepFrom).filter((step) => step !== undefined);
  if (title === undefined || !sheet || !patient || !team || !variants || !start) return undefined;
  return { title, sheet, patient, team, variants, start, refused, steps };
}

const keysOf = (table: object): readonly string[] => Object.keys(table);

function sheetFrom(given: Given): Drill['sheet'] | undefined {
  const { value } = given;
  if (typeof value === 'string' || isRecord(value)) return value;
  return tell(
    given,
    `sheet is ${kindOf(value)}, where the name of a sheet or a sheet is expected.`,
  );
}

/** A list of variants, or one for each group by its name. */
function variantsFrom(given: Given): readonly string[] | undefined {
  if (!isRecord(given.value)) return textsFrom(given, 'variants');
  const byGroup = mapFrom(given, 'variants', (item, group) => textFrom(item, `variants ${group}`));
  return byGroup && Object.values(byGroup);
}

function patientFrom(given: Given): Patient | undefined {
  const known = ['name', 'number', 'born', 'weight', 'allergies'];
  const fields = knownFrom(given, 'patient', known);
  if (!fields) return undefined;
  const [name, number, born] = (['name', 'number', 'born'] as const).map((key) =>
    textFrom(within(given, key, fields[key] ?? ''), `patient ${key}`),
  );
  const { weight } = fields;
  if (weight !== undefined && typeof weight !== 'number')
    return tell(
      within(given, 'weight', weight),
      `patient weight is ${kindOf(weight)}, where kilograms are expected.`,
    );
  const allergies =
    fields.allergies === undefined
      ? undefined
      : textsFrom(within(given, 'allergies', fields.allergies), 'patient allergies');
  if (name === undefined || number === undefined || born === undefined) return undefined;
  return {
    name,
    number,
    born,
    ...(weight === undefined ? {} : { weightKg: weight }),
    ...(allergies === undefined ? {} : { allergies }),
  };
}

function teamFrom(given: Given): Team | undefined {
  const fields = knownFrom(given, 'team', roles);
  if (!fields) return undefined;
  const [scrub, circulator, surgeon, anaesthetist] = roles.map((role) =>
    textFrom(within(given, role, fields[role] ?? ''), `team ${role}`),
  );
  if (scrub === undefined || circulator === undefined) return undefined;
  if (surgeon === undefined || anaesthetist === undefined) return undefined;
  return { scrub, circulator, surgeon, anaesthetist };
}

function instantFrom(given: Given, name: string): string | undefined {
  if (isInstant(given.value)) return given.value;
  return tell(
    given,
    `${name} is ${kindOf(given.value)}, where a date and time with an offset is expected.`,
  );
}

function clockFrom(given: Given): string | undefined {
  const text = textFrom(given, 'at');
  if (text === undefined || isInstant(text) || isTimeOfDay(text)) return text;
  return tell(given, `at is ${kindOf(text)}, where a date and time, or 13:45, is expected.`);
}

function stepFrom(given: Given): DrillStep | undefined {
  if (!isRecord(given.value))
    return tell(given, `A step is ${kindOf(given.value)}, where a command or expect is expected.`);
  const fields = given.value;
  const words = Object.keys(fields).filter((key) => !Object.hasOwn(stepKeys, key));
  const [word, second] = words;
  if (second !== undefined)
    return isCommandWord(second)
      ? tell(
          within(given, second, undefined),
          `${word} and ${second} stand in one step: one command a step.`,
        )
      : tell(
          within(given, second, undefined),
          `${second} is no command and no key of a step; a step knows ${listed(keysOf(stepKeys))}.`,
        );
  if (word === undefined && fields.expect === undefined)
    return tell(given, 'A step needs a command or expect.');
  if (word === undefined && (fields.refused !== undefined || fields.warned !== undefined))
    return tell(given, 'Only a command can be refused or warned of.');
  const at = (key: keyof typeof stepKeys) => within(given, key, fields[key]);
  return {
    path: given.path,
    word: word ?? 'expect',
    asked: word === undefined ? undefined : askedFrom(within(given, word, fields[word]), word),
    refused: optionalText(at('refused'), 'refused'),
    warned: fields.warned === undefined ? [] : (textsFrom(at('warned'), 'warned') ?? []),
    id: optionalText(at('id'), 'id'),
    at: fields.at === undefined ? undefined : clockFrom(at('at')),
    actor: optionalText(at('actor'), 'actor'),
    expect: fields.expect === undefined ? undefined : expectationFrom(at('expect')),
  };
}

const optionalText = (given: Given, name: string): string | undefined =>
  given.value === undefined ? undefined : textFrom(given, name);

const isExpectKey = (key: string): key is ExpectKey => Object.hasOwn(expectKeys, key);

function expectationFrom(given: Given): Expectation | undefined {
  const fields = knownFrom(given, 'expect', keysOf(expectKeys));
  if (!fields) return undefined;
  const parts = Object.entries(fields).map(([key, value]) =>
    isExpectKey(key) ? { [key]: expectedFrom(within(given, key, value), key) } : {},
  );
  return Object.assign({}, ...parts);
}

function expectedFrom(given: Given, key: ExpectKey): unknown {
  switch (key) {
    case 'balance':
    case 'inside':
      return mapFrom(given, key, (item, name) => numbersFrom(item, `${key} ${name}`));
    case 'introduced':
    case 'difference':
    case 'loss':
      return numbersFrom(given, key);
    case 'closure':
    case 'specimen':
    case 'checkpoint':
      return mapFrom(given, key, (item, name) => textFrom(item, `${key} ${name}`));
    case 'holds':
      return mapFrom(given, key, (item, name) => textsFrom(item, `${key} ${name}`));
    case 'verdict':
      return textFrom(given, key);
    case 'entries':
      return numberFrom(given, key);
    default:
      return unreachable(key);
  }
}

const numbersFrom = (given: Given, name: string) =>
  mapFrom(given, name, (item, key) => numberFrom(item, `${name} ${key}`));

function numberFrom(given: Given, name: string): number | undefined {
  if (typeof given.value === 'number' && Number.isFinite(given.value)) return given.value;
  return tell(given, `${name} is ${kindOf(given.value)}, where a number is expected.`);
}

/** The path of a drill's own sheet, for mistakes in it. */
export const sheetPath: Path = ['sheet'];
