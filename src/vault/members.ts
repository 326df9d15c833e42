import type { Book, Person, PersonRole } from './book.ts';
import { type Bytes, randomBytes } from './bytes.ts';
import { type Answer, asAnswer, type CodeAnswer, openWith, type VaultCore } from './core.ts';
import { sealCode } from './paperCode.ts';
import { pinRounds } from './pinKey.ts';
import { makePinLock, newDeviceKey, openPinLock } from './pinLock.ts';
import { type No, no } from './refusals.ts';
import { isPin, isWeakPin } from './weakPin.ts';

export type NewPerson = {
  readonly name: string;
  readonly roles: readonly PersonRole[];
  readonly pin: string;
};

/** One person's say, by PIN. */
export type Say = { readonly person: string; readonly pin: string };

/** The people of the unit and their PINs. `by` are the names of those who stand for it. */
export type Members = {
  /**
   * The first person. Makes the keys of the tablet and the code for paper, which is shown once.
   * Fails: set-up-already, name-missing, role-missing, pin-form, pin-weak, not-kept.
   */
  readonly setUp: (first: NewPerson) => Promise<CodeAnswer>;
  /** Fails: locked, key-lost, name-taken, and as setUp does. */
  readonly add: (person: NewPerson, by: readonly string[]) => Promise<Answer>;
  /** Fails: person-unknown, locked, not-kept. */
  readonly leave: (person: string, by: readonly string[]) => Promise<Answer>;
  /** The badge of a person, as it is scanned. Fails: locked, person-unknown, badge-form, badge-taken, not-kept. */
  readonly setBadge: (person: string, badge: string, by: readonly string[]) => Promise<Answer>;
  /**
   * Whether the PIN is this person's. A right one also opens the tablet.
   * Fails: person-unknown, key-lost, pin-wait, pin-wrong.
   */
  readonly check: (say: Say) => Promise<Answer>;
  /** A new PIN in place of one that the person still knows. Fails: as check and setUp do. */
  readonly changePin: (say: Say, pin: string) => Promise<Answer>;
  /** A new PIN in place of a lost one, by two others. Fails: not-two-others, and as check and setUp do. */
  readonly resetPin: (person: string, pin: string, others: readonly Say[]) => Promise<Answer>;
  /** A new PIN for anybody, when the code on paper has opened the tablet. Fails: locked, as setUp does. */
  readonly setPinByCode: (person: string, pin: string) => Promise<Answer>;
};

/** What members does to the keys and the book. */
export const makeMembers = (core: VaultCore): Members => ({
  setUp: (first) => setUp(core, first),
  add: (person, by) => add(core, person, by),
  leave: async (person, by) => {
    if (!core.unitKey) return no('locked');
    if (!personOf(core.book, person)) return no('person-unknown');
    return core.write({ type: 'personLeft', person, by });
  },
  setBadge: async (person, badge, by) => {
    if (!core.unitKey) return no('locked');
    if (!personOf(core.book, person)) return no('person-unknown');
    if (!/^\S{4,40}$/.test(badge)) return no('badge-form');
    const other = core.book.people.find((one) => one.badge === badge && one.id !== person);
    if (other) return no('badge-taken', { name: other.name });
    return core.write({ type: 'badgeSet', person, badge, by });
  },
  check: (say) => check(core, say),
  changePin: async (say, pin) => {
    const wrong = wrongWithPin(pin);
    if (wrong) return wrong;
    const answer = await check(core, say);
    return answer.ok ? setPin(core, say.person, pin, [nameOf(core.book, say.person)]) : answer;
  },
  resetPin: (person, pin, others) => resetPin(core, person, pin, others),
  setPinByCode: async (person, pin) =>
    core.openedBy === 'code' ? setPin(core, person, pin, ['recovery code']) : no('locked'),
});

async function setUp(core: VaultCore, first: NewPerson): Promise<CodeAnswer> {
  if (core.book.people.length > 0 || core.book.code) return no('set-up-already');
  const wrong = wrongWith(core.book, first);
  if (wrong) return wrong;
  const deviceKey = await newDeviceKey();
  const kept = asAnswer(await core.ports.deviceKey.put(deviceKey));
  if (!kept.ok) return kept;
  const unitKey = randomBytes(32);
  const { code, salt, text } = await sealCode(unitKey);
  const person = core.ports.newId();
  const name = first.name.trim();
  const { roles } = first;
  const lock = await lockFor(core, { person, pin: first.pin }, unitKey, deviceKey);
  // One row: a tablet with people and without a code would be found after a kill in between.
  const written = await core.write(
    { type: 'codeMade', salt, sealed: text, by: [name] },
    { type: 'personAdded', person, name, roles, lock, by: [name] },
  );
  if (!written.ok) return written;
  core.deviceKey = deviceKey;
  const opened = await openWith(core, unitKey, 'pin');
  return opened.ok ? { ok: true, code } : opened;
}

