import { unreachable } from '#engine/assert.ts';
import { roles } from '#engine/sheet.ts';
import { fromHex } from './bytes.ts';

/** What a person may be in a case, as the engine names the roles; `other` for those who are in none. */
const personRoles = [...roles, 'other'] as const;
export type PersonRole = (typeof personRoles)[number];

/** How a PIN opens the unit's key: sealed by the PIN within, by the tablet's own key around it. Hex. */
export type PinLock = {
  readonly salt: string;
  readonly rounds: number;
  /** How many digits the PIN has, so that the last one sends it. */
  readonly digits: number;
  readonly sealed: string;
};

export type BookEvent =
  | {
      readonly type: 'personAdded';
      readonly person: string;
      readonly name: string;
      readonly roles: readonly PersonRole[];
      readonly lock: PinLock;
      readonly by: readonly string[];
    }
  | {
      readonly type: 'pinSet';
      readonly person: string;
      readonly lock: PinLock;
      readonly by: readonly string[];
    }
  | { readonly type: 'personLeft'; readonly person: string; readonly by: readonly string[] }
  /** What the badge of a person says when it is scanned. It says who, and signs nothing. */
  | {
      readonly type: 'badgeSet';
      readonly person: string;
      readonly badge: string;
      readonly by: readonly string[];
    }
  /** A new code for paper; the one before is worth nothing from here on. */
  | {
      readonly type: 'codeMade';
      readonly salt: string;
      readonly sealed: string;
      readonly by: readonly string[];
    }
  /** The tablet has a new key of its own, so that no PIN of before opens anything. */
  | { readonly type: 'keyReplaced' }
  | {
      readonly type: 'policySet';
      readonly idleMinutes: number;
      readonly keepDays: number;
      readonly by: readonly string[];
    }
  | {
      readonly type: 'caseTakenOut';
      readonly caseId: string;
      readonly rows: number;
      readonly head: string;
      readonly at: string;
      readonly by: readonly string[];
    }
  /** A case that had been removed was brought in again. */
  | { readonly type: 'caseReturned'; readonly caseId: string }
  | {
      readonly type: 'caseRemoved';
      readonly caseId: string;
      readonly rows: number;
      readonly head: string;
      readonly at: string;
      readonly by: readonly string[];
    };

export type Person = {
  readonly id: string;
  readonly name: string;
  readonly roles: readonly PersonRole[];
  /** Undefined: the PIN has to be set anew. */
  readonly lock: PinLock | undefined;
  readonly badge?: string;
};

export type TakenOut = { readonly rows: number; readonly head: string; readonly at: string };

/** Units: minutes until the tablet locks itself; days that a case stays after its end. */
export type Policy = { readonly idleMinutes: number; readonly keepDays: number };

/** What the book of the tablet says. */
export type Book = {
  readonly people: readonly Person[];
  readonly code: { readonly salt: string; readonly sealed: string } | undefined;
  readonly policy: Policy;
  /** By case: the last time that it was taken out as a file. */
  readonly takenOut: Readonly<Record<string, TakenOut>>;
  readonly removed: readonly (TakenOut & {
    readonly caseId: string;
    readonly by: readonly string[];
  })[];
};

/** Common practice, no source: a team that stands still for ten minutes may have left the tablet. */
export const emptyBook: Book = {
  people: [],
  code: undefined,
  policy: { idleMinutes: 10, keepDays: 30 },
  takenOut: {},
  removed: [],
};

/** Folds what stands in the book. An event that this version does not know is passed over. */
export const readBook = (events: readonly unknown[]): Book =>
  events.reduce<Book>(
    (book, event) => (isBookEvent(event) ? applied(book, event) : book),
    emptyBook,
  );

function applied(book: Book, event: BookEvent): Book {
  switch (event.type) {
    case 'personAdded': {
      const { person: id, name, roles, lock } = event;
      return { ...book, people: [...book.people, { id, name, roles, lock }] };
    }
    case 'pinSet':
      return changed(book, (one) => (one.id === event.person ? { ...one, lock: event.lock } : one));
    case 'badgeSet':
      return changed(book, (one) =>
        one.id === event.person ? { ...one, badge: event.badge } : one,
      );
    case 'personLeft':
      return { ...book, people: book.people.filter(({ id }) => id !== event.person) };
    case 'codeMade':
      return { ...book, code: { salt: event.salt, sealed: event.sealed } };
    case 'keyReplaced':
      return changed(book, (one) => ({ ...one, lock: undefined }));
    case 'policySet':
      return {
        ...book,
        policy: { idleMinutes: event.idleMinutes, keepDays: event.keepDays },
      };
    case 'caseTakenOut': {
      const { caseId, rows, head, at } = event;
      return { ...book, takenOut: { ...book.takenOut, [caseId]: { rows, head, at } } };
    }
    case 'caseRemoved': {
      const { caseId, rows, head, at, by } = event;
      return { ...book, removed: [...book.removed, { caseId, rows, head, at, by }] };
    }
    case 'caseReturned':
      return {
        ...book,
        removed: book.removed.filter(({ caseId }) => caseId !== event.caseId),
      };
    default:
      return unreachable(event);
  }
}

const changed = (book: Book, change: (person: Person) => Person): Book => ({
  ...book,
  people: book.people.map(change),
});

/** The chain has shown that a row is as it was written; what is looked at here is what would mislead. */
function isBookEvent(value: unknown): value is BookEvent {
  if (!isObject(value)) return false;
  switch (value.type) {
    case 'personAdded':
      return (
        isText(value.person) && isText(value.name) && isRoles(value.roles) && isLock(value.lock)
      );
    case 'pinSet':
      return isText(value.person) && isLock(value.lock);
    case 'personLeft':
      return isText(value.person);
    case 'badgeSet':
      return isText(value.person) && isText(value.badge);
    case 'codeMade':
      return isHex(value.salt) && isHex(value.sealed);
    case 'keyReplaced':
      return true;
    case 'caseReturned':
      return isText(value.caseId);
    case 'policySet':
      return isPolicy(value);
    case 'caseTakenOut':
    case 'caseRemoved':
      return (
        isText(value.caseId) &&
        Number.isSafeInteger(value.rows) &&
        isText(value.head) &&
        isText(value.at) &&
        isTexts(value.by)
      );
    default:
      return false;
  }
}

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null;

const isText = (value: unknown): value is string => typeof value === 'string' && value !== '';

const isTexts = (value: unknown): boolean => Array.isArray(value) && value.every(isText);

const isHex = (value: unknown): boolean =>
  typeof value === 'string' && fromHex(value) !== undefined;

const isRoles = (value: unknown): boolean =>
  Array.isArray(value) && value.every((one) => personRoles.some((role) => role === one));

const isWithin = (value: unknown, least: number, most: number): boolean =>
  typeof value === 'number' && Number.isInteger(value) && value >= least && value <= most;

/** Whether minutes and days are such that a theatre could mean them. */
export const isPolicy = (value: Readonly<Record<string, unknown>>): boolean =>
  isWithin(value.idleMinutes, 1, 120) && isWithin(value.keepDays, 0, 3650);

const isLock = (value: unknown): boolean =>
  isObject(value) &&
  isHex(value.salt) &&
  isHex(value.sealed) &&
  isWithin(value.rounds, 1, 100_000_000) &&
  isWithin(value.digits, 4, 8);
