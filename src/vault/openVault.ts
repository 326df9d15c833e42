import { emptyBook, isPolicy, type Policy, readBook } from './book.ts';
import { type CaseKeys, makeCaseKeys } from './caseKeys.ts';
import { type Answer, asAnswer, type VaultCore } from './core.ts';
import { type Members, makeMembers } from './members.ts';
import { makePaperCode, type PaperCode } from './paperCode.ts';
import type { Kept, VaultPorts, VaultState } from './ports.ts';
import { no } from './refusals.ts';
import { makeTries } from './tries.ts';

/** What a case had when it was taken out or removed. */
export type CaseMark = { readonly caseId: string; readonly rows: number; readonly head: string };

/**
 * Who the people of the unit are, and the keys that their PINs open.
 *
 * Rules: without people nothing is asked and nothing is encrypted. A PIN opens the unit's key, which opens the keys
 * of all cases; the key of a case that goes on lies open, so that no team is shut out of it.
 */
export type Vault = Members &
  PaperCode & {
    readonly state: () => VaultState;
    readonly watch: (listener: () => void) => void;
    /** Reads the book. Fails: not-kept. */
    readonly start: () => Promise<Answer>;
    readonly lock: () => void;
    readonly setPolicy: (policy: Policy, by: readonly string[]) => Promise<Answer>;
    readonly cases: CaseKeys;
    readonly tookOut: (mark: CaseMark, by: readonly string[]) => Promise<Answer>;
    /** Makes the key of a case that comes as a file; none where nobody is set up. */
    readonly receive: (caseId: string) => Promise<Kept>;
    /** Writes that a case is removed, and takes its keys away. */
    readonly removed: (mark: CaseMark, by: readonly string[]) => Promise<Answer>;
  };

/** Makes the vault over the ports of the world. Nothing is read before `start`. */
export function openVault(ports: VaultPorts): Vault {
  const listeners = new Set<() => void>();
  const core: VaultCore = {
    ports,
    book: emptyBook,
    unitKey: undefined,
    openedBy: undefined,
    deviceKey: undefined,
    tries: makeTries(ports.notes, ports.steadyMs),
    cases: makeCaseKeys(ports.notes, () => core.unitKey),
    write: async (...events) => {
      const kept = asAnswer(await ports.book.write(events));
      // What failed may stand there all the same, or will when the homes are mended.
      const read = await reread(core);
      return kept.ok ? read : kept;
    },
    tell: () => {
      for (const listener of listeners) listener();
    },
  };

  return {
    ...makeMembers(core),
    ...makePaperCode(core),
    state: () => stateOf(core),
    watch: (listener) => void listeners.add(listener),
    start: async () => {
      core.tries = makeTries(ports.notes, ports.steadyMs);
      core.deviceKey = await ports.deviceKey.get();
      return reread(core);
    },
    lock: () => {
      core.unitKey = undefined;
      core.openedBy = undefined;
      core.cases.lock();
      core.tell();
    },
    setPolicy: async ({ idleMinutes, keepDays }, by) => {
      if (!isPolicy({ idleMinutes, keepDays })) return no('not-kept');
      return core.write({ type: 'policySet', idleMinutes, keepDays, by });
    },
    cases: core.cases,
    tookOut: (mark, by) => core.write({ type: 'caseTakenOut', ...mark, at: ports.now(), by }),
    receive: async (caseId) => {
      // Another window may have set people up since.
      core.deviceKey ??= await ports.deviceKey.get();
      const read = await reread(core);
      if (!read.ok) return read;
      if (stateOf(core).stage === 'none') return { ok: true };
      const isBack = core.book.removed.some((one) => one.caseId === caseId);
      const written = isBack ? await core.write({ type: 'caseReturned', caseId }) : undefined;
      return written?.ok === false ? written : core.cases.begin(caseId);
    },
    removed: async (mark, by) => {
      const written = await core.write({ type: 'caseRemoved', ...mark, at: ports.now(), by });
      return written.ok ? asAnswer(await core.cases.forget(mark.caseId)) : written;
    },
  };
}

async function reread(core: VaultCore): Promise<Answer> {
  const read = await core.ports.book.read();
  if (!read.ok) return asAnswer(read);
  core.book = readBook(read.events);
  core.tell();
  return { ok: true };
}

function stateOf({ book, unitKey, deviceKey, openedBy }: VaultCore): VaultState {
  const { people, policy, takenOut, removed } = book;
  const isSetUp = people.length > 0 || book.code !== undefined;
  const closed = deviceKey === undefined ? 'lost' : 'locked';
  return {
    stage: unitKey ? 'open' : isSetUp ? closed : 'none',
    isByCode: openedBy === 'code',
    people: people.map(({ id, name, roles, lock, badge }) => ({
      id,
      name,
      roles,
      digits: lock?.digits ?? 0,
      ...(badge === undefined ? {} : { badge }),
    })),
    policy,
    takenOut,
    removed: removed.map(({ caseId }) => caseId),
  };
}
