import type { JsonSchema } from './reader.ts';
import { sheetShape } from './shape.ts';

/** The JSON Schema of a sheet, made from the readers that check it. Editors complete and check with it. */
export function schemaOfSheet(): JsonSchema {
  return {
    title: 'Lastlook sheet',
    description:
      'One procedure: its lines, counts, checkpoints, specimens and closures. checklists/README.md explains it.',
    ...withDefinitions(sheetShape.schema),
  };
}

/** The schema as it stands in checklists/sheet.schema.json. */
export const schemaText = (): string => `${JSON.stringify(schemaOfSheet(), undefined, 2)}\n`;

/** Parts that occur more than once are written once, so that the file stays small enough to read. */
function withDefinitions(schema: JsonSchema): JsonSchema {
  const uses = new Map<object, number>();
  countUses(schema, uses);
  const names = new Map<object, string>();
  for (const [part, n] of uses)
    if (n > 1 && JSON.stringify(part).length > 300) names.set(part, `part${names.size + 1}`);
  const definitions: Record<string, unknown> = {};
  for (const [part, name] of names) definitions[name] = copied(part, names, part);
  const whole = copied(schema, names, schema);
  return { ...(isObject(whole) ? whole : {}), definitions };
}

const isObject = (value: unknown): value is object => typeof value === 'object' && value !== null;

/** Counts schemas only: `properties` and lists hold schemas and are none themselves. */
function countUses(value: unknown, uses: Map<object, number>, isSchema = true): void {
  if (!isObject(value)) return;
  const n = uses.get(value) ?? 0;
  if (isSchema && !Array.isArray(value)) uses.set(value, n + 1);
  if (n > 0) return;
  for (const [key, one] of Object.entries(value))
    countUses(one, uses, !isSchema || key !== 'properties');
}

function copied(value: unknown, names: ReadonlyMap<object, string>, self: object): unknown {
  if (!isObject(value)) return value;
  const name = value === self ? undefined : names.get(value);
  if (name !== undefined) return { $ref: `#/definitions/${name}` };
  if (Array.isArray(value)) return value.map((one: unknown) => copied(one, names, self));
  return Object.fromEntries(
    Object.entries(value).map(([key, one]) => [key, copied(one, names, self)]),
  );
}
