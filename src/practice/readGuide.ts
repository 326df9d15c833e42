import {
  type Given,
  isRecord,
  kindOf,
  knownFrom,
  listed,
  listFrom,
  mapFrom,
  type Problem,
  tell,
  textFrom,
  textsFrom,
  within,
} from '#drill/problems.ts';
import { momentIds } from '#engine/sheet.ts';
import type { SpecimenStage } from '#engine/state.ts';
import { type Condition, type Scene, type Search, type Slip, searches } from './script.ts';

/** What stands beside a drill to make it a practice case. */
export type Guide = {
  readonly name: string;
  readonly about: string;
  readonly level: number;
  /** The id of the last step that the practice makes itself. */
  readonly begins: string | undefined;
  readonly scenes: readonly Scene[];
  readonly slips: readonly Slip[];
};

export type ReadGuide =
  | { readonly ok: true; readonly guide: Guide }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** The keys of each part, with a sentence, for the parser and for whoever writes a guide. */
const guideKeys = {
  guide: ['name', 'about', 'level', 'begins', 'scenes', 'slips'],
  scene: ['id', 'do', 'why', 'until', 'opens', 'label'],
  until: [
    'checkpoint',
    'counted',
    'incised',
    'added',
    'into',
    'out',
    'turned',
    'specimen',
    'looked',
    'closed',
    'finished',
  ],
  lost: [
    ...['lost', 'pieces', 'at', 'from', 'lies', 'where', 'found-by', 'found'],
    ...['happened', 'caught', 'missed'],
  ],
  pack: ['pack', 'holds', 'happened', 'caught', 'missed'],
  label: ['label', 'says', 'happened', 'caught', 'missed'],
} as const;

/** Letters that fit the two lines of the screen. */
const lettersMax = 150;

/** A guide from a document of unknown content, or everything in it that is not as the format says. */
export function readGuide(document: unknown): ReadGuide {
  const problems: Problem[] = [];
  const guide = guideFrom({ value: document, path: [], problems });
  return guide && problems.length === 0 ? { ok: true, guide } : { ok: false, problems };
}

type Fields = Readonly<Record<string, unknown>>;

function guideFrom(given: Given): Guide | undefined {
  const fields = knownFrom(given, 'a guide', guideKeys.guide);
  if (!fields) return undefined;
  const name = needed(given, fields, 'name');
  const about = needed(given, fields, 'about');
  const level = wholeFrom(within(given, 'level', fields.level), 'level');
  const begins = optional(given, fields, 'begins');
  const scenes = (listFrom(within(given, 'scenes', fields.scenes), 'scenes') ?? []).map(sceneFrom);
  const slips = (listFrom(within(given, 'slips', fields.slips), 'slips') ?? []).map(slipFrom);
  if (name === undefined || about === undefined || level === undefined) return undefined;
  return {
    name,
    about,
    level,
    begins,
    scenes: scenes.filter((scene) => scene !== undefined),
    slips: slips.filter((slip) => slip !== undefined),
  };
}

function needed(given: Given, fields: Fields, key: string): string | undefined {
  const text = textFrom(within(given, key, fields[key]), key);
  if (text !== undefined && text.length > lettersMax)
    return tell(
      within(given, key, text),
      `${key} has ${text.length} letters, where ${lettersMax} at most can be read at a glance.`,
    );
  return text;
}

const optional = (given: Given, fields: Fields, key: string): string | undefined =>
  fields[key] === undefined ? undefined : needed(given, fields, key);

function wholeFrom(given: Given, name: string): number | undefined {
  if (Number.isInteger(given.value) && Number(given.value) > 0) return Number(given.value);
  return tell(given, `${name} is ${kindOf(given.value)}, where a whole number from 1 is expected.`);
}

function oneOf<Word extends string>(
  given: Given,
  name: string,
  known: readonly Word[],
): Word | undefined {
  const found = known.find((word) => word === given.value);
  return (
    found ?? tell(given, `${name} is ${kindOf(given.value)}, where ${listed(known)} is expected.`)
  );
}

/** Leaves out what was not said. */
function said<Part extends object>(part: Part): { readonly [Key in keyof Part]: Part[Key] } {
  const entries = Object.entries(part).filter(([, value]) => value !== undefined);
  return Object.fromEntries(entries) as Part; // a parser
}

