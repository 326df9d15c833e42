import { decide } from '#engine/case/decide.ts';
import { evolve } from '#engine/case/evolve.ts';
import { openCase } from '#engine/case/open.ts';
import { outcomeOf } from '#engine/case/outcomeOf.ts';
import { replay } from '#engine/history/replay.ts';
import type { Sheet } from '#engine/sheet.ts';
import { openJournal } from '#journal/openJournal.ts';
import type { JournalPort, Ports } from '#session/ports.ts';
import { type MemoryHome, type Mishap, memoryHome } from './memoryHome.ts';

/** A world for a session: storage in memory, a clock that is set by hand, ids that count. */
export type World = {
  readonly ports: Ports;
  /** Moves the clock. Units: minutes. */
  readonly wait: (minutes: number) => void;
  readonly homes: readonly MemoryHome[];
};

export type WorldOptions = {
  /** The storage of an earlier start. */
  readonly storage?: readonly Map<string, string[]>[];
  readonly remembered?: Map<string, string>;
  readonly mishapAt?: (call: number) => Mishap | undefined;
  readonly role?: 'writer' | 'reader';
  readonly writer?: Partial<Ports['writer']>;
  readonly journal?: (real: JournalPort) => JournalPort;
  readonly rules?: Ports['rules'];
};

/** Makes a world. Two homes, as on a tablet. */
export function makeWorld(options: WorldOptions = {}): World {
  const [one, other] = options.storage ?? [new Map(), new Map()];
  const homes = [
    memoryHome('database', one, options.mishapAt),
    memoryHome('files', other, options.mishapAt),
  ];
  const patience = { limitMs: 50, noticeMs: 20, pausesMs: [1, 1] };
  const remove = async (name: string, caseId: string) => {
    homes.find((home) => home.name === name)?.cases.delete(caseId);
    return { ok: true } as const;
  };
  const real: JournalPort = openJournal({ homes, patience, remove });
  const remembered = options.remembered ?? new Map<string, string>();
  let minutes = 0;
  let ids = 0;
  return {
    homes,
    wait: (more) => {
      minutes += more;
    },
    ports: {
      journal: options.journal ? options.journal(real) : real,
      clock: {
        now: () => new Date(Date.UTC(2026, 0, 5, 13, 20) + minutes * 60_000).toISOString(),
      },
      ids: {
        next: () => {
          ids += 1;
          return `id-${ids}-${homes.length}`;
        },
      },
      memory: {
        read: (key) => remembered.get(key),
        write: (key, value) => remembered.set(key, value),
      },
      writer: {
        claim: async () => options.role ?? 'writer',
        release: () => undefined,
        onWritten: () => undefined,
        wrote: () => undefined,
        onLost: () => undefined,
        ...options.writer,
      },
      app: 'test',
      rules: options.rules ?? (async () => ({ decide, evolve, openCase, outcomeOf, replay })),
    },
  };
}

/** A case of an invented patient and an invented team. */
export const invented = (sheet: Sheet) =>
  ({
    sheet,
    patient: { name: 'Testcase, Ash', number: 'TR-100', born: '1970-01-31', weightKg: 70 },
    team: { scrub: 'Testa', circulator: 'Prueba', surgeon: 'Ensayo', anaesthetist: 'Probe' },
  }) as const;
