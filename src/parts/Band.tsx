import { Index, type JSX, Show } from 'solid-js';
import { say } from '#words/say.ts';
import { Mark } from './Mark.tsx';
import './Band.css';

export type BandPatient = {
  readonly name: string;
  readonly number: string;
  /** Date of birth as it is said on this screen. */
  readonly born: string;
};

export type BandClock = {
  readonly value: string;
  readonly label: string;
  /** Only for a time that is due or over. */
  readonly tone?: 'held' | 'missing' | undefined;
};

export type BandProps = {
  readonly patient: BandPatient;
  /**
   * Undefined: not asked yet. Empty: none known. `unwritten`: known, and nobody wrote which. Not by spreading: that
   * drops what is undefined.
   */
  readonly allergies: readonly string[] | 'unwritten' | undefined;
  readonly procedure: string;
  /** The last one is the time of the last save. */
  readonly clocks: readonly BandClock[];
  /** A sentence while entries do not reach the device, in place of the procedure and the last clock. */
  readonly notSaved?: string | undefined;
  /** The case is for practice and about nobody. */
  readonly practice?: boolean | undefined;
  readonly lights: 'up' | 'down';
  readonly onLights: () => void;
  /** Shows the case in letters to be read across the room. */
  readonly onFar?: (() => void) | undefined;
};

/** The top of every screen of a case: who lies here, what they react to, and the time. */
export function Band(props: BandProps) {
  return (
    <div class="band">
      <div class="band-who">
        <Show when={props.practice}>
          <span class="band-practice">{say`Practice case`}</span>
        </Show>
        <span class="band-person">
          <strong class="band-name">{props.patient.name}</strong>
          <span class="band-numbers digits-type">
            <span class="visually-hidden">{say`Patient number`} </span>
            <span>{props.patient.number}</span>
            <span class="visually-hidden">{say`, born`} </span>
            <span>{props.patient.born}</span>
          </span>
        </span>
      </div>
      <Allergies allergies={props.allergies} />
      <Show when={props.notSaved} fallback={<span class="band-procedure">{props.procedure}</span>}>
        {(sentence) => (
          <div class="band-alarm" role="alert">
            <Mark shape="missing" />
            <span>
              <strong>{say`Not saved.`}</strong> {sentence()}
            </span>
          </div>
        )}
      </Show>
      <Clocks clocks={props.notSaved ? props.clocks.slice(0, -1) : props.clocks} />
      <div class="band-keys">
        <Show when={props.onFar}>
          {(far) => (
            <button type="button" class="band-key" onClick={() => far()()}>
              <svg class="band-icon" viewBox="0 0 32 24" aria-hidden="true">
                <path d="M12 3H3v8M20 21h9v-8M3 3l9 8M29 21l-9-8" />
              </svg>
              <span>{say`From afar`}</span>
            </button>
          )}
        </Show>
        <button type="button" class="band-key" onClick={() => props.onLights()}>
          <Lamp lights={props.lights} />
          <span>{props.lights === 'up' ? say`Lights down` : say`Lights up`}</span>
        </button>
      </div>
    </div>
  );
}

/** Long lists are set smaller, so that all of it can be read. Units: letters. */
const shortList = 30;

function Allergies(props: { readonly allergies: BandProps['allergies'] }) {
  const known = () => (props.allergies === 'unwritten' ? [] : (props.allergies ?? []));
  const words = () => known().join(', ');
  const state = () => {
    if (props.allergies === undefined) return 'not-asked';
    if (props.allergies === 'unwritten') return 'some';
    return known().length === 0 ? 'none' : 'some';
  };
  const sentence = () => {
    if (state() === 'not-asked') return say`Allergies not asked`;
    if (state() === 'none') return say`No known allergies`;
    if (known().length === 0) return say`Allergy known: ask which`;
    return `${known().length === 1 ? say`Allergy` : say`Allergies`}: ${words()}`;
  };
  return (
    <span
      class="band-allergies"
      data-state={state()}
      data-length={words().length > shortList ? 'long' : 'short'}
    >
      <Show when={state() === 'some'}>
        <Mark shape="missing" />
      </Show>
      <Show when={state() === 'not-asked'}>
        <Mark shape="held" />
      </Show>
      <span class="band-allergy-words">{sentence()}</span>
    </span>
  );
}

function Clocks(props: { readonly clocks: readonly BandClock[] }) {
  return (
    <dl class="band-clocks">
      <Index each={props.clocks}>
        {(clock) => (
          <div class="band-clock" data-tone={clock().tone}>
            <dt>{clock().label}</dt>
            <dd class="digits-type">{clock().value}</dd>
          </div>
        )}
      </Index>
    </dl>
  );
}

/** A lamp that shines down, or one that is hooded. */
function Lamp(props: { readonly lights: 'up' | 'down' }): JSX.Element {
  return (
    <svg class="band-icon" viewBox="0 0 32 24" aria-hidden="true">
      <path d="M16 1v4M6 14a10 9 0 0 1 20 0Z" />
      <Show when={props.lights === 'up'}>
        <path d="M8 18l-2 5M16 18v5M24 18l2 5" />
      </Show>
    </svg>
  );
}
