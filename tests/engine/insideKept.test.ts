import { expect, test } from 'vitest';
import { holdsOf } from '#engine/closures/holdsOf.ts';
import { ownLedger, post, sharedLedger, transfer } from '#engine/ledger.ts';
import type { Case } from '#engine/state.ts';
import { type Done, given, incised } from '../support/given.ts';
import { inGerman } from '../support/inGerman.ts';

/** What was found inside is kept with the balances it follows from. It must be said anew when anything else changes. */

const swabIn: Done = {
  type: 'move',
  line: 'swab',
  from: 'table',
  to: 'patient/abdomen',
  n: 1,
};
const withSwab = (): Case => given(...incised, swabIn).current;
const insideAt = (current: Case, gate = 'sign-out') =>
  holdsOf(current, gate)
    .filter(({ code }) => code === 'piece-inside' || code === 'fragment-open')
    .map(({ about, title }) => `${about}: ${title}`);

test('[X4] what was found inside is said in the language that is spoken now', () => {
  const current = withSwab();
  const english = insideAt(current);
  expect(english).toHaveLength(1);
  const german = inGerman({ '{0} in the {1}': '{0} liegt im {1}' }, () => insideAt(current));
  expect(german).not.toEqual(english);
  expect(german[0]).toContain('1 liegt im ');
  expect(insideAt(current)).toEqual(english);
});

test('[X4] each gate says it of its own sites, whichever was asked first', () => {
  const current = withSwab();
  const gates = current.sheet.closures.map(({ id }) => id).concat('sign-out');
  const forward = gates.map((gate) => insideAt(current, gate));
  const anew = withSwab();
  const backward = [...gates].reverse().map((gate) => insideAt(anew, gate));
  expect(backward.reverse()).toEqual(forward);
  expect(new Set(forward.map((found) => found.length)).size).toBeGreaterThan(1);
});

test('[X4] a change of the sheet, or of the lines, is seen at once', () => {
  const current = withSwab();
  const [before] = insideAt(current);
  const sites = current.sheet.sites.map((site) => ({ ...site, name: 'Chest' }));
  const [otherSite] = insideAt({ ...current, sheet: { ...current.sheet, sites } });
  expect(otherSite).toContain('chest');
  expect(before).not.toContain('chest');
  const lines = new Map([...current.lines].map(([id, line]) => [id, { ...line, name: 'Gauze' }]));
  expect(insideAt({ ...current, lines })[0]).toContain('Gauze');
});

test('[X4] nothing is kept of a ledger that its owner writes into', () => {
  const current = withSwab();
  const own = { ...current, ledger: ownLedger(current.ledger) };
  expect(insideAt(own)).toHaveLength(1);
  post(own.ledger, transfer('swab', 'patient/abdomen', 'off', 1));
  expect(insideAt(own)).toEqual([]);
  expect(insideAt({ ...own, ledger: sharedLedger(own.ledger) })).toEqual([]);
  expect(insideAt(current)).toHaveLength(1);
});

test.each([
  ['the first gate', ['abdomen']],
  ['a later one', ['uterus', 'abdomen']],
])('[X4] closures that share an id for two variants are asked each for its own: %s', (_, ids) => {
  const sealIn: Done = { ...swabIn, line: 'seal' };
  const story = given(...incised, sealIn).current;
  const closures = story.sheet.closures
    .filter(({ id }) => ids.includes(id))
    .flatMap((closure) =>
      closure.id === 'abdomen'
        ? [
            { ...closure, when: { variant: ['keyhole'] } },
            { ...closure, inUse: [], when: { variant: ['open'] } },
          ]
        : [closure],
    );
  const keyhole = {
    ...story,
    sheet: { ...story.sheet, closures },
    variants: { approach: 'keyhole' },
  };
  expect(insideAt(keyhole, 'abdomen')).toEqual([]);
  const open = { ...keyhole, variants: { approach: 'open' } };
  expect(insideAt(open, 'abdomen')).toHaveLength(1);
  expect(insideAt(keyhole, 'abdomen')).toEqual([]);
});