function sceneFrom(given: Given): Scene | undefined {
  const fields = knownFrom(given, 'a scene', guideKeys.scene);
  if (!fields) return undefined;
  const id = needed(given, fields, 'id');
  const what = needed(given, fields, 'do');
  const until = untilFrom(within(given, 'until', fields.until));
  const [why, opens, label] = (['why', 'opens', 'label'] as const).map((key) =>
    optional(given, fields, key),
  );
  if (id === undefined || what === undefined || !until) return undefined;
  return said({ id, do: what, why, until, opens, label }) as Scene; // a parser: only what was said
}

const stages = ['taken', 'contained', 'labelled', 'readBack', 'handedOver'] as const;

function untilFrom(given: Given): Condition | undefined {
  const fields = knownFrom(given, 'until', guideKeys.until);
  if (!fields) return undefined;
  if (Object.keys(fields).length === 0)
    return tell(given, 'until needs to say what the record must hold then.');
  const at = (key: string) => within(given, key, fields[key]);
  const texts = (['checkpoint', 'looked', 'closed'] as const).map(
    (key) => [key, fields[key] === undefined ? undefined : textFrom(at(key), key)] as const,
  );
  const flags = (['incised', 'finished'] as const).map(
    (key) => [key, yesFrom(at(key), key)] as const,
  );
  const pieces = (['added', 'into', 'out', 'turned'] as const).map(
    (key) => [key, fields[key] === undefined ? undefined : numbersFrom(at(key), key)] as const,
  );
  const counted =
    fields.counted === undefined ? undefined : oneOf(at('counted'), 'counted', momentIds);
  const specimen =
    fields.specimen === undefined
      ? undefined
      : mapFrom<SpecimenStage>(at('specimen'), 'specimen', (item, key) =>
          oneOf(item, `specimen ${key}`, stages),
        );
  return said({ ...Object.fromEntries([...texts, ...flags, ...pieces]), counted, specimen });
}

function yesFrom(given: Given, name: string): boolean | undefined {
  if (given.value === undefined || given.value === true) return given.value;
  return tell(given, `${name} is ${kindOf(given.value)}, where true is expected.`);
}

const numbersFrom = (given: Given, name: string) =>
  mapFrom(given, name, (item, key) => wholeFrom(item, `${name} ${key}`));

function slipFrom(given: Given, index: number): Slip | undefined {
  const { value } = given;
  const kind = isRecord(value)
    ? (['lost', 'pack', 'label'] as const).find((key) => value[key] !== undefined)
    : undefined;
  if (!kind)
    return tell(given, 'A slip says what is lost, which pack is odd, or whose label is wrong.');
  const fields = knownFrom(given, 'a slip', guideKeys[kind]) ?? {};
  const happened = needed(given, fields, 'happened');
  const caught = needed(given, fields, 'caught');
  const missed = needed(given, fields, 'missed');
  const what = needed(given, fields, kind);
  if (happened === undefined || caught === undefined) return undefined;
  if (missed === undefined || what === undefined) return undefined;
  const words = { id: `slip-${index + 1}`, happened, caught, missed };
  if (kind === 'lost') return lostFrom(given, fields, { ...words, line: what });
  if (kind === 'pack') {
    const holds = wholeFrom(within(given, 'holds', fields.holds), 'holds');
    return holds === undefined ? undefined : { ...words, kind, line: what, holds };
  }
  const says = mapFrom(within(given, 'says', fields.says), 'says', (item, key) =>
    textFrom(item, `says ${key}`),
  );
  return says && { ...words, kind, specimen: what, says };
}

type Words = {
  readonly id: string;
  readonly line: string;
  readonly happened: string;
  readonly caught: string;
  readonly missed: string;
};

function lostFrom(given: Given, fields: Fields, words: Words): Slip | undefined {
  const at = needed(given, fields, 'at');
  const where = needed(given, fields, 'where');
  const found = needed(given, fields, 'found');
  const n = wholeFrom(within(given, 'pieces', fields.pieces ?? 1), 'pieces');
  const from = oneOf(within(given, 'from', fields.from), 'from', ['table', 'patient', 'off']);
  const lies = oneOf(within(given, 'lies', fields.lies), 'lies', ['inside', 'room']);
  const by = (textsFrom(within(given, 'found-by', fields['found-by']), 'found-by') ?? []).map(
    (word) => oneOf<Search>(within(given, 'found-by', word), 'found-by', searches),
  );
  const foundBy = by.filter((search) => search !== undefined);
  if (at === undefined || where === undefined || found === undefined) return undefined;
  if (n === undefined || from === undefined || lies === undefined) return undefined;
  return { ...words, kind: 'lost', pieces: n, at, from, lies, where, foundBy, found };
}
