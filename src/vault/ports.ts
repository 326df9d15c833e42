/** What the vault needs of the world, as types. `main.tsx` gives the real ones, tests their own. */
import type { BookEvent, Person, Policy, TakenOut } from './book.ts';

export type Kept =
  | { readonly ok: true }
  | { readonly ok: false; readonly failure: { readonly sentence: string } };

/** The book of the tablet: kept as cases are, chained, in both homes, never changed. */
export type BookPort = {
  readonly read: () => Promise<
    | { readonly ok: true; readonly events: readonly unknown[] }
    | Exclude<Kept, { readonly ok: true }>
  >;
  readonly write: (events: readonly BookEvent[]) => Promise<Kept>;
};

/** Short texts by name, in both homes, that can be written over and taken away: keys of cases. */
export type NotesPort = {
  readonly get: (name: string) => string | undefined;
  readonly names: () => readonly string[];
  readonly put: (name: string, text: string) => Promise<Kept>;
  readonly drop: (name: string) => Promise<Kept>;
  /** Looks again what is kept: another window may have written. */
  readonly refresh: () => Promise<void>;
};

/** The tablet's own key: made here, kept by the browser, and never given out, not even to the page. */
export type DeviceKeyPort = {
  readonly get: () => Promise<CryptoKey | undefined>;
  readonly put: (key: CryptoKey) => Promise<Kept>;
};

export type VaultPorts = {
  readonly book: BookPort;
  readonly notes: NotesPort;
  readonly deviceKey: DeviceKeyPort;
  /** Rises with time whatever is done to the clock of the device. Units: milliseconds. */
  readonly steadyMs: () => number;
  readonly newId: () => string;
  /** Time of day as ISO text, for the book only. */
  readonly now: () => string;
  /** Rounds of PBKDF2 for new PINs; `pinRounds` unless a test says otherwise. */
  readonly rounds?: number;
};

/** What the screens may know. */
export type VaultState = {
  /** `none`: nobody is set up. `lost`: the tablet's own key is gone, only the code on paper opens. */
  readonly stage: 'none' | 'locked' | 'open' | 'lost';
  /** The code on paper has opened it, not a PIN: then PINs may be set anew. */
  readonly isByCode: boolean;
  readonly people: readonly PersonView[];
  readonly policy: Policy;
  readonly takenOut: Readonly<Record<string, TakenOut>>;
  readonly removed: readonly string[];
};

export type PersonView = Pick<Person, 'id' | 'name' | 'roles' | 'badge'> & {
  /** 0: this person has to choose a PIN anew. */
  readonly digits: number;
};
