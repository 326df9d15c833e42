/**
 * One application identifier of GS1: what it means and what may stand in it.
 *
 * Units: `min` and `max` characters. `sets`: one of these sets of other identifiers must be there as well.
 */
export type Identifier = {
  readonly ai: string;
  readonly name: string;
  readonly form: 'digits' | 'text';
  readonly min: number;
  readonly max: number;
  /** The last digit of its first fourteen, thirteen or eighteen is a check digit. */
  readonly checked?: boolean;
  /** A day as YYMMDD; `day-open` may have 00 for the day, which means the last of the month. */
  readonly date?: 'day-open' | 'day-and-time';
  readonly needs?: readonly (readonly string[])[];
  readonly excludes?: readonly string[];
};

const item = [['01'], ['02'], ['03'], ['8006'], ['8026']] as const;
const own = [['01']] as const;

const text = (
  ai: string,
  name: string,
  max: number,
  more: Partial<Identifier> = {},
): Identifier => ({
  ai,
  name,
  form: 'text',
  min: 1,
  max,
  ...more,
});
const number = (
  ai: string,
  name: string,
  length: readonly [number, number],
  more: Partial<Identifier> = {},
): Identifier => ({ ai, name, form: 'digits', min: length[0], max: length[1], ...more });
const day = (ai: string, name: string, needs: Identifier['needs'] = item): Identifier =>
  number(ai, name, [6, 6], { date: 'day-open', ...(needs ? { needs } : {}) });

/**
 * What is met on packs, trays, wristbands and badges in a theatre.
 *
 * Source: GS1 Barcode Syntax Dictionary, release 2026-07-27 (formats, `req` and `ex` attributes).
 */
const known: readonly Identifier[] = [
  number('00', 'Shipping unit', [18, 18], { checked: true }),
  number('01', 'Item number', [14, 14], { checked: true, excludes: ['37', '255'] }),
  number('02', 'Item number of contents', [14, 14], {
    checked: true,
    needs: [['37']],
    excludes: ['01'],
  }),
  number('03', 'Made-to-order item number', [14, 14], { checked: true, excludes: ['01'] }),
  text('10', 'Lot', 20, { needs: item }),
  day('11', 'Made'),
  day('13', 'Packed'),
  day('15', 'Best before'),
  day('16', 'Sell by'),
  day('17', 'Expires', [...item, ['255']]),
  number('20', 'Variant', [2, 2], { needs: item }),
  text('21', 'Serial number', 20, { needs: [['01'], ['03'], ['8006']], excludes: ['235'] }),
  text('22', 'Consumer variant', 20, { needs: own }),
  text('235', 'Serial number of a third party', 28, { needs: own }),
  text('240', 'Additional number', 30, { needs: item }),
  text('241', 'Number of the customer', 30, { needs: item }),
  text('250', 'Second serial number', 30, { needs: [['01', '21']] }),
  number('30', 'Number of pieces', [1, 8], { needs: [['01'], ['02']] }),
  number('37', 'Number of items', [1, 8], {
    needs: [
      ['00', '02'],
      ['00', '8026'],
    ],
  }),
  number('414', 'Place', [13, 13], { checked: true }),
  number('416', 'Place of production', [13, 13], { checked: true }),
  ...['710', '711', '712', '713', '714'].map((ai) =>
    text(ai, 'National number', 20, { needs: own }),
  ),
  number('7003', 'Expires', [10, 10], {
    date: 'day-and-time',
    needs: [['01'], ['02'], ['03']],
  }),
  text('8004', 'Number of a tray or an asset', 30),
  number('8006', 'Part of an item', [18, 18], { checked: true }),
  number('8017', 'Provider', [18, 18], { checked: true, excludes: ['8018'] }),
  number('8018', 'Recipient', [18, 18], { checked: true, excludes: ['8017'] }),
  number('8026', 'Part of contents', [18, 18], { checked: true, needs: [['37']] }),
  ...[91, 92, 93, 94, 95, 96, 97, 98, 99].map((ai) => text(`${ai}`, 'In-house', 90)),
];

const byAi: ReadonlyMap<string, Identifier> = new Map(known.map((one) => [one.ai, one]));

/** The identifier with which a string begins. No identifier is the beginning of another one. */
export function identifierAt(data: string): Identifier | undefined {
  return [2, 3, 4].map((length) => byAi.get(data.slice(0, length))).find((one) => one);
}

/** Of these the length is known beforehand, so that no separator has to follow. GS1 General Specifications 7.8.5. */
export const isOfKnownLength = (ai: string): boolean => /^(0[0-4]|1[1-9]|20|3[1-6]|41)/.test(ai);
