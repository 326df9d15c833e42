import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { describe, expect, test, vi } from 'vitest';
import { openDatabase } from '#journal/database.ts';
import { parseExport } from '#journal/exportFile.ts';
import { openJournal } from '#journal/openJournal.ts';
import { fits, fitsHead, keyCode, newSigningKey, signHead } from '#journal/signature.ts';
import { openSigner } from '#journal/signer.ts';
import { draft } from '../support/drafts.ts';
import { memoryHome } from '../support/memoryHome.ts';

const bytes = (text: string) => new TextEncoder().encode(text);

describe('The values of RFC 6979, A.2.5 (P-256 with SHA-256)', () => {
  const by = [
    '04',
    '60fed4ba255a9d31c961eb74c6356d68c049b8923b61fa6ce669622e60f29fb6',
    '7903fe1008b8bc99a41ae9e95628bc64f2f1b20c2d7e9f5177a3c294d4462299',
  ].join('');
  const of = {
    sample: [
      'efd48b2aacb6a8fd1140dd9cd45e81d69d2c877b56aaf991c34d0ea84eaf3716',
      'f7cb1c942d657c41d436c7a1b6e29f65f3e900dbb9aff4064dc4ab2f843acda8',
    ].join(''),
    test: [
      'f1abb023518351cd71d881567b1ea663ed3efcf6c5132b354f28d3b0b7d38367',
      '019f4113742a2b14bd25926b49c649155f267e60d3814b4c0cc84250e46f0083',
    ].join(''),
  };

  test('fit what they were made of, and nothing else', async () => {
    expect(await fits({ by, signature: of.sample }, bytes('sample'))).toBe(true);
    expect(await fits({ by, signature: of.test }, bytes('test'))).toBe(true);
    expect(await fits({ by, signature: of.sample }, bytes('test'))).toBe(false);
    expect(await fits({ by, signature: of.test }, bytes('Test'))).toBe(false);
  });

  const half = (part: string) => part.repeat(64);
  test.each([
    ['of nothing', `${half('0')}${half('0')}`],
    ['whose r is nothing', `${half('0')}${of.sample.slice(64)}`],
    ['whose s is nothing', `${of.sample.slice(0, 64)}${half('0')}`],
    ['whose halves changed places', of.sample.slice(64) + of.sample.slice(0, 64)],
    ['whose numbers are beyond the order of the curve', half('f') + half('f')],
    ['that is cut', of.sample.slice(0, -2)],
    ['in capital letters', of.sample.toUpperCase()],
    ['as DER writes it', `3044${of.sample}`],
  ])('a signature %s does not fit', async (_, signature) => {
    expect(await fits({ by, signature }, bytes('sample'))).toBe(false);
  });

  test.each([
    ['that is not on the curve', `${by.slice(0, -1)}8`],
    ['at infinity', `04${half('0')}${half('0')}`],
    ['that is compressed', `02${by.slice(2, 66)}`],
  ])('a key %s fits nothing', async (_, other) => {
    expect(await fits({ by: other, signature: of.sample }, bytes('sample'))).toBe(false);
  });
});

const head = { caseId: 'case-1', rows: 4, head: 'ab'.repeat(32) };

describe('What a tablet signs', () => {
  test('is the case, its number of rows and the end of its chain', async () => {
    const signed = await signHead(await newSigningKey(), head);
    expect(await fitsHead(signed, head)).toBe(true);
    expect(await fitsHead(signed, { ...head, caseId: 'case-2' })).toBe(false);
    expect(await fitsHead(signed, { ...head, rows: 5 })).toBe(false);
    expect(await fitsHead(signed, { ...head, head: 'ac'.repeat(32) })).toBe(false);
    const other = await signHead(await newSigningKey(), head);
    expect(await fitsHead({ ...signed, by: other.by }, head)).toBe(false);
  });

  test('is signed with a key that nobody can read', async () => {
    const { privateKey } = await newSigningKey();
    expect(privateKey.extractable).toBe(false);
    await expect(crypto.subtle.exportKey('jwk', privateKey)).rejects.toThrow();
  });

  test('with the same key from start to start, and in two windows that come at once', async () => {
    const factory = new IDBFactory();
    const [one, two] = [1, 2].map(() => openSigner(openDatabase('test', factory)));
    const signed = await Promise.all([one?.sign(head), two?.sign(head)]);
    const later = await openSigner(openDatabase('test', factory)).sign(head);
    expect(new Set([...signed, later].map((each) => each?.by)).size).toBe(1);
    expect(later && (await fitsHead(later, head))).toBe(true);
    const elsewhere = await openSigner(openDatabase('test', new IDBFactory())).sign(head);
    expect(elsewhere?.by).not.toBe(later?.by);
    expect(await one?.code()).toBe(later && (await keyCode(later.by)));
    expect(await one?.code()).toMatch(/^([0-9A-HJKMNP-TV-Z]{4}-){3}[0-9A-HJKMNP-TV-Z]{4}$/);
  });

  test('is nothing where no key can be kept: the case is taken out all the same', async () => {
    const broken = openDatabase('test', new IDBFactory());
    const failing = { ...broken, useStore: () => () => Promise.reject(new DOMException('gone')) };
    const journal = openJournal({
      homes: [memoryHome('database')],
      sign: openSigner(failing).sign,
    });
    await journal.append('case-1', draft(1));
    const taken = await journal.exportCase('case-1');
    expect(taken.ok && JSON.parse(taken.text.split('\n')[0] ?? '').v).toBe(1);
  });
});

