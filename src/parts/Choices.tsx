import { type Choice, ChoiceGrid } from './ChoiceGrid.tsx';
import './Choices.css';

export type ChoicesProps = {
  /** What is asked; it stands over the choices. */
  readonly label: string;
  readonly choices: readonly Choice[];
  /** The one chosen so far. Without it, a tap is the answer and nothing stays pressed. */
  readonly chosen?: string | undefined;
  readonly onChoose: (id: string) => void;
  readonly isWide?: boolean | undefined;
};

/** A question over big buttons, one of which is the answer. */
export function Choices(props: ChoicesProps) {
  return (
    <div class="asked">
      <p class="asked-words" aria-hidden="true">
        {props.label}
      </p>
      <ChoiceGrid
        label={props.label}
        choices={props.choices}
        chosen={props.chosen === undefined ? undefined : [props.chosen]}
        onChoose={props.onChoose}
        isWide={props.isWide}
      />
    </div>
  );
}
