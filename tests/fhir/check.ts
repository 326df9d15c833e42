import fhirpath from 'fhirpath';
import r4 from 'fhirpath/fhir-context/r4';
import { definitions, type Element, isObject, type Json, sets } from './definitions.ts';

/**
 * Checks a resource against HL7's definitions of R4: names, how many, types, patterns and real days of primitives,
 * required codes, what references may point at, and the invariants, which fhirpath evaluates.
 *
 * Answers with one sentence for each thing that is wrong. Not checked: dom-3, which this fhirpath does not evaluate,
 * about contained resources, of which we have none; ele-1 (there are no empty objects, which is
 * checked), bindings that are not required, and slices of profiles.
 */
export function check(resource: Json): readonly string[] {
  const found: string[] = [];
  const type = String(resource.resourceType);
  if (!definitions[type]) return [`${type} is no resource that is known here.`];
  const world = { found, root: resource, targets: targetsIn(resource) };
  checkObject(world, { value: resource, at: type, path: type, within: resource, outer: resource });
  return found;
}

type World = {
  readonly found: string[];
  readonly root: Json;
  /** Types of the resources in the bundle, by full address; undefined outside of a bundle. */
  readonly targets: ReadonlyMap<string, string> | undefined;
};
/** A value, where it stands, which path of which definition it follows, and the resource it is in. */
type Spot = {
  readonly value: unknown;
  readonly at: string;
  readonly path: string;
  readonly within: Json;
  /** That, or the resource around it where it is contained. */
  readonly outer: Json;
};

function targetsIn(resource: Json): ReadonlyMap<string, string> | undefined {
  if (resource.resourceType !== 'Bundle' || !Array.isArray(resource.entry)) return undefined;
  const pairs = resource.entry.filter(isObject).map((one) => {
    const inside = isObject(one.resource) ? String(one.resource.resourceType) : '';
    return [String(one.fullUrl), inside] as const;
  });
  return new Map(pairs);
}

const rootOf = (path: string): string => path.split('.')[0] ?? '';

const elementAt = (path: string): Element | undefined =>
  definitions[rootOf(path)]?.elements.find((one) => one.path === path);

const childrenOf = (path: string): readonly Element[] =>
  (definitions[rootOf(path)]?.elements ?? []).filter(
    (one) => one.path.startsWith(`${path}.`) && !one.path.slice(path.length + 1).includes('.'),
  );

function checkObject(world: World, spot: Spot): void {
  const { value, at, path } = spot;
  if (!isObject(value)) return void world.found.push(`${at} is no object.`);
  if (Object.keys(value).length === 0) return void world.found.push(`${at} is empty.`);
  const names = new Set<string>(['resourceType']);
  for (const child of childrenOf(path)) checkChild(world, spot, value, child, names);
  for (const name of Object.keys(value))
    if (!names.has(name) && !names.has(name.replace(/^_/, '')))
      world.found.push(`${at}.${name} is not known.`);
  checkRules(world, spot, elementAt(path)?.rules ?? []);
}

function checkChild(
  world: World,
  { at, within, outer }: Spot,
  whole: Json,
  child: Element,
  names: Set<string>,
): void {
  const name = child.path.split('.').at(-1) ?? '';
  const types = child.types ?? [];
  const choices = name.endsWith('[x]')
    ? types.map((type) => ({ type, name: name.slice(0, -3) + capital(type.code) }))
    : [{ type: types[0], name }];
  const given = choices.filter((one) => one.name in whole || `_${one.name}` in whole);
  for (const one of choices) names.add(one.name);
  if (given.length > 1) world.found.push(`${at} has ${name} in ${given.length} types.`);
  const [only] = given;
  if (!only || !(only.name in whole)) {
    if (child.min > 0 && !only) world.found.push(`${at}.${name} is missing.`);
    return;
  }
  const value = whole[only.name];
  const here = `${at}.${only.name}`;
  const isMany = child.max !== '1';
  if (Array.isArray(value) !== isMany)
    return void world.found.push(`${here} is ${isMany ? 'no list' : 'a list'}.`);
  const values: readonly unknown[] = Array.isArray(value) ? value : [value];
  if (values.length === 0) world.found.push(`${here} is an empty list.`);
  const targets = only.type?.targets;
  for (const [place, item] of values.entries()) {
    const spot = {
      value: item,
      at: isMany ? `${here}[${place}]` : here,
      path: child.path,
      within,
      outer,
    };
    checkValue(world, spot, child, only.type?.code);
    if (only.type?.code === 'Reference') checkReference(world, spot, targets ?? []);
  }
}

