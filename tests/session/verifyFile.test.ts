import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import type { Command } from '#engine/case/events.ts';
import { canonicalJson } from '#journal/canonical.ts';
import { exportText, headOf, parseExport } from '#journal/exportFile.ts';
import { sha256 } from '#journal/sha256.ts';
import { keyCode, newSigningKey, signHead } from '#journal/signature.ts';
import { createSession } from '#session/createSession.ts';
import { type Verification, verifyFile } from '#session/verifyFile.ts';
import { oneSite } from '../simulator/sheets.ts';
import { invented, makeWorld } from '../support/sessionPorts.ts';

vi.setConfig({ testTimeout: 60_000 });

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const verified = (text: string): Promise<Verification> => verifyFile(bytesOf(text));

const found: readonly Command[] = [
  { type: 'beginCount', moment: 'first' },
  { type: 'enter', line: 'swab', field: 5, packs: [5] },
  { type: 'enter', line: 'port', field: 2 },
  { type: 'agree' },
];

/** A case of a few rows as a tablet gives it out. */
async function exported(commands: readonly Command[]): Promise<string> {
  const session = createSession(makeWorld().ports);
  await session.start();
  await session.begin(invented(oneSite));
  for (const command of commands) {
    const outcome = await session.send(command);
    if (!outcome.ok)
      throw new Error(`${command.type} was not recorded: ${JSON.stringify(outcome)}`);
  }
  const { current } = session.store.getSnapshot().context;
  return (await session.exportCase(current?.id ?? '')) ?? '';
}

let text = '';
/** The first line, then the rows by their number. */
let lines: readonly string[] = [];
beforeAll(async () => {
  text = await exported(found);
  lines = text.split('\n').slice(0, -1);
});

const joined = (parts: readonly (string | undefined)[]): string => `${parts.join('\n')}\n`;
/** The first line says how many rows follow, so that only the rows are wrong. */
const withRows = (rows: readonly (string | undefined)[]): string =>
  joined([lines[0]?.replace(/"rows":\d+/, `"rows":${rows.length}`), ...rows]);

/** A row as somebody would write it who knows how hashes are made. */
async function sealedAgain(row: string, change: (body: Record<string, unknown>) => void) {
  const { hash: _, ...body } = JSON.parse(row);
  change(body);
  const canonical = canonicalJson(body);
  if (!canonical.ok) throw new Error('not JSON');
  const whole = canonicalJson({ ...body, hash: sha256(canonical.text) });
  return whole.ok ? whole.text : '';
}

test('a file as it was written is whole, and is replayed to its verdict', async () => {
  const { hash } = JSON.parse(lines.at(-1) ?? '');
  const answer = await verified(text);
  expect(answer).toMatchObject({
    state: 'whole',
    told: { rows: 5, verdict: 'open', finishedAt: undefined, practice: false },
  });
  expect(answer.state === 'whole' && answer.told.code).toMatch(/^[0-9A-Z]{4}-[0-9A-Z]{4}$/);
  expect(hash).toMatch(/^[0-9a-f]{64}$/);
});

