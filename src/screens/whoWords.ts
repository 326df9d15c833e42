import { type Role, roles, type Step } from '#engine/sheet.ts';
import { say } from '#words/say.ts';

const names = (): Readonly<Record<Step['who'], string>> => ({
  scrub: say`Scrub`,
  circulator: say`Circulator`,
  surgeon: say`Surgeon`,
  anaesthetist: say`Anaesthetist`,
  everyone: say`Everyone`,
  patient: say`Patient`,
  midwife: say`Midwife`,
});

/** Who answers a step, as it is said on the screen. */
export const whoWords = (who: Step['who']): string => names()[who];

/** The role that answers a step, if one of the team does: the others are asked, and a role enters it for them. */
export const roleAsked = (who: Step['who']): Role | undefined => roles.find((role) => role === who);
