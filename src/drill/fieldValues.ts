import { unreachable } from '#engine/assert.ts';
import { labelFields } from '#engine/specimens/labelOf.ts';
import type { AnswerSaid, AnswersByStep, FoundByLine, FoundSaid, LabelSaid } from './asked.ts';
import type { Field, Word } from './fields.ts';
import {
  type Given,
  isRecord,
  kindOf,
  knownFrom,
  listed,
  listFrom,
  mapFrom,
  tell,
  textFrom,
  textsFrom,
  within,
} from './problems.ts';

/**
 * The fields of a command word, each in the form that it takes; undefined where one of them is a mistake.
 *
 * Numbers of pieces and measures are passed on as they stand: the engine refuses them by code.
 */
export function fieldsFrom(
  given: Given,
  name: string,
  word: Word,
): Readonly<Record<string, unknown>> | undefined {
  const before = given.problems.length;
  const record = knownFrom(given, name, Object.keys(word.fields));
  if (!record) return undefined;
  const values: Record<string, unknown> = {};
  for (const [key, field] of Object.entries(word.fields)) {
    const value = record[key];
    if (value === undefined || (value === null && field.needed)) {
      if (field.needed) tell(given, `${name} needs ${key}: ${field.says}`);
    } else {
      values[key] = valueFrom(within(given, key, value), `${name} ${key}`, field);
    }
  }
  return given.problems.length === before ? values : undefined;
}

function valueFrom(given: Given, name: string, field: Field): unknown {
  switch (field.takes) {
    case 'pieces':
    case 'number':
      return given.value;
    case 'numbers':
      return listFrom(given, name)?.map((item) => item.value);
    case 'pieces by line':
      return mapFrom(given, name, (item) => item.value);
    case 'line':
    case 'place':
    case 'site':
    case 'text':
    case 'person':
    case 'time':
      return textFrom(given, name);
    case 'people':
    case 'texts':
      return textsFrom(given, name);
    case 'yes or no':
      return yesOrNoFrom(given, name);
    case 'answer':
      return answerValueFrom(given, name);
    case 'name and reason':
      return nameAndReasonFrom(given, name);
    case 'answers':
      return answersFrom(given, name);
    case 'reasons by step':
      return mapFrom(given, name, (item) => textFrom(item, name));
    case 'names by step':
      return mapFrom(given, name, (item) => nameAndReasonFrom(item, name));
    case 'found by line':
      return foundByLineFrom(given, name);
    case 'label':
      return labelFrom(given, name);
    default:
      return unreachable(field.takes);
  }
}

function yesOrNoFrom(given: Given, name: string): boolean | undefined {
  const { value } = given;
  if (value === true || value === 'yes') return true;
  if (value === false || value === 'no') return false;
  return tell(given, `${name} is ${kindOf(value)}, where yes or no is expected.`);
}

function answerValueFrom(given: Given, name: string): string | number | boolean | undefined {
  const { value } = given;
  if (typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean')
    return value;
  return tell(given, `${name} is ${kindOf(value)}, where an answer is expected.`);
}

function nameAndReasonFrom(given: Given, name: string) {
  const fields = knownFrom(given, name, ['name', 'reason']);
  if (!fields) return undefined;
  const said = textFrom(within(given, 'name', fields.name ?? ''), `${name} name`);
  const reason = textFrom(within(given, 'reason', fields.reason ?? ''), `${name} reason`);
  return said === undefined || reason === undefined ? undefined : { name: said, reason };
}

/** `usual` is no answer that differs from usual. */
function answersFrom(given: Given, name: string): AnswersByStep | undefined {
  if (given.value === 'usual') return {};
  return mapFrom(given, name, (item, step) => answerFrom(item, `${name} ${step}`));
}

function answerFrom(given: Given, name: string): AnswerSaid | undefined {
  if (given.value === null) return { kind: 'none' };
  if (!isRecord(given.value)) {
    const value = answerValueFrom(given, name);
    return value === undefined ? undefined : { kind: 'value', value };
  }
  const fields = knownFrom(given, name, ['notApplicable', 'open']) ?? {};
  if (fields.notApplicable !== undefined) {
    const at = within(given, 'notApplicable', fields.notApplicable);
    const reason = textFrom(at, `${name} notApplicable`);
    return reason === undefined ? undefined : { kind: 'notApplicable', reason };
  }
  const open = nameAndReasonFrom(within(given, 'open', fields.open), `${name} open`);
  return open && { kind: 'open', ...open };
}

/** `usual` is no line that differs from usual. */
function foundByLineFrom(given: Given, name: string): FoundByLine | undefined {
  if (given.value === 'usual') return {};
  return mapFrom(given, name, (item, line): FoundSaid | undefined => {
    if (item.value === 'usual') return 'usual';
    const known = ['field', 'off', 'packs'];
    if (!isRecord(item.value))
      return tell(
        item,
        `${name} ${line} is ${kindOf(item.value)}, where usual or ${listed(known)} is expected.`,
      );
    return knownFrom(item, `${name} ${line}`, known);
  });
}

/** An empty field is missing on the label. */
function labelFrom(given: Given, name: string): LabelSaid | undefined {
  if (given.value === 'usual') return {};
  if (!knownFrom(given, name, Object.keys(labelFields))) return undefined;
  return mapFrom(given, name, (item, field): string | null | undefined =>
    item.value === null ? null : textFrom(item, `${name} ${field}`),
  );
}
