import { readFileSync } from 'node:fs';
import { expect, test, vi } from 'vitest';
import type { Draft } from '#journal/chain.ts';
import { openJournal } from '#journal/openJournal.ts';
import { createSession, type Session } from '#session/createSession.ts';
import { oneSite } from '../simulator/sheets.ts';
import { memoryHome } from '../support/memoryHome.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';

vi.setConfig({ testTimeout: 60_000 });

const stateOf = (session: Session) => session.store.getSnapshot().context;

/** Every event type that this version knows, from the table that the session keeps. */
const types = [
  ...readFileSync('src/session/parseEvents.ts', 'utf8').matchAll(/^ {2}(\w+): true,$/gm),
].map(([, type]) => type ?? '');

/** A whole case, as a tablet gave it out: its first row opens it. */
async function opening(): Promise<Draft> {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin(invented(oneSite));
  const { current } = stateOf(session);
  const text = (await session.exportCase(current?.id ?? '')) ?? '';
  return JSON.parse(text.split('\n')[1] ?? '');
}

/** A file whose chain holds and whose rows are whatever somebody liked. */
async function forged(caseId: string, drafts: readonly Draft[]): Promise<string> {
  const journal = openJournal({ homes: [memoryHome('database'), memoryHome('file')] });
  for (const [index, draft] of drafts.entries())
    await journal.append(caseId, { ...draft, id: `forged-${index}` });
  const exported = await journal.exportCase(caseId);
  return exported.ok ? exported.text : '';
}

const values: readonly unknown[] = [null, true, -1, 1e308, '', 'x'.repeat(5000), [], {}, [[[]]]];

/** Fields that events have, given what they never hold. */
const fields = [
  'postings',
  'lines',
  'line',
  'n',
  'packs',
  'sheet',
  'patient',
  'team',
  'answers',
  'steps',
  'by',
];

function* odd(): Generator<Record<string, unknown>> {
  for (const type of types) {
    yield { type };
    for (const value of values)
      yield { type, ...Object.fromEntries(fields.map((field) => [field, value])) };
  }
}

test('a file whose chain holds but whose rows are nonsense never keeps the program from starting', async () => {
  const first = await opening();
  expect(types.length).toBeGreaterThan(30);
  const storage = [new Map<string, string[]>(), new Map<string, string[]>()];
  const world = makeWorld({ storage });
  const session = createSession(world.ports);
  await session.start();
  await session.begin(invented(oneSite));
  const good = stateOf(session).current?.id;
  let number = 0;
  for (const event of odd()) {
    number += 1;
    const head = { entry: 2, at: first.at, by: 'x', id: `e${number}` };
    const second = { ...first, events: [{ ...head, ...event }] };
    const drafts = event.type === 'opened' ? [second] : [first, second];
    await world.ports.journal.importCase(await forged(`case-forged-${number}`, drafts));
  }

  const next = createSession(makeWorld({ storage }).ports);
  await next.start();
  expect(stateOf(next).stage).toBe('ready');
  expect(stateOf(next).cases).toHaveLength(number + 1);
  if (!good) throw new Error('No case was opened.');
  await next.go({ screen: 'case', caseId: good, view: { name: 'frame' } });
  expect(stateOf(next).damaged).toBeUndefined();
  expect((await next.send({ type: 'note', text: 'still works' })).ok).toBe(true);
});

test('what a file names __proto__ or constructor reaches nothing', async () => {
  const first = await opening();
  const session = createSession(makeWorld().ports);
  await session.start();
  for (const key of ['__proto__', 'constructor', 'prototype']) {
    const text = (await forged('case-proto', [first])).replace(
      '"team":{',
      `"team":{"${key}":{"polluted":true},`,
    );
    expect((await session.importCase(text)).ok).toBe(false);
  }
  expect(Reflect.get({}, 'polluted')).toBeUndefined();
  expect(stateOf(session).cases).toEqual([]);
});

test('lines and places named like parts of every object are lines and places', async () => {
  const names = ['__proto__', 'constructor', 'toString', 'hasOwnProperty', 'valueOf'];
  const [line] = oneSite.lines;
  if (!line) throw new Error('The sheet has no line.');
  const sheet = { ...oneSite, lines: names.map((id) => ({ ...line, id, name: id })) };
  const session = createSession(makeWorld().ports);
  await session.start();
  const outcome = await session.begin(invented(sheet));
  if (!outcome.ok) return expect(outcome).toHaveProperty('failure');
  await session.send({ type: 'beginCount', moment: 'first' });
  for (const id of names) {
    const entered = await session.send({ type: 'enter', line: id, packs: [5] });
    expect(entered, id).toEqual({ ok: true });
  }
  expect(await session.send({ type: 'agree' })).toEqual({ ok: true });
});

test('a file of the greatest size that is taken is refused or taken within seconds', async () => {
  const session = createSession(makeWorld().ports);
  await session.start();
  const begun = performance.now();
  const row = `{"app":"x","at":"2026-01-05T08:00:00Z","by":"${'x'.repeat(900_000)}"}`;
  const header = `{"caseId":"c","format":"lastlook-journal","head":"${'0'.repeat(64)}","rows":50,"v":1}`;
  expect((await session.importCase(`${header}\n${`${row}\n`.repeat(50)}`)).ok).toBe(false);
  expect((await session.importCase(`${header}\n${'['.repeat(900_000)}\n`)).ok).toBe(false);
  expect((await session.importCase(`${'{"a":'.repeat(200_000)}`)).ok).toBe(false);
  expect(performance.now() - begun).toBeLessThan(10_000);
});
