import { type Journal, openJournal } from '#journal/openJournal.ts';
import { sealedHomes } from '#journal/sealedHome.ts';
import { createSession, type Session } from '#session/createSession.ts';
import { openVault, type Vault } from '#vault/openVault.ts';
import { makeWorld } from './sessionPorts.ts';
import { makeVaultWorld, type VaultWorld } from './vaultPorts.ts';

/** A tablet with a vault, for sessions: what is kept on it stays from start to start. */
export type GuardedTablet = {
  readonly unit: VaultWorld;
  /** What is kept, home by home. */
  readonly storage: readonly Map<string, string[]>[];
  /** Starts the program; whatever ran before is as good as killed. */
  readonly start: () => Promise<Started>;
};

export type Started = {
  readonly session: Session;
  readonly vault: Vault;
  readonly journal: Journal;
  /** Lets time pass on both clocks, and looks whether anybody is there. Units: minutes. */
  readonly idleFor: (minutes: number) => void;
  readonly touch: () => void;
};

/** Makes a tablet on which nobody is set up. */
export function makeGuardedTablet(): GuardedTablet {
  const unit = makeVaultWorld();
  const storage = [new Map<string, string[]>(), new Map<string, string[]>()];
  const remembered = new Map<string, string>();
  let passedMinutes = 0;

  async function start(): Promise<Started> {
    const vault = openVault(unit.ports);
    const world = makeWorld({ storage, remembered });
    world.wait(passedMinutes);
    const touches: (() => void)[] = [];
    const looks: (() => void)[] = [];
    let steadyMs = 0;
    const journal = openJournal({
      homes: sealedHomes(world.homes, vault.cases.cipherOf),
      patience: { limitMs: 50, noticeMs: 20, pausesMs: [1, 1] },
      remove: async (name, caseId) => {
        world.homes.find((home) => home.name === name)?.cases.delete(caseId);
        return { ok: true };
      },
      beforeNew: async (caseId) => {
        const ready = await vault.receive(caseId);
        return ready.ok ? ready : { ok: false, failure: { code: 'not-saved', ...ready.failure } };
      },
    });
    const session = createSession({
      ...world.ports,
      journal,
      vault,
      ids: { next: () => crypto.randomUUID() },
      idle: {
        onTouch: (listener) => void touches.push(listener),
        every: (_, look) => void looks.push(look),
        steadyMs: () => steadyMs,
      },
    });
    await session.start();
    return {
      session,
      vault,
      journal,
      touch: () => {
        for (const listener of touches) listener();
      },
      idleFor: (minutes) => {
        passedMinutes += minutes;
        steadyMs += minutes * 60_000;
        world.wait(minutes);
        for (const look of looks) look();
      },
    };
  }

  return { unit, storage, start };
}
