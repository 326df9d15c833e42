/** The words of the sheet format that are not the engine's own, and what stands where a sheet says nothing. */

import type { LineClass, MomentId, Policy, Role } from '#engine/sheet.ts';

/** What a specimen goes into. "fresh" is dry or on ice, for frozen section or fresh work-up. */
export const media = [
  'formalin',
  'sterile-pot',
  'culture-swab',
  'culture-bottle',
  'fresh',
  'saline',
  'transport-medium',
  'cytology-fixative',
] as const;

/** What the counts are called. */
export const momentNames: Readonly<Record<MomentId, string>> = {
  first: 'First count',
  added: 'Added items',
  cavity: 'Cavity count',
  closing: 'Closing count',
  final: 'Final count',
  relief: 'Relief count',
  extra: 'Extra count',
};

/** Counts that every sheet has, whether it names them or not. */
export const momentsAlways = ['first', 'added', 'final', 'relief', 'extra'] as const;

/** What a class of line is, where the line does not say otherwise. */
export const classDefaults: Readonly<
  Record<LineClass, { readonly tracked: boolean; readonly film: 'yes' | 'no' | 'varies' }>
> = {
  swab: { tracked: true, film: 'yes' },
  sharp: { tracked: true, film: 'yes' },
  small: { tracked: true, film: 'varies' },
  instrument: { tracked: false, film: 'yes' },
};

type CheckpointDefault = {
  readonly name: string;
  readonly before: string;
  readonly leader: Role;
  readonly present: readonly Role[];
};

/**
 * The three checkpoints that every sheet has.
 *
 * Source: WHO Surgical Safety Checklist 2009 (who is present); NatSSIPs 2015, 4.12 (sign out before waking).
 */
export const standardCheckpoints: Readonly<Record<string, CheckpointDefault>> = {
  'sign-in': {
    name: 'Sign in',
    before: 'anaesthesia',
    leader: 'circulator',
    present: ['circulator', 'anaesthetist'],
  },
  'time-out': {
    name: 'Time out',
    before: 'incision',
    leader: 'circulator',
    present: ['scrub', 'circulator', 'surgeon', 'anaesthetist'],
  },
  'sign-out': {
    name: 'Sign out',
    before: 'leaving',
    leader: 'circulator',
    present: ['scrub', 'circulator', 'surgeon', 'anaesthetist'],
  },
};

/** The items of the WHO list of 2009 (1 to 19) and the checkpoint that asks each. */
export const whoItems: readonly { readonly checkpoint: string; readonly words: string }[] = [
  { checkpoint: 'sign-in', words: 'identity, site, procedure and consent' },
  { checkpoint: 'sign-in', words: 'site marked' },
  { checkpoint: 'sign-in', words: 'anaesthetic machine and medicines checked' },
  { checkpoint: 'sign-in', words: 'pulse oximeter on and working' },
  { checkpoint: 'sign-in', words: 'allergy' },
  { checkpoint: 'sign-in', words: 'difficult airway or aspiration' },
  { checkpoint: 'sign-in', words: 'risk of blood loss' },
  { checkpoint: 'time-out', words: 'everybody by name and role' },
  { checkpoint: 'time-out', words: 'patient, procedure and place of incision' },
  { checkpoint: 'time-out', words: 'antibiotic within the last 60 minutes' },
  { checkpoint: 'time-out', words: 'critical steps, duration and blood loss' },
  { checkpoint: 'time-out', words: "anaesthetist's worries" },
  { checkpoint: 'time-out', words: 'sterility and equipment' },
  { checkpoint: 'time-out', words: 'imaging displayed' },
  { checkpoint: 'sign-out', words: 'name of the procedure done' },
  { checkpoint: 'sign-out', words: 'counts complete' },
  { checkpoint: 'sign-out', words: 'specimens labelled' },
  { checkpoint: 'sign-out', words: 'equipment problems' },
  { checkpoint: 'sign-out', words: 'recovery and management' },
];

/**
 * Numbers that stand where a sheet says none. A hospital sets its own in checklists/shared/policy.yaml.
 *
 * Source: WHO Surgical Safety Checklist 2009, item 7 (blood loss); Medical Physics 2016, SU-F-P-59 (needles on
 * film); IFPN 1002 (an interrupted count starts again); ASHP/IDSA/SIS/SHEA 2013 (another dose after 1500 mL).
 * Child's age and seconds: common practice, no source.
 */
export const policyDefaults: Policy = {
  childUnderYears: 18,
  bloodLossMl: 500,
  childBloodLossMlPerKg: 7,
  filmReliableMm: 13,
  filmPoorMm: 10,
  interruptedCount: 'whole',
  redoseBloodLossMl: 1500,
  secondsPerStep: 2,
};