function checkValue(world: World, spot: Spot, child: Element, code: string | undefined): void {
  const { value, at } = spot;
  if (value === null || value === undefined) world.found.push(`${at} is null.`);
  else if (child.contentReference)
    checkObject(world, { ...spot, path: child.contentReference.slice(1) });
  else if (code === 'Resource') checkResource(world, spot);
  else if (code !== undefined) checkTyped(world, spot, child, code);
}

/** A resource in another: in a bundle it stands by itself, contained it belongs to the one around it. */
function checkResource(world: World, { value, at, path, outer }: Spot): void {
  const type = isObject(value) ? String(value.resourceType) : '';
  if (!isObject(value) || !definitions[type])
    return void world.found.push(`${at}: ${type} is no resource known here.`);
  const isContained = path.endsWith('.contained');
  checkObject(world, { value, at, path: type, within: value, outer: isContained ? outer : value });
}

function checkTyped(world: World, spot: Spot, child: Element, code: string): void {
  if (child.set) checkCodes(world, spot, child.set);
  const isOwn = code === 'BackboneElement' || code === 'Element';
  if (definitions[code]?.kind === 'primitive-type') checkPrimitive(world, spot, code);
  else checkObject(world, { ...spot, path: isOwn ? child.path : code });
  if (!isOwn && isObject(spot.value)) checkRules(world, { ...spot, path: code }, child.rules);
}

const numbers = ['integer', 'decimal', 'positiveInt', 'unsignedInt'];

function checkPrimitive({ found }: World, { value, at }: Spot, code: string): void {
  const kind = code === 'boolean' ? 'boolean' : numbers.includes(code) ? 'number' : 'string';
  if (typeof value !== kind) return void found.push(`${at} is no ${kind}.`);
  if (value === '') return void found.push(`${at} is an empty text.`);
  const value_ = elementAt(`${code}.value`)?.types?.[0];
  const pattern = value_?.pattern;
  if (pattern && !new RegExp(`^(?:${pattern})$`).test(String(value)))
    return void found.push(`${at} is no ${code}: ${String(value).slice(0, 60)}`);
  const day = /^(\d{4})-(\d\d)-(\d\d)/.exec(String(value));
  if (day && ['date', 'dateTime', 'instant'].includes(code)) {
    const real = new Date(`${day[0]}T00:00:00Z`);
    if (Number.isNaN(real.getTime()) || real.toISOString().slice(0, 10) !== day[0])
      found.push(`${at} is no day: ${day[0]}`);
  }
}

function checkCodes({ found }: World, { value, at }: Spot, set: string): void {
  const codes = sets[set] ?? [];
  if (codes.length === 0) return;
  const given = isObject(value)
    ? Array.isArray(value.coding)
      ? value.coding.filter(isObject).map((one) => one.code)
      : [value.code]
    : [value];
  for (const code of given)
    if (typeof code === 'string' && !codes.includes(code))
      found.push(`${at}: ${code} is not in ${set}.`);
}

function checkReference(
  { found, targets }: World,
  { value, at }: Spot,
  allowed: readonly string[],
): void {
  const reference = isObject(value) ? value.reference : undefined;
  if (typeof reference !== 'string') return;
  const type = targets?.get(reference) ?? /^(?:.*\/)?([A-Z]\w+)\/[^/]+/.exec(reference)?.[1];
  if (reference.startsWith('urn:uuid:') && targets && !targets.has(reference))
    return void found.push(`${at} points at nothing: ${reference}`);
  const isAny = allowed.length === 0 || allowed.includes('Resource');
  if (type && !isAny && !allowed.includes(type)) found.push(`${at} may not point at a ${type}.`);
}

type Compiled = (value: unknown, environment: Json) => unknown;
const compiled = new Map<string, Compiled>();

function compile(path: string, expression: string): Compiled {
  const key = `${path} ${expression}`;
  const known = compiled.get(key);
  if (known) return known;
  const traceFn = () => undefined;
  const made = fhirpath.compile({ base: path, expression }, r4, { traceFn });
  const evaluate: Compiled = (value, environment) => made(value, environment);
  compiled.set(key, evaluate);
  return evaluate;
}

function checkRules(
  { found }: World,
  { value, at, path, within, outer }: Spot,
  rules: Element['rules'],
): void {
  for (const { key, expression } of rules ?? []) {
    if (key === 'ele-1' || key === 'dom-3') continue;
    const answer = compile(path, expression)(value, { resource: within, rootResource: outer });
    if (Array.isArray(answer) && answer[0] === false) found.push(`${at} breaks ${key}.`);
  }
}

const capital = (word: string): string => word.slice(0, 1).toUpperCase() + word.slice(1);
