/**
 * What a browser keeps in its database, and how it answers: the part of IndexedDB that the journal uses.
 *
 * A log that was torn by a kill is modelled as Chromium 156 was measured: it is read once more, and if
 * something is written behind the torn record, the database is thrown away at the start after that;
 * writing much at first begins a new log, and nothing is lost.
 */
import type { Chance } from '../studyChance.ts';
import {
  type Asked,
  type Connection,
  type Disk,
  killTransaction,
  latency,
  mishap,
  rangeFrom,
  transaction,
  within,
  wrong,
} from './databaseWork.ts';
import { type DatabaseMishap, hangMs, type MishapAt, slowMs } from './mishaps.ts';
import type { Owner, Time } from './time.ts';

export type DatabaseDisk = {
  readonly factoryFor: (owner: Owner) => IDBFactory;
  /** The transaction that a killed window had begun is whole or not there. */
  readonly killed: (owner: Owner) => void;
  /** All windows are gone, and the browser starts again. */
  readonly restarted: () => void;
  readonly rowsOf: (caseId: string) => readonly string[];
  readonly calls: () => number;
  /** How often the browser threw the database away. */
  readonly wipes: () => number;
};

export function databaseDisk(
  time: Time,
  chance: Chance,
  mishapAt: MishapAt<DatabaseMishap>,
): DatabaseDisk {
  const disk: Disk = {
    ...{ time, chance, mishapAt, stores: undefined, running: undefined, waiting: [] },
    ...{ isTorn: false, isBuried: false, hasLost: false, wipes: 0, calls: 0 },
  };

  function restarted(): void {
    disk.running = undefined;
    disk.waiting = [];
    if (!disk.isBuried) return;
    Object.assign(disk, { stores: undefined, isTorn: false, isBuried: false, hasLost: true });
    disk.wipes += 1;
  }

  return {
    // The journal uses nothing else of the factory.
    factoryFor: (owner) => Object.assign(Object.create(null), { open: () => open(disk, owner) }),
    killed: (owner) => killTransaction(disk, owner),
    restarted,
    rowsOf: (caseId) =>
      within(disk.stores?.get('rows') ?? new Map(), rangeFrom([caseId, 0], [caseId, []])).map(
        ({ value }) => String(value),
      ),
    calls: () => disk.calls,
    wipes: () => disk.wipes,
  };
}

type Opening = Asked & {
  onblocked?: () => void;
  onupgradeneeded?: (event: { readonly dataLoss: 'total' | 'none' }) => void;
};

function open(disk: Disk, owner: Owner): Opening {
  const request: Opening = { result: undefined, error: null };
  const fate = mishap(disk);
  const answer = (): void => {
    if (fate === 'blocked') request.onblocked?.();
    else if (fate === undefined || fate === 'slow' || fate === 'hangs')
      connect(disk, owner, request);
    else {
      request.error = wrong('UnknownError');
      request.onerror?.();
    }
  };
  const waitMs = fate === 'slow' ? slowMs : fate === 'hangs' ? hangMs : latency(disk);
  disk.time.after(waitMs, answer, owner);
  return request;
}

function connect(disk: Disk, owner: Owner, request: Opening): void {
  const connection: Connection = { owner, isDead: false, onclose: undefined };
  const made: NonNullable<Disk['stores']> = new Map();
  request.result = Object.assign(connection, {
    createObjectStore: (name: string) => made.set(name, new Map()),
    transaction: (_names: unknown, mode: string) => transaction(disk, connection, mode),
    close: () => {
      connection.isDead = true;
    },
  });
  if (!disk.stores) {
    disk.stores = made;
    request.onupgradeneeded?.({ dataLoss: disk.hasLost ? 'total' : 'none' });
    disk.hasLost = false;
  }
  request.onsuccess?.();
}
