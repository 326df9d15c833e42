import type { Core } from './core.ts';
import type { DeviceCode } from './ports.ts';

export type DeviceNotes = {
  /** Somebody has read it. It comes again only when it says something else. */
  readonly heed: (code: DeviceCode) => void;
};

/** Keeps what the tablet says of itself in the store. Nothing of it is an entry, and nothing waits for it. */
export function createDeviceNotes({ ports, state, change }: Core): DeviceNotes {
  const heeded = new Set<string>();
  const without = (code: DeviceCode) => state().device.filter((note) => note.code !== code);

  ports.device?.watch((code, sentence) => {
    const others = without(code);
    const isNew = sentence !== undefined && !heeded.has(sentence);
    // A state that is over may be told again when it comes back.
    if (sentence === undefined)
      for (const note of state().device) if (note.code === code) heeded.delete(note.sentence);
    change({ device: isNew ? [...others, { code, sentence }] : others });
  });

  return {
    heed: (code) => {
      for (const note of state().device) if (note.code === code) heeded.add(note.sentence);
      change({ device: without(code) });
    },
  };
}
