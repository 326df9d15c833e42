import { expect, test } from 'vitest';
import { type Route, routeFrom, routeText, startRoute } from '#session/route.ts';

const routes: readonly Route[] = [
  startRoute,
  { screen: 'opening' },
  { screen: 'afterwards' },
  { screen: 'case', caseId: 'a', view: { name: 'frame' } },
  { screen: 'case', caseId: 'a/b %', view: { name: 'count', about: 'closing' } },
  { screen: 'case', caseId: 'a', view: { name: 'discrepancy', about: 'port-12-seal' } },
];

test.each(routes)('a route survives being remembered: %j', (route) => {
  expect(routeFrom(routeText(route))).toEqual(route);
});

test.each(['', 'case', 'case//frame', '%E0%A4%A', '<script>', 'nowhere/x'])(
  'what is no route leads to the start: %s',
  (text) => {
    expect(routeFrom(text)).toEqual(startRoute);
  },
);

test('a screen that is not known any more leads to the counting frame', () => {
  expect(routeFrom('case/a/gone/x')).toEqual({
    screen: 'case',
    caseId: 'a',
    view: { name: 'frame' },
  });
});
