import { type Bytes, fromHex, randomBytes, toHex } from './bytes.ts';
import { type CaseCipher, caseCipher } from './caseCipher.ts';
import type { Kept, NotesPort } from './ports.ts';
import { unwrapKey, wrapKey } from './wrapKey.ts';

/** The keys of cases. `unitKey` is asked each time, since it is there only while somebody has given a PIN. */
export type CaseKeys = {
  /** `plain`: the case has no key. `locked`: it has one that only a PIN opens. */
  readonly cipherOf: (caseId: string) => Promise<CaseCipher | 'plain' | 'locked'>;
  readonly canOpen: (caseId: string) => boolean;
  /** Makes the key of a new case. It lies open until the case ends. */
  readonly begin: (caseId: string) => Promise<Kept>;
  /** Wraps what lies open and is not wrapped yet. Needs the unit's key. */
  readonly wrapAll: () => Promise<Kept>;
  /** Takes the open key away, once it is wrapped. */
  readonly end: (caseId: string) => Promise<Kept>;
  /** Cases whose key lies open. */
  readonly open: () => readonly string[];
  /** Without its keys nobody reads the case again. */
  readonly forget: (caseId: string) => Promise<Kept>;
  /** Forgets what only a PIN opens. */
  readonly lock: () => void;
};

const looseName = (caseId: string) => `loose-${caseId}`;
const wrappedName = (caseId: string) => `key-${caseId}`;

/** Makes and finds the keys of cases among the notes of the tablet. */
export function makeCaseKeys(notes: NotesPort, unitKey: () => Bytes | undefined): CaseKeys {
  const ciphers = new Map<string, Promise<CaseCipher>>();
  const look = makeLook(notes);
  async function keyOf(caseId: string): Promise<Bytes | 'plain' | 'locked'> {
    const loose = fromHex(notes.get(looseName(caseId)) ?? '');
    if (loose && loose.length > 0) return loose;
    const wrapped = notes.get(wrappedName(caseId));
    if (wrapped === undefined) return 'plain';
    const unit = unitKey();
    return (unit && (await unwrapKey(unit, wrapped))) ?? 'locked';
  }

  async function cipherOf(caseId: string): Promise<CaseCipher | 'plain' | 'locked'> {
    const known = ciphers.get(caseId);
    if (known) return known;
    await look.forKey(caseId);
    const key = await keyOf(caseId);
    if (typeof key === 'string') return key;
    const cipher = caseCipher(key, caseId);
    ciphers.set(caseId, cipher);
    return cipher;
  }

  async function wrap(caseId: string): Promise<Kept> {
    const unit = unitKey();
    const loose = fromHex(notes.get(looseName(caseId)) ?? '');
    if (!unit || !loose || notes.get(wrappedName(caseId)) !== undefined) return { ok: true };
    return notes.put(wrappedName(caseId), await wrapKey(unit, loose));
  }

  async function wrapAll(): Promise<Kept> {
    for (const caseId of openCases(notes)) {
      const kept = await wrap(caseId);
      if (!kept.ok) return kept;
    }
    return { ok: true };
  }

  async function begin(caseId: string): Promise<Kept> {
    look.forget(caseId);
    const kept = await notes.put(looseName(caseId), toHex(randomBytes(32)));
    return kept.ok ? wrap(caseId) : kept;
  }

  async function end(caseId: string): Promise<Kept> {
    if (notes.get(wrappedName(caseId)) === undefined) return { ok: true };
    if (unitKey() === undefined) ciphers.delete(caseId);
    return notes.drop(looseName(caseId));
  }

  async function forget(caseId: string): Promise<Kept> {
    ciphers.delete(caseId);
    const loose = await notes.drop(looseName(caseId));
    return loose.ok ? notes.drop(wrappedName(caseId)) : loose;
  }

  const canOpen = (caseId: string): boolean =>
    [notes.get(looseName(caseId)), unitKey()].some((key) => key !== undefined) ||
    notes.get(wrappedName(caseId)) === undefined;

  function lock(): void {
    for (const caseId of ciphers.keys())
      if (notes.get(looseName(caseId)) === undefined) ciphers.delete(caseId);
  }

  return {
    ...{ cipherOf, canOpen, begin, wrapAll, end, forget, lock },
    open: () => openCases(notes),
  };
}

/** Another window may have begun a case since: its key is looked for once more before the case counts as plain. */
function makeLook(notes: NotesPort) {
  /** Cases that were looked for in vain, so that each of their rows need not look again. */
  const plain = new Set<string>();
  const isKnown = (caseId: string) =>
    notes.get(looseName(caseId)) !== undefined || notes.get(wrappedName(caseId)) !== undefined;
  return {
    forKey: async (caseId: string): Promise<void> => {
      if (isKnown(caseId) || plain.has(caseId)) return;
      await notes.refresh();
      if (!isKnown(caseId)) plain.add(caseId);
    },
    forget: (caseId: string) => void plain.delete(caseId),
  };
}

const openCases = (notes: NotesPort): readonly string[] =>
  notes
    .names()
    .filter((name) => name.startsWith(looseName('')))
    .map((name) => name.slice(looseName('').length));
