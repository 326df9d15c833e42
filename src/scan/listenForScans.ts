import { isTooFastToType, makeWedge, pauseMsMax, type Step, type WedgeSettings } from './wedge.ts';

/** How long a sign is kept from the page. Longer than the pause within a scan, shorter than anybody notices. */
const holdMs = pauseMsMax + 70;

/**
 * Listens for a scanner that types, on the whole page, until the answer is called.
 *
 * What a scan wrote into a field meanwhile is taken out of it again. Signs that go to no field are kept from the page
 * until it is clear that they are a person's: else the digits of a wristband would be counted, or tried as a PIN.
 */
export function listenForScans(
  onScan: (text: string) => void,
  settings: WedgeSettings = {},
): () => void {
  const wedge = makeWedge(settings);
  const held = makeHeld();
  let before: { readonly field: HTMLInputElement; readonly value: string } | undefined;

  function follow(event: Event, step: Step): void {
    if (step.begins) before = fieldIn(event);
    if (step.swallow) {
      event.preventDefault();
      event.stopPropagation();
    }
    if (step.scan === undefined) return;
    held.drop();
    if (before) restore(before.field, before.value);
    before = undefined;
    onScan(step.scan);
  }

  const down = (event: KeyboardEvent) => {
    if (event.isComposing || held.isGivenBack(event)) return;
    const { key, code, ctrlKey: ctrl, altKey: alt, timeStamp: atMs } = event;
    const step = wedge.down({ key, code, ctrl, alt, atMs });
    const isSign = step.begins !== undefined;
    if (step.begins || !(isSign || step.swallow || modifiers.has(key))) held.giveBack();
    if (isSign && !isWritable(event.target)) held.keep(event);
    follow(event, step);
  };
  const up = (event: KeyboardEvent) =>
    follow(event, wedge.up({ key: event.key, atMs: event.timeStamp }));
  const insert = (event: InputEvent) => {
    if (event.isComposing || event.inputType !== 'insertText') return;
    follow(event, wedge.text(event.data ?? ''));
  };

  document.addEventListener('keydown', down, true);
  document.addEventListener('keyup', up, true);
  document.addEventListener('beforeinput', insert, true);
  return () => {
    held.giveBack();
    document.removeEventListener('keydown', down, true);
    document.removeEventListener('keyup', up, true);
    document.removeEventListener('beforeinput', insert, true);
  };
}

/** Held while a sign is typed: no key of their own. */
const modifiers = new Set(['Shift', 'Control', 'Alt', 'AltGraph', 'CapsLock', 'Meta']);

/** Signs kept from the page, and given back to it when they turn out to be a person's. */
function makeHeld() {
  let kept: KeyboardEvent[] = [];
  let timer: ReturnType<typeof setTimeout> | undefined;
  const givenBack = new WeakSet<Event>();

  function drop(): readonly KeyboardEvent[] {
    clearTimeout(timer);
    const dropped = kept;
    kept = [];
    return dropped;
  }

  /** A scanner that sends no Enter is none that can be read, but its signs are nobody's digits either. */
  function giveBack(): void {
    const keys = drop();
    const spanMs = (keys.at(-1)?.timeStamp ?? 0) - (keys[0]?.timeStamp ?? 0);
    if (isTooFastToType(keys.length, spanMs)) return;
    for (const { key, code, shiftKey, target } of keys) {
      const again = new KeyboardEvent('keydown', {
        ...{ key, code, shiftKey },
        ...{ bubbles: true, cancelable: true },
      });
      givenBack.add(again);
      const to = target instanceof Element && !target.isConnected ? document.body : target;
      to?.dispatchEvent(again);
    }
  }

  return {
    drop,
    giveBack,
    isGivenBack: (event: Event): boolean => givenBack.has(event),
    keep: (event: KeyboardEvent): void => {
      // A blank by itself presses the button that has the focus; only the browser can do that.
      if (event.key === ' ' && kept.length === 0) return;
      event.preventDefault();
      event.stopPropagation();
      if (event.repeat) return;
      kept.push(event);
      clearTimeout(timer);
      timer = setTimeout(giveBack, holdMs);
    },
  };
}

function fieldIn({ target }: Event) {
  return target instanceof HTMLInputElement ? { field: target, value: target.value } : undefined;
}

const isWritable = (target: EventTarget | null): boolean =>
  target instanceof Element && target.closest('input, textarea, select') !== null;

function restore(field: HTMLInputElement, value: string): void {
  field.value = value;
  field.dispatchEvent(new Event('input', { bubbles: true }));
}