describe('What was changed is found, with its place', () => {
  test('every byte, in two ways: the row that it stands in is named', async () => {
    const bytes = bytesOf(text);
    const missed: string[] = [];
    const misplaced: string[] = [];
    let row = 0;
    for (const [at, byte] of bytes.entries()) {
      for (const mask of [0x01, 0x80]) {
        const flipped = bytes.slice();
        flipped[at] = byte ^ mask;
        const answer = await verifyFile(flipped);
        if (answer.state === 'whole') missed.push(`${at} ^ ${mask}`);
        const isNamed = answer.state === 'changed' && answer.row === row;
        // Of the first line, a changed format or version is no format of ours.
        if (!isNamed && !(row === 0 && answer.state === 'unreadable'))
          misplaced.push(`${at} ^ ${mask}`);
      }
      if (byte === 10) row += 1;
    }
    expect(row).toBe(6);
    expect(missed).toEqual([]);
    expect(misplaced).toEqual([]);
  });

  test('a row that was dropped, at every place', async () => {
    const rows = lines.slice(1);
    for (let at = 0; at < rows.length - 1; at += 1)
      expect(await verified(withRows(rows.toSpliced(at, 1)))).toMatchObject({
        state: 'changed',
        row: at + 1,
      });
    // Without the last row the chain holds: the first line says which hash was the last.
    expect(await verified(withRows(rows.slice(0, -1)))).toMatchObject({ state: 'changed', row: 0 });
  });

  test('a row that stands there twice, and two that changed places, at every place', async () => {
    const rows = lines.slice(1);
    for (const [at, row] of rows.entries()) {
      const twice = await verified(withRows(rows.toSpliced(at, 0, row)));
      expect(twice).toMatchObject({ state: 'changed', row: at + 2 });
      if (at === 0) continue;
      const swapped = rows.with(at - 1, row).with(at, rows[at - 1] ?? '');
      expect(await verified(withRows(swapped))).toMatchObject({ state: 'changed', row: at });
    }
  });

  test('a row of another case, and of another history of the same case, at every place', async () => {
    const other = (await exported(found.slice(0, 3))).split('\n').slice(1, -1);
    const rows = lines.slice(1);
    for (const [at, row] of other.entries()) {
      if (at === 0) continue;
      const elsewhere = await sealedAgain(row, (body) => {
        body.caseId = 'case-of-somebody-else';
      });
      const later = await sealedAgain(row, (body) => {
        body.at = '2026-01-05T14:20:00.000Z';
      });
      for (const spliced of [elsewhere, later]) {
        const answer = await verified(withRows(rows.with(at, spliced)));
        // A row of the same case and place whose hash fits shows at the row after it.
        const place = spliced === later ? at + 2 : at + 1;
        expect(answer).toMatchObject({ state: 'changed', row: place });
      }
    }
  });

  test('a first line that says more rows, fewer, or another case', async () => {
    for (const [was, is] of [
      ['"rows":5', '"rows":7'],
      ['"rows":5', '"rows":4'],
      ['"caseId":"', '"caseId":"x'],
    ] as const) {
      const answer = await verified(joined([lines[0]?.replace(was, is), ...lines.slice(1)]));
      expect(answer).toMatchObject({ state: 'changed', row: 0 });
    }
  });

  test('a file that was cut, and one with more behind it', async () => {
    expect(await verified(text.slice(0, -1))).toMatchObject({ state: 'changed' });
    expect(await verified(text.slice(0, -9))).toMatchObject({ state: 'changed', row: 5 });
    expect(await verified(`${text}{}\n`)).toMatchObject({ state: 'changed', row: 6 });
  });
});

describe('What a changed file still says', () => {
  test('what the rows before say is told, and rows after that do not fit their hash', async () => {
    const broken = lines.map((line, row) =>
      row === 3 || row === 5 ? line.replace('id-', 'ix-') : line,
    );
    expect(await verified(joined(broken))).toMatchObject({
      state: 'changed',
      row: 3,
      told: { rows: 2, verdict: 'open' },
      later: [5],
    });
  });

  test('a byte that is no letter, although a text with the mark for it was written there', async () => {
    const marked = await exported([{ type: 'note', text: 'unreadable \ufffd' }]);
    expect(await verified(marked)).toMatchObject({ state: 'whole' });
    const bytes = Buffer.from(marked, 'utf8');
    const at = bytes.indexOf(Buffer.from('\ufffd', 'utf8'));
    const other = Buffer.concat([
      bytes.subarray(0, at),
      Buffer.from([0xff]),
      bytes.subarray(at + 3),
    ]);
    expect(await verifyFile(other)).toMatchObject({ state: 'changed', row: 2 });
  });

  test('a mark of byte order before the first line', async () => {
    expect((await verified(`\ufeff${text}`)).state).not.toBe('whole');
  });

  test('a row that fits its hash but that no tablet writes', async () => {
    const last = await sealedAgain(lines[5] ?? '', (body) => {
      const events = JSON.parse(JSON.stringify(body.events));
      events[0] = {
        ...events[0],
        type: 'moved',
        postings: [{ line: 'swab', place: 'off', by: -9 }],
      };
      body.events = events;
    });
    const head = lines[0]?.replace(/"head":"\w+"/, `"head":"${JSON.parse(last).hash}"`);
    const answer = await verified(joined([head, ...lines.slice(1, 5), last]));
    expect(answer).toMatchObject({ state: 'changed', row: 5, told: { rows: 4 } });
  });
});

