import { unreachable } from '../assert.ts';
import { accept, type Context, type Decision, refuse, warned } from '../decision.ts';
import { at, type Posting, transfer } from '../ledger.ts';
import { canRide } from '../moves/canRide.ts';
import { peopleFrom, personFrom, samePerson } from '../people.ts';
import { inSite, isInside, placeFrom, siteOf } from '../places.ts';
import { isQuantity, isText } from '../quantities.ts';
import { sides } from '../sheet.ts';
import type { Case, Specimen } from '../state.ts';
import { type SpecimensEvent, type StepSpecimen, specimenSteps } from './events.ts';
import { freeLetter } from './freeLetter.ts';
import { differingField, labelFields, labelOf, missingField } from './labelOf.ts';

/** Answers one step of a specimen, in the order of the table at `SpecimenStage`. */
export function decideSpecimens(
  current: Case,
  command: StepSpecimen,
  context: Context,
): Decision<SpecimensEvent> {
  if (!specimenSteps.includes(command.step)) return refuse('unknown-step', command.step);
  if (command.step === 'added') return decideAdded(current, command);
  const specimen = current.specimens[command.id];
  if (!specimen) return refuse('unknown-specimen', command.id);
  switch (command.step) {
    case 'taken':
      return decideTaken(current, specimen, command);
    case 'contained':
      return decideContained(current, specimen, command);
    case 'labelled':
      return decideLabelled(current, specimen, command, context);
    case 'readBack':
      return decideReadBack(current, specimen, command, context);
    case 'handedOver':
      return decideHandedOver(specimen, command);
    case 'notTaken':
    case 'partLeft':
      return decideBySurgeon(current, specimen, command);
    default:
      return unreachable(command.step);
  }
}

/** Refuses, first match wins: malformed, unknown-site, name-missing, already-done. Rules: S1. */
function decideAdded(current: Case, command: StepSpecimen): Decision<SpecimensEvent> {
  const offered = current.sheet.specimens.find((one) => one.id === command.id);
  const side = command.side ?? offered?.side ?? 'not applicable';
  if (!sides.includes(side)) return refuse('malformed', 'side');
  const place = placeFrom(command.site ?? offered?.site ?? 'patient', current.sheet.sites);
  if (place === undefined || !isInside(place)) return refuse('unknown-site', command.site);
  const name = command.name ?? offered?.name;
  if (!isText(name)) return refuse('name-missing', 'name');
  if (current.specimens[command.id]) return refuse('already-done', command.id);
  const site = siteOf(place);
  const siteName = current.sheet.sites.find((one) => one.id === site)?.name ?? site;
  return accept<SpecimensEvent>({
    type: 'specimenAdded',
    specimen: command.id,
    name,
    letter: command.letter ?? freeLetter(current.specimens, offered?.letter),
    site,
    siteWords: command.siteWords ?? offered?.siteWords ?? siteName,
    side,
    test: command.test ?? offered?.test ?? 'histology',
    media: command.media ?? offered?.media ?? [],
  });
}

/**
 * The specimen is out. What it carries goes with it. May be said again while it is not in its pot (a piece more).
 *
 * Refuses, first match wins: malformed, unknown-line, not-a-quantity, already-done, not-enough.
 * Rules: S2.
 */
function decideTaken(
  current: Case,
  specimen: Specimen,
  command: StepSpecimen,
): Decision<SpecimensEvent> {
  const bag = command.bag ?? 'none';
  if (bag !== 'intact' && bag !== 'torn' && bag !== 'none') return refuse('malformed', 'bag');
  const carries = command.carries ?? {};
  const carried = Object.entries(carries);
  const unknown = carried.find(([line]) => !current.lines.has(line));
  if (unknown) return refuse('unknown-line', unknown[0]);
  const pieces = command.pieces ?? 1;
  if (!isQuantity(pieces)) return refuse('not-a-quantity', 'pieces');
  const stranger = carried
    .map(([line]) => current.lines.get(line))
    .find((line) => line && !canRide(line));
  const uncountable = carried.find(([, n]) => !isQuantity(n));
  if (uncountable) return refuse('not-a-quantity', uncountable[0]);
  if (stranger) return refuse('not-with-specimen', stranger.name);
  if (specimen.stage !== 'planned' && specimen.stage !== 'taken')
    return refuse('already-done', specimen.name);
  const postings: Posting[] = [];
  for (const [line, n] of carried) {
    const from = carriedFrom(current, specimen, line, n);
    if (!from) return refuse('not-enough', current.lines.get(line)?.name);
    postings.push(...transfer(line, from, 'specimen', n));
  }
  const decision = accept<SpecimensEvent>({
    type: 'specimenTaken',
    specimen: specimen.id,
    pieces,
    whole: command.whole ?? true,
    bag,
    carries,
    postings,
  });
  return bag === 'torn' ? warned(decision, 'bag-torn') : decision;
}

/** What rides on tissue is in its site; where it lies on the table already, it goes from there. */
function carriedFrom(current: Case, specimen: Specimen, line: string, n: number) {
  const places = [inSite(specimen.site), 'table', 'off'] as const;
  return places.find((place) => at(current.ledger, line, place) >= n);
}

/**
 * The specimen is in its pot, its contents seen by two.
 *
 * Refuses, first match wins: name-missing, two-people, already-done, not-taken-yet, pot-taken, medium-unfit.
 * Rules: S3.
 */
