import { type Role, roles, type Step } from '#engine/sheet.ts';

const names: Readonly<Record<Step['who'], string>> = {
  scrub: 'Scrub',
  circulator: 'Circulator',
  surgeon: 'Surgeon',
  anaesthetist: 'Anaesthetist',
  everyone: 'Everyone',
  patient: 'Patient',
  midwife: 'Midwife',
};

/** Who answers a step, as it is said on the screen. */
export const whoWords = (who: Step['who']): string => names[who];

/** The role that answers a step, if one of the team does: the others are asked, and a role enters it for them. */
export const roleAsked = (who: Step['who']): Role | undefined => roles.find((role) => role === who);