describe('What cannot be judged is said so', () => {
  test.each<[string, () => string]>([
    ['some other text', () => 'Dear all,\nplease count.\n'],
    ['nothing', () => ''],
    ['a file of a newer program', () => text.replace('"v":1}', '"v":3}')],
  ])('%s', async (_, file) => {
    expect((await verified(file())).state).toBe('unreadable');
  });

  test('bytes that are no text', async () => {
    expect((await verifyFile(new Uint8Array([0x89, 0x50, 0xff, 0x0a, 0]))).state).toBe(
      'unreadable',
    );
  });

  test('a row of a newer program whose hash fits, and one that only says so', async () => {
    const newer = await sealedAgain(lines[5] ?? '', (body) => {
      body.v = 2;
    });
    expect((await verified(joined([...lines.slice(0, 5), newer]))).state).toBe('unreadable');
    const says = (lines[5] ?? '').replace('"v":1}', '"v":2}');
    expect(await verified(joined([...lines.slice(0, 5), says]))).toMatchObject({
      state: 'changed',
      row: 5,
    });
  });

  test('an event that this version does not know', async () => {
    const newer = await sealedAgain(lines[5] ?? '', (body) => {
      const events = JSON.parse(JSON.stringify(body.events));
      events[0].type = 'weighedByScale';
      body.events = events;
    });
    const head = lines[0]?.replace(/"head":"\w+"/, `"head":"${JSON.parse(newer).hash}"`);
    const answer = await verified(joined([head, ...lines.slice(1, 5), newer]));
    expect(answer).toMatchObject({ state: 'unreadable' });
    expect(answer.state === 'unreadable' && answer.sentence).toContain('Row 5');
  });
});

/** The file as another tablet would have signed it. */
async function signedFile(key: CryptoKeyPair): Promise<string> {
  const file = await parseExport(text);
  if (!file.ok) throw new Error(file.failure.code);
  return exportText(file.rows, file.texts, await signHead(key, headOf(file.rows)));
}

describe('A signed file', () => {
  test('is whole, and says by which key; every changed byte of its first line is found', async () => {
    const key = await newSigningKey();
    const signed = await signedFile(key);
    const { by } = JSON.parse(signed.split('\n')[0] ?? '').signed;
    expect(await verified(signed)).toMatchObject({ state: 'whole', signedBy: await keyCode(by) });
    expect(await verified(text)).toMatchObject({ state: 'whole', signedBy: undefined });
    const bytes = bytesOf(signed);
    for (let at = 0; at < bytes.indexOf(10); at += 1) {
      for (const mask of [0x01, 0x20, 0x80]) {
        const flipped = bytes.slice();
        flipped[at] = (bytes[at] ?? 0) ^ mask;
        const answer = await verifyFile(flipped);
        const isFound =
          answer.state === 'unreadable' || (answer.state === 'changed' && answer.row === 0);
        expect(isFound, `${at} ^ ${mask}`).toBe(true);
      }
    }
  });

  test('that was changed and chained anew no longer fits its signature', async () => {
    const signed = await signedFile(await newSigningKey());
    const last = await sealedAgain(lines[5] ?? '', (body) => {
      body.by = 'Somebody else';
    });
    const head = signed
      .split('\n')[0]
      ?.replace(/"head":"\w+"/, `"head":"${JSON.parse(last).hash}"`);
    expect(await verified(joined([head, ...lines.slice(1, 5), last]))).toMatchObject({
      state: 'changed',
      row: 0,
      sentence: expect.stringContaining('signature does not fit'),
    });
    // Without its signature nothing in the file tells: the code on the paper does.
    const bare = lines[0]?.replace(/"head":"\w+"/, `"head":"${JSON.parse(last).hash}"`);
    const without = await verified(joined([bare, ...lines.slice(1, 5), last]));
    expect(without).toMatchObject({ state: 'whole', signedBy: undefined });
  });
});

