import type { BookEvent } from '#vault/book.ts';
import { openVault, type Vault } from '#vault/openVault.ts';
import type { Kept, VaultPorts } from '#vault/ports.ts';

/** A tablet in memory: what is kept on it, and a clock that only the test moves. */
export type VaultWorld = {
  readonly events: BookEvent[];
  readonly notes: Map<string, string>;
  deviceKey: CryptoKey | undefined;
  /** Moves the steady clock. Units: milliseconds. */
  readonly wait: (ms: number) => void;
  /** Why nothing can be written, while it is set. */
  broken: string | undefined;
  readonly ports: VaultPorts;
  /** The program started again on the same tablet. */
  readonly restart: () => Promise<Vault>;
};

/** Few rounds, so that tests are quick; the real number is measured elsewhere. */
const rounds = 10;

/** Makes an empty tablet for the vault. */
export function makeVaultWorld(): VaultWorld {
  let steady = 1000;
  let ids = 0;
  const kept = (): Kept =>
    world.broken === undefined ? { ok: true } : { ok: false, failure: { sentence: world.broken } };
  const world: VaultWorld = {
    events: [],
    notes: new Map(),
    deviceKey: undefined,
    broken: undefined,
    wait: (ms) => {
      steady += ms;
    },
    ports: {
      book: {
        read: async () => ({ ok: true, events: world.events }),
        write: async (events) => {
          const answer = kept();
          if (answer.ok) world.events.push(...events);
          return answer;
        },
      },
      notes: {
        refresh: async () => undefined,
        get: (name) => world.notes.get(name),
        names: () => [...world.notes.keys()],
        put: async (name, text) => {
          const answer = kept();
          if (answer.ok) world.notes.set(name, text);
          return answer;
        },
        drop: async (name) => {
          world.notes.delete(name);
          return { ok: true };
        },
      },
      deviceKey: {
        get: async () => world.deviceKey,
        put: async (key) => {
          const answer = kept();
          if (answer.ok) world.deviceKey = key;
          return answer;
        },
      },
      steadyMs: () => steady,
      newId: () => {
        ids += 1;
        return `person-${ids}`;
      },
      now: () => '2026-01-05T13:20:00+00:00',
      rounds,
    },
    restart: async () => {
      // A steady clock begins anew with each start of the program.
      steady = 0;
      const vault = openVault(world.ports);
      await vault.start();
      return vault;
    },
  };
  return world;
}

export const testa = { name: 'Testa', roles: ['scrub'], pin: '4711' } as const;
export const prueba = { name: 'Prueba', roles: ['circulator'], pin: '8305' } as const;
export const ensayo = { name: 'Ensayo', roles: ['surgeon'], pin: '92614' } as const;

/** A tablet on which three people are set up: person-1, person-2 and person-3. The vault is open. */
export async function threePeople(world = makeVaultWorld()) {
  const vault = openVault(world.ports);
  await vault.start();
  const made = await vault.setUp(testa);
  await vault.add(prueba, ['Testa']);
  await vault.add(ensayo, ['Testa']);
  return { world, vault, code: made.ok ? made.code : '' };
}
