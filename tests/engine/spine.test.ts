import { expect, test } from 'vitest';
import { stationOf, stationsOf } from '#engine/case/stationsOf.ts';
import type { Place } from '#engine/places.ts';
import { placeWords } from '#engine/placeWords.ts';
import type { Sheet } from '#engine/sheet.ts';
import type { Case } from '#engine/state.ts';
import {
  checkpoint,
  closedUp,
  count,
  type Done,
  given,
  givenOn,
  incised,
  specimenGone,
  wait,
} from '../support/given.ts';
import { storySheet } from '../support/storySheet.ts';

/** The way of a case as the spine shows it, and the places as people say them. */

const way = (current: Case) => stationsOf(current).map(({ id, state }) => `${id} ${state}`);
const here = (...done: readonly Done[]) => stationOf(given(...done).current)?.id;

const ready: readonly Done[] = [
  checkpoint('sign-in'),
  { type: 'dose', agent: 'cefuroxime' },
  count('first'),
];
const signedOut: readonly Done[] = [
  ...incised,
  ...specimenGone,
  ...closedUp,
  checkpoint('sign-out'),
];

test('[K1] the stations of a case stand in the order of the operation, with their names', () => {
  const stations = stationsOf(given().current);
  expect(stations.map(({ id, name, kind }) => [id, name, kind])).toEqual([
    ['prepare', 'Prepare', 'prepare'],
    ['sign-in', 'Sign in', 'checkpoint'],
    ['first', 'first count', 'first-count'],
    ['time-out', 'Time out', 'checkpoint'],
    ['operating', 'Operating', 'operating'],
    ['uterus', 'uterus', 'closing'],
    ['abdomen', 'abdomen', 'closing'],
    ['skin', 'skin', 'closing'],
    ['sign-out', 'Sign out', 'checkpoint'],
    ['record', 'Record', 'record'],
  ]);
});

test('[K1] what is passed has its time; the first that is not is here, the rest is ahead', () => {
  const { current } = given(wait(5), checkpoint('sign-in'), wait(5), count('first'));
  expect(way(current)).toEqual([
    'prepare passed',
    'sign-in passed',
    'first passed',
    'time-out here',
    'operating ahead',
    'uterus ahead',
    'abdomen ahead',
    'skin ahead',
    'sign-out ahead',
    'record ahead',
  ]);
  expect(stationsOf(current).map(({ at }) => at?.slice(11, 16))).toEqual([
    '08:00',
    '08:05',
    '08:10',
    ...new Array<undefined>(7).fill(undefined),
  ]);
});

test.each<readonly [string, string, readonly Done[]]>([
  ['at the start', 'sign-in', []],
  ['after sign in', 'first', [checkpoint('sign-in')]],
  ['after the first count', 'time-out', ready],
  ['after time out', 'operating', [...ready, checkpoint('time-out')]],
  ['after the incision', 'operating', incised],
  ['after the last closure', 'sign-out', [...incised, ...specimenGone, ...closedUp]],
  ['after sign out', 'record', signedOut],
])('[K1] %s a case is at %s', (_, station, done) => {
  expect(here(...done)).toBe(station);
});

test('[X7] operating is passed with the first closure', () => {
  const closed = given(...incised, count('cavity'), wait(5), { type: 'close', closure: 'uterus' });
  expect(way(closed.current).slice(4, 7)).toEqual([
    'operating passed',
    'uterus passed',
    'abdomen here',
  ]);
  expect(stationsOf(closed.current)[4]?.at?.slice(11, 16)).toBe('08:05');
});

test('[X7] where a sheet has no closures, operating is passed with sign out', () => {
  const bare: Sheet = { ...storySheet, closures: [], specimens: [] };
  const operating = (...done: readonly Done[]) =>
    stationsOf(givenOn(bare, ...done).current).find(({ id }) => id === 'operating')?.state;
  expect(operating(...incised)).toBe('here');
  expect(operating(...incised, count('extra'), checkpoint('sign-out'))).toBe('passed');
});

test('[X8] a case that is ended is at no station', () => {
  const { current } = given(...signedOut, { type: 'finish' });
  expect(stationOf(current)).toBeUndefined();
  expect(way(current).every((words) => words.endsWith(' passed'))).toBe(true);
});

test.each<readonly [Place, string]>([
  ['patient/abdomen', 'the abdomen'],
  ['patient/knee', 'the patient'],
  ['supply', 'supply'],
  ['table', 'the table'],
  ['off', 'off the field'],
  ['stays', 'stays on purpose'],
  ['specimen', 'the specimen'],
  ['away', 'away'],
  ['missing', 'missing'],
  ['changed', 'changed'],
])('[L2] the place %s is called %s', (place, words) => {
  expect(placeWords(given().current, place)).toBe(words);
});