describe('npm run verify', () => {
  let folder = '';
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'verify-'));
    writeFileSync(join(folder, 'whole.txt'), text);
    writeFileSync(
      join(folder, 'changed.txt'),
      joined(lines.with(2, (lines[2] ?? '').replace('first', 'final'))),
    );
    writeFileSync(join(folder, 'letter.txt'), 'Dear all\n');
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const run = (...words: readonly string[]) =>
    spawnSync('node_modules/.bin/node', ['src/session/verifyCli.ts', ...words], {
      encoding: 'utf8',
      env: { ...process.env, INIT_CWD: folder },
    });

  test('ends with 0 for a whole file, and says its verdict and its code', () => {
    const { status, stdout } = run('whole.txt');
    expect(stdout).toMatch(/^whole\.txt: whole\.$/m);
    expect(stdout).toMatch(/Code [0-9A-Z]{4}-[0-9A-Z]{4}\.$/m);
    expect(stdout).toMatch(/Verdict: open\. The case is not finished\./);
    expect(stdout).not.toContain('Testcase');
    expect(status).toBe(0);
  });

  test('ends with 1 for a changed file, and names the row', () => {
    const { status, stdout } = run('changed.txt', 'whole.txt');
    expect(stdout).toMatch(/^changed\.txt: CHANGED\. Row 2 was changed after it was written\.$/m);
    expect(status).toBe(1);
  });

  test('ends with 2 for what is no record, for no file and without a word', () => {
    expect(run('letter.txt').status).toBe(2);
    expect(run('none.txt', 'whole.txt').status).toBe(2);
    const { status, stderr } = run();
    expect(stderr).toContain('npm run verify -- FILE');
    expect(status).toBe(2);
  });

  test('says which key signed, compares with that of a tablet, and says where nobody signed', async () => {
    const signed = await signedFile(await newSigningKey());
    writeFileSync(join(folder, 'signed.txt'), signed);
    const { by } = JSON.parse(signed.split('\n')[0] ?? '').signed;
    const key = await keyCode(by);
    const said = run('signed.txt');
    expect(said.stdout).toContain(`The signature fits. Signed by the tablet with the key ${key}.`);
    expect(said.status).toBe(0);
    expect(run('signed.txt', '--key', key.toLowerCase())).toMatchObject({ status: 0 });
    const other = run('signed.txt', '--key', 'AAAA-AAAA-AAAA-AAAA');
    expect(other.stdout).toMatch(/^signed\.txt: NOT OF THIS TABLET/m);
    expect(other.status).toBe(1);
    expect(run('whole.txt').stdout).toContain('No signature');
    expect(run('whole.txt', '--key', key).status).toBe(1);
    writeFileSync(
      join(folder, 'flipped.txt'),
      signed.replace(by, by.slice(0, -1) + (by.endsWith('0') ? '1' : '0')),
    );
    expect(run('flipped.txt')).toMatchObject({
      status: 1,
      stdout: expect.stringContaining('CHANGED. The signature does not fit this record.'),
    });
  });

  test('compares with the code of the paper', () => {
    const code = /Code ([0-9A-Z-]{9})\./.exec(run('whole.txt').stdout)?.[1] ?? '';
    expect(run('whole.txt', '--code', code.toLowerCase()).status).toBe(0);
    const other = run('whole.txt', '--code', 'AAAA-AAAA');
    expect(other.stdout).toMatch(/another code than the paper/);
    expect(other.status).toBe(1);
  });
});
