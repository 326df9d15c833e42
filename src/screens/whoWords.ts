import type { Step } from '#engine/sheet.ts';

const names: Readonly<Record<Step['who'], string>> = {
  scrub: 'Scrub',
  circulator: 'Circulator',
  surgeon: 'Surgeon',
  anaesthetist: 'Anaesthetist',
  everyone: 'Everyone',
  patient: 'Patient',
};

/** Who answers a step, as it is said on the screen. */
export const whoWords = (who: Step['who']): string => names[who];
