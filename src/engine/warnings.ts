/** Said beside an accepted entry. Nothing is held by a warning; the record keeps what was done. */
export const warnings = {
  'pack-set-aside':
    'A pack did not hold its number. It is set aside whole; keep it in the room, marked, and out of the count.',
  'packs-in-one':
    'Packs were given as one number, typed or seen? Look at each pack, and say what each one held.',
  'tray-differs': 'What was seen differs from the tray list. The count starts from what was seen.',
  'one-name': 'Only one person saw this opened. A second should look before the next count.',
  'no-strand':
    'A swab that an X-ray does not show. It stays off the field until the final count is agreed.',
  'medium-unfit': 'The medium is not the one that the test wants. The reason is in the record.',
  'bag-torn': 'The bag is torn: look round inside before the gas goes off.',
  'dose-late':
    'The dose is outside its window before incision. Ask the anaesthetist and the surgeon.',
  'film-poor':
    'A film may not show a piece of this size or material. A negative film proves little.',
  'film-part': 'The film does not show the whole field. It clears nothing.',
  'film-negative': 'A negative film does not settle the count.',
  'answered-fast': 'These steps were answered faster than they can be said.',
  'patient-again':
    'Nothing was entered for a long time. Read name and number of the patient before you count.',
  'count-paused':
    'Nothing was entered for a while. A count that was interrupted is broken off and begins again.',
  'count-voided': 'The count that was running is void. Start it again.',
  'tissue-on-table': 'Somebody takes over: say what tissue lies on the table.',
  'sign-out-next': 'Sign out comes next: read it aloud now, while everybody is here.',
  'near-miss': 'Something did not agree in this case and was settled. Report it as a near miss.',
  'clock-back': 'The clock of this tablet went back. The order of entries is kept.',
} as const;

export type WarningCode = keyof typeof warnings;
