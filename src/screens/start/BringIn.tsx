import { createSignal, Show } from 'solid-js';
import { say } from '#words/say.ts';
import { useSession } from '../useSession.ts';

/** Largest file that is read at all: 50 MB. */
const bytesMax = 50 * 1024 * 1024;

/** Brings in a case from a file that another tablet wrote. A damaged or foreign file changes nothing. */
export function BringIn() {
  const { session } = useSession();
  const [said, setSaid] = createSignal<string>();
  async function read(input: HTMLInputElement) {
    const file = input.files?.[0];
    if (!file) return;
    if (file.size > bytesMax) setSaid(say`This file is too large to be a record of a case.`);
    else setSaid((await session.importCase(await file.text())).sentence);
    input.value = '';
  }
  return (
    <div class="bring-in">
      <label class="bring-in-file">
        {say`Bring in a case`}
        <input
          type="file"
          class="visually-hidden"
          accept=".txt,.jsonl,text/plain"
          onChange={(event) => void read(event.currentTarget)}
        />
      </label>
      <Show when={said()}>
        {(sentence) => (
          <p role="status" class="bring-in-said">
            {sentence()}
          </p>
        )}
      </Show>
    </div>
  );
}
