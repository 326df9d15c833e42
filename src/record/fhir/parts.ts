import type { BundleEntry, CodeableConcept, FhirResource, Narrative, Reference } from 'fhir/r4';
import type { Case } from '#engine/state.ts';
import { fnv64 } from '#scan/fnv64.ts';
import { htmlOf } from '../htmlOf.ts';
import { el } from '../tree.ts';
import { eventsIn, type WholeRecord } from '../wholeRecord.ts';
import { xhtml } from './systems.ts';

/** What every part of the bundle is made from: the record, and how parts point at each other. */
export type Making = {
  readonly record: WholeRecord;
  readonly current: Case;
  /** The name of a part, the same at every making: `urn:uuid:…`. */
  readonly urn: (kind: string, name?: string) => string;
  readonly to: (kind: string, name?: string) => Reference;
  /** A person by the name that the record has. */
  readonly person: (name: string) => Reference;
  readonly patient: Reference;
  readonly encounter: Reference;
  readonly procedure: Reference;
};

export function makingOf(record: WholeRecord): Making {
  const { current } = record;
  const urn = (kind: string, name = ''): string => `urn:uuid:${uuidOf(current.id, kind, name)}`;
  const to = (kind: string, name = ''): Reference => ({ reference: urn(kind, name) });
  return {
    record,
    current,
    urn,
    to,
    person: (name) => ({ ...to('Practitioner', name), display: said(name) }),
    patient: to('Patient'),
    encounter: to('Encounter'),
    procedure: to('Procedure'),
  };
}

/**
 * A name for a part that is the same whenever the same record is turned into a bundle.
 *
 * Source: RFC 9562, version 8 (a name whose bits are of one's own making).
 */
function uuidOf(...parts: readonly string[]): string {
  const text = parts.join('\n');
  const bits = [`1${text}`, `2${text}`].map((one) => fnv64(one).toString(16).padStart(16, '0'));
  const hex = bits.join('');
  const variant = ((Number.parseInt(hex[16] ?? '0', 16) & 3) | 8).toString(16);
  return [
    hex.slice(0, 8),
    hex.slice(8, 12),
    `8${hex.slice(13, 16)}`,
    `${variant}${hex.slice(17, 20)}`,
    hex.slice(20),
  ].join('-');
}

export const entry = (fullUrl: string, resource: FhirResource): BundleEntry => ({
  fullUrl,
  resource,
});

/** A text that FHIR takes: not empty, no control characters. */
export const said = (words: string): string => words.replace(/\p{Cc}+/gu, ' ').trim() || 'not said';

export const concept = (words: string): CodeableConcept => ({ text: said(words) });

/** A list, or nothing: FHIR knows no empty list. */
export const some = <Item>(items: readonly Item[]): Item[] | undefined =>
  items.length === 0 ? undefined : [...items];

/** An instant with seconds, as FHIR wants it: the zone is there in any case. */
export const instant = (at: string): string =>
  /T\d\d:\d\d(?=Z|[+-])/.test(at) ? at.replace(/(T\d\d:\d\d)/, '$1:00') : at;

/** Sentences as the words of a part. */
export const narrative = (sentences: readonly string[]): Narrative => ({
  status: 'generated',
  div: htmlOf(
    el(
      'div',
      { xmlns: xhtml },
      el(
        'ul',
        {},
        sentences.map((one) => el('li', {}, said(one))),
      ),
    ),
  ),
});

/** Everybody whose name stands in the record. */
export function peopleIn({ record, current }: Making): readonly string[] {
  const named = eventsIn(record).flatMap((event): readonly string[] => {
    if ('agreedBy' in event) return event.agreedBy;
    if (event.type === 'opened') return Object.values(event.team);
    if (event.type === 'relieved') return [event.from, event.to];
    if (event.type === 'checkpointBegun') return [event.leader];
    if (event.type === 'discrepancyStepped') return [event.doneBy];
    return event.type === 'xrayRead' ? [event.readBy] : [];
  });
  const inSpecimens = Object.values(current.specimens).flatMap((one) => [
    one.labelledBy,
    one.readBackBy,
  ]);
  const all = [...named, ...inSpecimens, ...Object.values(current.team)];
  return [...new Set(all.filter((name) => name !== undefined && name.trim() !== ''))].map(String);
}