function decideContained(
  current: Case,
  specimen: Specimen,
  command: StepSpecimen,
): Decision<SpecimensEvent> {
  const { pot, medium = specimen.media[0] ?? '' } = command;
  if (!isText(pot)) return refuse('name-missing', 'pot');
  const seenBy = peopleFrom(current.team, command.seenBy ?? ['scrub', 'circulator']);
  if (seenBy.length < 2) return refuse('two-people', 'seenBy');
  if (specimen.stage === 'planned' || specimen.stage === 'notTaken')
    return refuse('not-taken-yet', specimen.name);
  if (specimen.stage !== 'taken' && specimen.stage !== 'contained')
    return refuse('already-done', specimen.name);
  const other = Object.values(current.specimens).find(
    (one) => one.id !== specimen.id && one.pot === pot,
  );
  if (other) return refuse('pot-taken', `${other.letter} ${other.name}`);
  const isFit = specimen.media.length === 0 || specimen.media.includes(medium);
  if (!isFit && !isText(command.reason)) return refuse('medium-unfit', medium);
  const reason = isFit ? undefined : command.reason;
  const event = { type: 'specimenContained', specimen: specimen.id, pot, medium, seenBy } as const;
  const decision = accept<SpecimensEvent>(reason === undefined ? event : { ...event, reason });
  return isFit ? decision : warned(decision, 'medium-unfit');
}

/**
 * The pot carries a label, compared with the case field by field.
 *
 * Refuses, first match wins: not-taken-yet, not-contained-yet, label-on-lid, label-incomplete, label-differs.
 * Rules: S4, S5.
 */
function decideLabelled(
  current: Case,
  specimen: Specimen,
  command: StepSpecimen,
  context: Context,
): Decision<SpecimensEvent> {
  if (specimen.stage === 'planned' || specimen.stage === 'notTaken')
    return refuse('not-taken-yet', specimen.name);
  if (specimen.stage === 'taken') return refuse('not-contained-yet', specimen.name);
  if (command.on === 'lid') return refuse('label-on-lid', specimen.name);
  const wanted = labelOf(current, specimen);
  const said = command.label === 'usual' ? wanted : (command.label ?? {});
  const missing = missingField(wanted, said);
  if (missing) return refuse('label-incomplete', labelFields[missing]);
  const field = differingField(wanted, said);
  if (field) return refuse('label-differs', labelFields[field]);
  const labelledBy = personFrom(current.team, command.by ?? context.by);
  return accept<SpecimensEvent>({
    type: 'specimenLabelled',
    specimen: specimen.id,
    label: wanted,
    labelledBy,
  });
}

/**
 * A second person reads the label back.
 *
 * Refuses, first match wins: reason-missing, name-missing, same-person, already-done, not-labelled-yet.
 * Rules: S6.
 */
function decideReadBack(
  current: Case,
  specimen: Specimen,
  command: StepSpecimen,
  context: Context,
): Decision<SpecimensEvent> {
  const agrees = command.agrees ?? true;
  if (!agrees && !isText(command.reason)) return refuse('reason-missing', specimen.name);
  const readBy = personFrom(current.team, command.by ?? context.by);
  if (!isText(readBy)) return refuse('name-missing', 'by');
  const isLabelled = specimen.stage === 'labelled';
  if (isLabelled && samePerson(readBy, specimen.labelledBy ?? ''))
    return refuse('same-person', readBy);
  if (specimen.stage === 'readBack' || specimen.stage === 'handedOver')
    return refuse('already-done', specimen.name);
  if (!isLabelled) return refuse('not-labelled-yet', specimen.name);
  const event = { type: 'specimenReadBack', specimen: specimen.id, readBy, agrees } as const;
  const { reason } = command;
  return accept<SpecimensEvent>(reason === undefined ? event : { ...event, reason });
}

/** Refuses, first match wins: name-missing, already-done, not-read-yet. Rules: S7. */
function decideHandedOver(specimen: Specimen, command: StepSpecimen): Decision<SpecimensEvent> {
  if (!isText(command.to)) return refuse('name-missing', 'to');
  if (specimen.stage === 'handedOver') return refuse('already-done', specimen.name);
  if (specimen.stage !== 'readBack') return refuse('not-read-yet', specimen.name);
  return accept<SpecimensEvent>({
    type: 'specimenHandedOver',
    specimen: specimen.id,
    to: command.to,
  });
}

/**
 * The surgeon says that nothing was taken, or that a part of it stays.
 *
 * Refuses, first match wins: reason-missing, surgeon-missing, already-done, not-taken-yet.
 * Rules: S8.
 */
function decideBySurgeon(
  current: Case,
  specimen: Specimen,
  command: StepSpecimen,
): Decision<SpecimensEvent> {
  const { reason } = command;
  if (!isText(reason)) return refuse('reason-missing', specimen.name);
  const surgeon = personFrom(current.team, command.by ?? 'surgeon');
  if (!samePerson(surgeon, current.team.surgeon)) return refuse('surgeon-missing', specimen.name);
  const isOut = specimen.stage !== 'planned' && specimen.stage !== 'notTaken';
  if (command.step === 'notTaken')
    return specimen.stage === 'planned'
      ? accept<SpecimensEvent>({ type: 'specimenNotTaken', specimen: specimen.id, reason, surgeon })
      : refuse('already-done', specimen.name);
  return isOut
    ? accept<SpecimensEvent>({ type: 'specimenPartLeft', specimen: specimen.id, reason, surgeon })
    : refuse('not-taken-yet', specimen.name);
}
