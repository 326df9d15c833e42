import { onMount } from 'solid-js';

/** A page of empty fields comes with its first one to write in: nobody taps into it first. */
export function writeAtOnce(page: HTMLElement): void {
  onMount(() => {
    const field = page.querySelector<HTMLInputElement>('.field-input');
    if (field?.value === '') field.focus();
  });
}