async function add(core: VaultCore, wanted: NewPerson, by: readonly string[]): Promise<Answer> {
  const { unitKey, deviceKey } = core;
  if (!unitKey) return no('locked');
  if (!deviceKey) return no('key-lost');
  const wrong = wrongWith(core.book, wanted);
  if (wrong) return wrong;
  const person = core.ports.newId();
  const lock = await lockFor(core, { person, pin: wanted.pin }, unitKey, deviceKey);
  const { roles } = wanted;
  return core.write({ type: 'personAdded', person, name: wanted.name.trim(), roles, lock, by });
}

/** The unit's key, or why not. */
async function opened(
  core: VaultCore,
  { person, pin }: Say,
): Promise<{ readonly ok: true; readonly unitKey: Bytes } | No> {
  const known = personOf(core.book, person);
  if (!known?.lock) return no('person-unknown');
  const { name, lock } = known;
  const { deviceKey, tries } = core;
  if (!deviceKey) return no('key-lost');
  const waitMs = tries.waitMs(person);
  if (waitMs > 0) return no('pin-wait', { name, waitMs });
  await tries.begin(person);
  const unitKey = await openPinLock(person, lock, { pin, deviceKey });
  if (unitKey === 'lost') return no('key-lost');
  if (unitKey === 'wrong') return no('pin-wrong', { name, waitMs: tries.waitMs(person) });
  await tries.right(person);
  return { ok: true, unitKey };
}

async function check(core: VaultCore, say: Say): Promise<Answer> {
  const answer = await opened(core, say);
  return answer.ok ? openWith(core, answer.unitKey, 'pin') : answer;
}

async function setPin(
  core: VaultCore,
  person: string,
  pin: string,
  by: readonly string[],
): Promise<Answer> {
  const { unitKey, deviceKey } = core;
  if (!personOf(core.book, person)) return no('person-unknown');
  if (!unitKey) return no('locked');
  if (!deviceKey) return no('key-lost');
  const wrong = wrongWithPin(pin);
  if (wrong) return wrong;
  const lock = await lockFor(core, { person, pin }, unitKey, deviceKey);
  const written = await core.write({ type: 'pinSet', person, lock, by });
  if (written.ok) await core.tries.right(person);
  return written;
}

async function resetPin(
  core: VaultCore,
  person: string,
  pin: string,
  others: readonly Say[],
): Promise<Answer> {
  const ids = new Set(others.map((other) => other.person));
  if (ids.size !== 2 || ids.has(person)) return no('not-two-others');
  const wrong = wrongWithPin(pin);
  if (wrong) return wrong;
  for (const other of others) {
    const answer = await check(core, other);
    if (!answer.ok) return answer;
  }
  return setPin(
    core,
    person,
    pin,
    [...ids].map((id) => nameOf(core.book, id)),
  );
}

const lockFor = (core: VaultCore, { person, pin }: Say, unitKey: Bytes, deviceKey: CryptoKey) =>
  makePinLock(person, unitKey, { pin, deviceKey }, core.ports.rounds ?? pinRounds);

const nameOf = (book: Book, id: string): string => personOf(book, id)?.name ?? id;

const personOf = (book: Book, id: string): Person | undefined =>
  book.people.find((person) => person.id === id);

function wrongWith(book: Book, { name, roles, pin }: NewPerson) {
  if (name.trim() === '') return no('name-missing');
  const isTaken = book.people.some((one) => sameName(one.name, name));
  if (isTaken) return no('name-taken');
  if (roles.length === 0) return no('role-missing');
  return wrongWithPin(pin);
}

function wrongWithPin(pin: string) {
  if (!isPin(pin)) return no('pin-form');
  return isWeakPin(pin) ? no('pin-weak') : undefined;
}

const sameName = (one: string, other: string): boolean =>
  one.trim().toLowerCase() === other.trim().toLowerCase();
