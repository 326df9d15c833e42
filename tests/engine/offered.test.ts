import { expect, test } from 'vitest';
import {
  groupsNotSaid,
  offeredAtOpening,
  offeredInMidCase,
  variantGroups,
} from '#engine/offered.ts';
import { storySheet } from '../support/storySheet.ts';

/** Which variants can be chosen, and when. */

const variant = (id: string, group: string, choose?: 'mid-case' | 'never') => ({
  ...{ id, name: id, group, opens: {} },
  ...(choose === undefined ? {} : { choose }),
});

const sheet = {
  ...storySheet,
  variants: [
    variant('keyhole', 'approach'),
    variant('side-not-said', 'side', 'never'),
    variant('converted', 'approach', 'mid-case'),
    variant('left', 'side'),
    variant('right', 'side'),
    variant('stapled', 'stump'),
    variant('tied', 'stump', 'mid-case'),
  ],
};
const ids = (variants: readonly { readonly id: string }[]) => variants.map(({ id }) => id);

test('[X12] groups are in the order of the sheet, each once', () => {
  expect(variantGroups(sheet)).toEqual(['approach', 'side', 'stump']);
});

test('[X12] no case is opened as converted, nor with what stands for nothing chosen', () => {
  expect(ids(offeredAtOpening(sheet, 'approach'))).toEqual(['keyhole']);
  expect(ids(offeredAtOpening(sheet, 'side'))).toEqual(['left', 'right']);
});

test('[X12] in mid-case conversions are offered too', () => {
  expect(ids(offeredInMidCase(sheet, 'approach'))).toEqual(['keyhole', 'converted']);
  expect(ids(offeredInMidCase(sheet, 'side'))).toEqual(['left', 'right']);
});

test('[X12] a group whose first variant only stands for nothing chosen must be said', () => {
  expect(groupsNotSaid(sheet, {})).toEqual(['side']);
  expect(groupsNotSaid(sheet, { side: 'side-not-said' })).toEqual(['side']);
  expect(groupsNotSaid(sheet, { side: 'right' })).toEqual([]);
  expect(groupsNotSaid(sheet, { side: 'nowhere', stump: 'tied' })).toEqual(['side']);
  expect(groupsNotSaid({ ...sheet, variants: [] }, {})).toEqual([]);
});