describe('A signed file', () => {
  const sign = vi.fn<ReturnType<typeof openSigner>['sign']>();
  async function taken(rows: number, key: CryptoKeyPair): Promise<string> {
    sign.mockImplementation((of) => signHead(key, of));
    const journal = openJournal({ homes: [memoryHome('database')], sign });
    for (let n = 1; n <= rows; n += 1) await journal.append('case-1', draft(n));
    const file = await journal.exportCase('case-1');
    if (!file.ok) throw new Error(file.failure.code);
    return file.text;
  }
  const keys = Promise.all([newSigningKey(), newSigningKey()]);

  test('goes into another tablet, which keeps the rows and not the signature', async () => {
    const [key] = await keys;
    const text = await taken(3, key);
    const there = openJournal({ homes: [memoryHome('database')] });
    expect(await there.importCase(text)).toMatchObject({ outcome: 'imported', added: 3 });
    const out = await there.exportCase('case-1');
    expect(out.ok && out.text.split('\n').slice(1)).toEqual(text.split('\n').slice(1));
    expect(out.ok && (await parseExport(out.text))).toMatchObject({ ok: true, signed: undefined });
  });

  test('with any letter of its signature changed, or its key, is refused', async () => {
    const [key, otherKey] = await keys;
    const text = await taken(2, key);
    const { signed } = JSON.parse(text.split('\n')[0] ?? '');
    const other = JSON.parse((await taken(2, otherKey)).split('\n')[0] ?? '').signed;
    const refused = async (changed: string) => {
      const answer = await parseExport(changed);
      return answer.ok ? 'taken' : answer.failure.code;
    };
    expect((await parseExport(text)).ok).toBe(true);
    expect(await refused(text.replace(signed.by, other.by))).toBe('signature-wrong');
    expect(await refused(text.replace(signed.signature, other.signature))).toBe('signature-wrong');
    for (let at = 0; at < signed.signature.length; at += 1) {
      const letter = signed.signature[at] === '0' ? '1' : '0';
      const flipped = signed.signature.slice(0, at) + letter + signed.signature.slice(at + 1);
      expect(await refused(text.replace(signed.signature, flipped)), `${at}`).toBe(
        'signature-wrong',
      );
    }
  });

  test('with the signature of a shorter record, or of another case, is refused', async () => {
    const [key] = await keys;
    const [two, three] = [await taken(2, key), await taken(3, key)];
    const signatureOf = (text: string) => JSON.parse(text.split('\n')[0] ?? '').signed.signature;
    expect(await parseExport(three.replace(signatureOf(three), signatureOf(two)))).toMatchObject({
      failure: { code: 'signature-wrong' },
    });
  });

  test.each([
    ['version 1 with a signature', '"v":2', '"v":1'],
    ['version 2 without', /"signed":\{[^}]*\},/, ''],
    ['more in the signature', '"signature":"', '"more":1,"signature":"'],
  ])('%s is damaged', async (_, was, is) => {
    const [key] = await keys;
    const text = await taken(1, key);
    expect(text.replace(was, is)).not.toBe(text);
    expect(await parseExport(text.replace(was, is))).toMatchObject({
      failure: { code: 'file-damaged' },
    });
  });
});
