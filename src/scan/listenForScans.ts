import { makeWedge, type Step, type WedgeSettings } from './wedge.ts';

/**
 * Listens for a scanner that types, on the whole page, until the answer is called.
 *
 * What a scan wrote into a field meanwhile is taken out of it again. Keys of a person are left alone.
 */
export function listenForScans(
  onScan: (text: string) => void,
  settings: WedgeSettings = {},
): () => void {
  const wedge = makeWedge(settings);
  let before: { readonly field: HTMLInputElement; readonly value: string } | undefined;

  function follow(event: Event, step: Step): void {
    if (step.begins) before = fieldIn(event);
    if (step.swallow) {
      event.preventDefault();
      event.stopPropagation();
    }
    if (step.scan === undefined) return;
    if (before) restore(before.field, before.value);
    before = undefined;
    onScan(step.scan);
  }

  const down = (event: KeyboardEvent) => {
    const { key, code, ctrlKey: ctrl, altKey: alt, timeStamp: atMs } = event;
    if (!event.isComposing) follow(event, wedge.down({ key, code, ctrl, alt, atMs }));
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
    document.removeEventListener('keydown', down, true);
    document.removeEventListener('keyup', up, true);
    document.removeEventListener('beforeinput', insert, true);
  };
}

function fieldIn({ target }: Event) {
  return target instanceof HTMLInputElement ? { field: target, value: target.value } : undefined;
}

function restore(field: HTMLInputElement, value: string): void {
  field.value = value;
  field.dispatchEvent(new Event('input', { bubbles: true }));
}
