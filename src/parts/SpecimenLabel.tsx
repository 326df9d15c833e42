import { say } from '#words/say.ts';
import { Bars } from './Bars.tsx';
import './SpecimenLabel.css';

/** What stands on the label of a pot, as it was agreed for the case. */
export type LabelWords = {
  readonly patientName: string;
  readonly patientNumber: string;
  readonly born: string;
  readonly letter: string;
  readonly specimenName: string;
  readonly site: string;
  readonly side: string;
  readonly takenAt: string;
  readonly medium: string;
  readonly surgeon: string;
};

/** The two sizes that label printers of laboratories hold. Units: millimetres. */
export const labelSizes = [
  { id: 'small', name: '50.8 × 25.4 mm', widthMm: 50.8, heightMm: 25.4 },
  { id: 'wide', name: '62 × 29 mm', widthMm: 62, heightMm: 29 },
] as const;
export type LabelSize = (typeof labelSizes)[number]['id'];

export type SpecimenLabelProps = {
  readonly words: LabelWords;
  readonly size: LabelSize;
  /** What the bars say, in letters and digits. */
  readonly code: string;
  /** The bars as 1 and 0; undefined until the encoder is there. */
  readonly bars: string | undefined;
};

/**
 * The label of a specimen's pot, in its true size on paper.
 *
 * Name top left and largest, then the identifiers and the birth date, then what it is, then when it was taken, the
 * bar code always at the bottom. Source: CLSI AUTO12-A as far as its publisher describes it (place of the name, five
 * main elements, 2 by 1 inch); the standard itself was not at hand.
 */
export function SpecimenLabel(props: SpecimenLabelProps) {
  const side = () => (props.words.side === 'not applicable' ? '' : ` · ${props.words.side}`);
  return (
    <div
      class="pot-label"
      data-size={props.size}
      role="img"
      aria-label={say`The label for the pot`}
    >
      <p class="pot-label-name" data-length={lengthOf(props.words.patientName)}>
        <bdi>{props.words.patientName}</bdi>
      </p>
      <p class="pot-label-who">
        <b>{props.words.patientNumber}</b> <span>{say`born ${props.words.born}`}</span>
      </p>
      <p class="pot-label-what" data-length={lengthOf(`${props.words.specimenName}${side()}`)}>
        <b class="pot-label-letter">{props.words.letter}</b>{' '}
        <b>
          <bdi>{props.words.specimenName}</bdi>
          {side()}
        </b>
      </p>
      <p class="pot-label-how">
        <bdi>{props.words.site}</bdi> · {props.words.medium}
      </p>
      <p class="pot-label-when">
        {props.words.takenAt.slice(0, 16).replace('T', ' ')} · <bdi>{props.words.surgeon}</bdi>
      </p>
      <Bars class="pot-label-bars" bars={props.bars} />
      <p class="pot-label-code">{props.code}</p>
    </div>
  );
}

/** Signs of East Asia are twice as wide. Long texts are set smaller; what does not fit then is cut with a mark. */
function lengthOf(text: string): 'short' | 'long' | 'longest' {
  const width = [...text].reduce((sum, sign) => sum + (/[\u2E80-\uFFDC]/.test(sign) ? 2 : 1), 0);
  return width <= 22 ? 'short' : width <= 34 ? 'long' : 'longest';
}
