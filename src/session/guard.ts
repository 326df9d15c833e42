import type { Command } from '#engine/case/events.ts';
import type { Signature } from '#engine/decision.ts';
import type { Case } from '#engine/state.ts';
import { say } from '#words/say.ts';
import type { ToSign } from './asking.ts';
import type { Core } from './core.ts';
import type { Library } from './library.ts';
import type { Outcome } from './recorder.ts';
import { startRoute } from './route.ts';
import { signersOf } from './signersOf.ts';
import { createSigning, type Signing } from './signing.ts';
import type { SessionState } from './state.ts';

/** Who may do what on this tablet: PINs, the lock, and what is taken out or away. */
export type Guard = Signing & {
  readonly start: () => Promise<void>;
  readonly lock: () => void;
  /** Somebody touched the tablet. */
  readonly touched: () => void;
  /** Who has to sign a command; undefined where nobody is asked. */
  readonly toSign: (current: Case | undefined, command: Command) => ToSign | undefined;
  /** Asks anybody of the unit; empty where nobody is set up, `left` where the question was left. */
  readonly anyone: (
    words: string,
    canGoWithout?: boolean,
  ) => Promise<readonly Signature[] | 'left'>;
};

/** Whether what is about the patient is hidden now. */
export const isVeiled = ({ unit, current }: SessionState): boolean =>
  (unit.stage === 'locked' || unit.stage === 'lost') && current?.practice !== true;

/** The answer where a question for a PIN was left. */
export const notSigned = (): Outcome => ({
  ok: false,
  failure: { code: 'not-signed', sentence: say`It was not confirmed, so nothing was entered.` },
});

/** Makes the guard. Without a vault nobody is ever asked. */
export function createGuard(core: Core, library: Library): Guard {
  const { ports, state, change, queued, goTo } = core;
  const signing = createSigning(core);
  const idle = createIdle(core, lock);

  function lock(): void {
    if (state().unit.stage === 'open') ports.vault?.lock();
  }

  /** What was decrypted for the start screen, and a closed case, go with the key. */
  async function onChange(): Promise<void> {
    const { vault } = ports;
    if (!vault) return;
    const before = state().unit.stage;
    const unit = vault.state();
    change({ unit });
    if (before === 'open' && unit.stage !== 'open') forget(core);
    if (unit.stage === before || state().stage !== 'ready') return;
    if (unit.stage === 'open' || before === 'open') await queued(afterTurn);
  }

  async function afterTurn(): Promise<void> {
    const { current, route, unit } = state();
    const isHidden = unit.stage !== 'open' && current && !ports.vault?.cases.canOpen(current.id);
    if (isHidden && route.screen === 'case') {
      change({ current: undefined, last: undefined, head: '' });
      goTo(startRoute);
    }
    if (state().route.screen === 'start') await library.list();
  }

  const isAsked = (current: Case | undefined) =>
    state().unit.stage !== 'none' && current?.practice !== true;

  return {
    ...signing,
    lock,
    touched: idle.touched,
    start: async () => {
      const { vault } = ports;
      if (!vault) return;
      const started = await vault.start();
      change({ unit: vault.state() });
      if (!started.ok) change({ notice: { kind: 'failed', sentence: started.failure.sentence } });
      vault.watch(() => void onChange());
    },
    toSign: (current, command) =>
      current && isAsked(current) ? signersOf(current, command) : undefined,
    anyone: async (words, canGoWithout = false) => {
      if (!isAsked(undefined)) return [];
      return (await signing.ask({ words, names: [] }, canGoWithout)) ?? 'left';
    },
  };
}

/** What was read with the key of the unit goes with it. */
function forget({ ports, lately }: Core): void {
  lately.forget();
  ports.journal.forget();
}

/** Units: milliseconds. */
const lookEveryMs = 5000;
const minuteMs = 60_000;

/** Locks after idle time. Both clocks are asked: one stands still while a tablet sleeps, the other can be set. */
function createIdle({ ports, state }: Core, lock: () => void) {
  const { idle } = ports;
  let steadyMs = idle?.steadyMs() ?? 0;
  let wallMs = Date.parse(ports.clock.now());

  function touched(): void {
    steadyMs = idle?.steadyMs() ?? 0;
    wallMs = Date.parse(ports.clock.now());
  }

  idle?.onTouch(touched);
  idle?.every(lookEveryMs, () => {
    if (state().unit.stage !== 'open') return;
    const limitMs = state().unit.policy.idleMinutes * minuteMs;
    const isIdle =
      idle.steadyMs() - steadyMs >= limitMs || Date.parse(ports.clock.now()) - wallMs >= limitMs;
    if (isIdle) lock();
  });
  return { touched };
}
