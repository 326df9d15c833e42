import { For, Show } from 'solid-js';

export type BandClock = {
  readonly value: string;
  readonly label: string;
  readonly tone?: 'held' | 'missing';
};

export type BandProps = {
  readonly patient: string;
  readonly number: string;
  readonly born: string;
  /** Undefined: not asked. Empty: none known. */
  readonly allergies: readonly string[] | undefined;
  readonly title: string;
  readonly clocks: readonly BandClock[];
  readonly lights: 'up' | 'down';
  readonly onLights: () => void;
  readonly practice: boolean;
};

/** Who the patient is, always; what they must not get; the clocks; when the record was last on disk. */
export function Band(props: BandProps) {
  return (
    <header class="band" data-practice={props.practice ? '' : undefined}>
      <div class="band-who">
        <strong class="band-name">{props.patient}</strong>
        <span class="band-number digits">
          {props.number} · {props.born}
        </span>
      </div>
      <Allergies allergies={props.allergies} />
      <span class="band-title">{props.practice ? `Practice · ${props.title}` : props.title}</span>
      <dl class="band-clocks">
        <For each={props.clocks}>
          {(clock) => (
            <div class="band-clock" data-tone={clock.tone}>
              <dd class="digits">{clock.value}</dd>
              <dt>{clock.label}</dt>
            </div>
          )}
        </For>
      </dl>
      <button
        type="button"
        class="band-lights"
        aria-label={props.lights === 'up' ? 'Lights down' : 'Lights up'}
        onClick={() => props.onLights()}
      >
        <span class="band-lamp" aria-hidden="true" />
      </button>
    </header>
  );
}

function Allergies(props: { readonly allergies: readonly string[] | undefined }) {
  return (
    <Show
      when={props.allergies}
      fallback={
        <span class="chip" data-tone="held">
          Allergies not asked
        </span>
      }
    >
      {(known) => (
        <Show
          when={known().length > 0}
          fallback={
            <span class="chip" data-tone="quiet">
              No known allergies
            </span>
          }
        >
          <span class="chip" data-tone="missing">
            {known().join(', ')} allergy
          </span>
        </Show>
      )}
    </Show>
  );
}
