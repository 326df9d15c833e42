/** Locks and messages between the windows of one browser. */
import type { Locks } from '#journal/writerLock.ts';
import { as, type Owner, type Time } from './time.ts';

export type Windows = {
  readonly locksFor: (owner: Owner) => Locks;
  readonly channelFor: (owner: Owner) => BroadcastChannel;
};

type Held = { readonly owner: Owner; readonly steal: () => void };
type Listener = {
  readonly owner: Owner;
  readonly hear: (event: { readonly data: unknown }) => void;
};

export function makeWindows(time: Time): Windows {
  const held = new Map<string, Held>();
  const listeners = new Set<Listener>();

  const isFree = (name: string): boolean => held.get(name)?.owner.isDead !== false;

  async function request(
    owner: Owner,
    name: string,
    options: { readonly ifAvailable?: true; readonly steal?: true },
    callback: (lock: object | null) => Promise<void>,
  ): Promise<void> {
    await time.sleep(0, owner);
    if (!options.steal && !isFree(name)) return callback(null);
    held.get(name)?.steal();
    await new Promise<void>((resolve, reject) => {
      const steal = (): void =>
        void time.after(1, () => reject(new DOMException('Stolen', 'AbortError')), owner);
      const one: Held = { owner, steal };
      held.set(name, one);
      void callback({ name })
        .then(() => time.sleep(0, owner))
        .then(() => {
          if (held.get(name) === one) held.delete(name);
          resolve();
        });
    });
  }

  function channelFor(owner: Owner): BroadcastChannel {
    const own = new Set<Listener>();
    const channel = {
      postMessage: (data: unknown) => {
        if (owner.isDead) return;
        for (const listener of listeners)
          if (listener.owner !== owner)
            time.after(1, () => as(listener.owner, () => listener.hear({ data })), listener.owner);
      },
      addEventListener: (_name: string, hear: Listener['hear']) => {
        const listener = { owner, hear };
        listeners.add(listener);
        own.add(listener);
      },
      close: () => {
        for (const listener of own) listeners.delete(listener);
      },
    };
    // The writer lock uses nothing else of a channel.
    return Object.assign(Object.create(null), channel);
  }

  return {
    locksFor: (owner) => ({
      request: (name, options, callback) => request(owner, name, options, callback),
    }),
    channelFor,
  };
}
