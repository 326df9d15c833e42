import { expect, test } from 'vitest';
import { createSession } from '#session/createSession.ts';
import { makeWorld } from '../support/sessionPorts.ts';

const key = 'lastlook-scanner';
const scannerOf = (remembered: Map<string, string>) =>
  createSession(makeWorld({ remembered }).ports).store.getSnapshot().context.scanner;

test('how scanners send the separator is kept on the tablet', () => {
  const remembered = new Map<string, string>();
  const session = createSession(makeWorld({ remembered }).ports);
  session.setScanner({ separatorText: '{GS}', separatorKey: 'F8' });
  expect(session.store.getSnapshot().context.scanner).toEqual({
    separatorText: '{GS}',
    separatorKey: 'F8',
  });
  expect(scannerOf(remembered)).toEqual({ separatorText: '{GS}', separatorKey: 'F8' });
  session.setScanner({});
  expect(scannerOf(remembered)).toEqual({});
});

test.each([
  'not JSON',
  '[]',
  'null',
  '7',
  '{"separatorText":7,"separatorKey":"Enter"}',
  '{"separatorText":" "}',
])('what cannot be a setting, %s, is none', (text) => {
  expect(scannerOf(new Map([[key, text]]))).toEqual({});
});
