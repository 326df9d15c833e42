import { say } from '#words/say.ts';
import type { Closure } from '../sheet.ts';
import type { Case, Specimen } from '../state.ts';
import type { Hold, HoldCode } from './holds.ts';

/**
 * The first thing that is open of each specimen.
 *
 * `specimen-inside` belongs to the closure of the specimen's site and later; labels to the last closure and sign
 * out; handing over to sign out.
 * Rules: S9.
 */
export function specimenHolds(
  current: Case,
  upTo: readonly Closure[],
  gate: { readonly isLast: boolean; readonly isSignOut: boolean },
): readonly Hold[] {
  return Object.values(current.specimens).flatMap((specimen) => {
    const code = openOf(specimen);
    if (code === undefined) return [];
    if (code === 'specimen-inside') {
      const isConcerned =
        gate.isLast || upTo.some((closure) => closure.sites.includes(specimen.site));
      return isConcerned ? [holdOf(specimen, code)] : [];
    }
    if (code === 'specimen-here') return gate.isSignOut ? [holdOf(specimen, code)] : [];
    return gate.isLast ? [holdOf(specimen, code)] : [];
  });
}

function openOf(specimen: Specimen): HoldCode | undefined {
  switch (specimen.stage) {
    case 'planned':
      return 'specimen-inside';
    case 'notTaken':
    case 'handedOver':
      return isIncomplete(specimen) ? 'specimen-inside' : undefined;
    case 'taken':
    case 'contained':
      return isIncomplete(specimen) ? 'specimen-inside' : 'specimen-unlabelled';
    case 'labelled':
      return isIncomplete(specimen) ? 'specimen-inside' : 'specimen-unread';
    case 'readBack':
      return isIncomplete(specimen) ? 'specimen-inside' : 'specimen-here';
  }
}

const isIncomplete = (specimen: Specimen): boolean =>
  specimen.isWhole === false && specimen.partReason === undefined;

const words = (): Partial<Record<HoldCode, readonly [string, string, string]>> => ({
  'specimen-inside': [say`not yet out`, say`Take the specimen`, say`surgeon`],
  'specimen-unlabelled': [say`not labelled`, say`Into its pot, then the label`, say`circulator`],
  'specimen-unread': [
    say`not read back`,
    say`A second person reads the label`,
    say`scrub or surgeon`,
  ],
  'specimen-here': [say`not handed over`, say`Say who takes it`, say`circulator`],
});

function holdOf(specimen: Specimen, code: HoldCode): Hold {
  const [state = '', detail = '', who = ''] = words()[code] ?? [];
  const isPart = code === 'specimen-inside' && specimen.isWhole === false;
  return {
    code,
    about: specimen.id,
    title: `${specimen.letter} ${specimen.name} ${isPart ? say`not whole` : state}`,
    detail: isPart ? say`Find the rest, or the surgeon says why it stays` : detail,
    who,
    screen: 'specimen',
  };
}
