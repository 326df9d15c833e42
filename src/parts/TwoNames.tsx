import { createEffect, createSignal, For, on } from 'solid-js';
import { say, sayAll, sayOf } from '#words/say.ts';
import { Mark } from './Mark.tsx';
import './TwoNames.css';

export type AgreeingPerson = {
  readonly role: string;
  readonly name: string;
};

export type TwoNamesProps = {
  /** What they agree to, in a sentence. */
  readonly sentence: string;
  /** Two people, or three where the rule asks for three. */
  readonly people: readonly AgreeingPerson[];
  /** Why they cannot agree yet, in a sentence. */
  readonly whyNot?: string | undefined;
  /** All of them agree: called at the last tap. */
  readonly onAgree: () => void;
};

/** Each taps their own name. The last one's tap makes the entry; until then a second tap takes it back. */
export function TwoNames(props: TwoNamesProps) {
  const [agreed, setAgreed] = createSignal<readonly string[]>([]);
  const key = (person: AgreeingPerson) => `${person.role}: ${person.name}`;
  const keys = () => props.people.map(key).join('\n');
  createEffect(on(keys, () => setAgreed([]), { defer: true }));
  const tap = (person: AgreeingPerson) => {
    if (props.whyNot !== undefined) return;
    const one = key(person);
    const next = agreed().includes(one)
      ? agreed().filter((other) => other !== one)
      : [...agreed(), one];
    setAgreed(next);
    if (props.people.every((other) => next.includes(key(other)))) props.onAgree();
  };
  return (
    <fieldset class="names" data-people={props.people.length}>
      <legend class="names-sentence">{props.sentence}</legend>
      <For each={props.people}>
        {(person) => (
          <button
            type="button"
            class="name"
            aria-pressed={agreed().includes(key(person)) ? 'true' : 'false'}
            aria-disabled={props.whyNot === undefined ? undefined : 'true'}
            onClick={() => tap(person)}
          >
            <span class="name-role">{sayOf(person.role)}</span>
            <span class="name-name">{person.name}</span>
            <span class="name-word">
              <Mark shape={agreed().includes(key(person)) ? 'agreed' : 'open'} />
              {agreed().includes(key(person)) ? say`Agreed` : say`I agree`}
            </span>
          </button>
        )}
      </For>
      <p class="names-says" aria-live="polite">
        {props.whyNot ?? waitsFor(props.people.filter((person) => !agreed().includes(key(person))))}
      </p>
    </fieldset>
  );
}

function waitsFor(people: readonly AgreeingPerson[]): string {
  if (people.length === 0) return say`All agree.`;
  return say`Waits for ${sayAll(people.map((person) => person.name))}.`;
}
