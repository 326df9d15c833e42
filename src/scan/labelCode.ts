import { labelOf } from '#engine/specimens/labelOf.ts';
import type { Case, Specimen } from '#engine/state.ts';
import { say } from '#words/say.ts';
import { fnv64 } from './fnv64.ts';
import { checkDigit } from './gs1.ts';

/**
 * What stands in the bars of a specimen label: two letters and sixteen digits. Ten are of the case, two of the
 * specimen, three of every word on the label, and the last one is a check digit. Nothing in it says who the patient
 * is. The three in the middle make a label that was printed before something was put right differ from one printed
 * after.
 */
export type LabelCode = {
  readonly ofCase: string;
  readonly ofSpecimen: string;
  readonly ofWords: string;
};

const form = /^LL(\d{10})(\d{2})(\d{3})(\d)$/;

/** Whether a text has the form of our labels; it may still be misread. */
export const isLabelCode = (text: string): boolean => form.test(text);

/** The code that the label of a specimen must carry now. */
export function labelCodeOf(current: Case, specimen: Specimen): string {
  const place = Object.keys(current.specimens).indexOf(specimen.id) + 1;
  const words = Object.values(labelOf(current, specimen)).join('\n');
  const digits = [
    hashDigits(current.id, 10),
    String(place % 100).padStart(2, '0'),
    hashDigits(words, 3),
  ].join('');
  return `LL${digits}${checkDigit(digits)}`;
}

/** The parts of a code, or undefined where it was misread. */
export function readLabelCode(text: string): LabelCode | undefined {
  const [, ofCase, ofSpecimen, ofWords, check] = form.exec(text) ?? [];
  if (ofCase === undefined || ofSpecimen === undefined || ofWords === undefined) return undefined;
  const isRight = checkDigit(`${ofCase}${ofSpecimen}${ofWords}`) === Number(check);
  return isRight ? { ofCase, ofSpecimen, ofWords } : undefined;
}

/** What a scanned label is, seen from the specimen that is to carry it. */
export type LabelScanned =
  | { readonly is: 'right' }
  | { readonly is: 'wrong'; readonly sentence: string };

const said = () =>
  ({
    misread: say`The label was misread. Scan it again, or type what it says.`,
    otherCase: say`Stop. This label is of another patient. Take the pot away from this case.`,
    noSpecimen: say`This label is of a specimen that this case does not have.`,
  }) as const;

const wrong = (sentence: string): LabelScanned => ({ is: 'wrong', sentence });

/** Compares a scanned label with the one that this specimen must carry, and says what is different. */
export function compareLabel(current: Case, specimen: Specimen, text: string): LabelScanned {
  const code = readLabelCode(text);
  if (!code) return wrong(said().misread);
  const wanted = readLabelCode(labelCodeOf(current, specimen));
  if (code.ofCase !== wanted?.ofCase) return wrong(said().otherCase);
  const other = Object.values(current.specimens)[Number(code.ofSpecimen) - 1];
  if (other === undefined) return wrong(said().noSpecimen);
  if (other.id !== specimen.id)
    return wrong(
      say`Stop. This label is of ${other.letter} ${other.name}. It is on the wrong pot.`,
    );
  if (code.ofWords !== wanted.ofWords)
    return wrong(say`This label was printed before something on it was changed. Print it again.`);
  return { is: 'right' };
}

/** What a label is that was scanned while no pot waits for one. */
export type LabelAnywhere =
  | { readonly is: 'here'; readonly specimen: Specimen }
  | { readonly is: 'wrong'; readonly isOther: boolean; readonly sentence: string };

/** Whose label it is: of a specimen of this case, of another patient, or one that is not valid any more. */
export function labelAnywhere(current: Case, text: string): LabelAnywhere {
  const no = (sentence: string, isOther = false): LabelAnywhere => ({
    is: 'wrong',
    isOther,
    sentence,
  });
  const code = readLabelCode(text);
  if (!code) return no(said().misread);
  if (code.ofCase !== hashDigits(current.id, 10)) return no(said().otherCase, true);
  const specimen = Object.values(current.specimens)[Number(code.ofSpecimen) - 1];
  if (!specimen) return no(said().noSpecimen);
  const compared = compareLabel(current, specimen, text);
  return compared.is === 'right' ? { is: 'here', specimen } : no(compared.sentence);
}

/** A number of so many digits from a text. */
const hashDigits = (text: string, digits: number): string =>
  String(fnv64(text) % 10n ** BigInt(digits)).padStart(digits, '0');
