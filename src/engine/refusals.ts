/** Why an entry is not made. In order of precedence: the first that applies is the answer. */
export const refusals = {
  malformed: {
    sentence: 'Something in this entry is missing or is not what is expected.',
    whatToDo: 'Fill it in again.',
  },
  'case-open': { sentence: 'This case is open already.', whatToDo: 'Go on with it.' },
  'case-finished': {
    sentence: 'This case is closed.',
    whatToDo: 'Only an X-ray reading or a found item can be added now.',
  },
  'too-long': { sentence: 'That text is too long.', whatToDo: 'Say it in fewer than 500 letters.' },
  'unknown-line': {
    sentence: 'This line is not on the sheet.',
    whatToDo: 'Choose a line of the sheet.',
  },
  'not-cuttable': {
    sentence: 'A counted swab is never cut.',
    whatToDo: 'Keep it whole; hand out another.',
  },
  'unknown-turn': {
    sentence: 'The sheet does not say that this line turns that way.',
    whatToDo: 'Choose a turn of the line.',
  },
  'unknown-place': {
    sentence: 'There is no such place in this case.',
    whatToDo: 'Name the table, a site in the patient, off, or stays.',
  },
  'unknown-site': {
    sentence: 'There is no such site on the sheet.',
    whatToDo: 'Choose a site of the sheet.',
  },
  'unknown-variant': {
    sentence: 'The sheet has no such variant.',
    whatToDo: 'Choose a variant of the sheet.',
  },
  'only-in-mid-case': {
    sentence: 'That is chosen in mid-case: it adds to what was opened before.',
    whatToDo: 'Open the case as it begins, and change the plan when it happens.',
  },
  'unknown-role': {
    sentence: 'There is no such role.',
    whatToDo: 'Choose scrub, circulator, surgeon or anaesthetist.',
  },
  'unknown-moment': {
    sentence: 'The sheet has no count at that moment.',
    whatToDo: 'Choose a count of the sheet.',
  },
  'unknown-checkpoint': {
    sentence: 'The sheet has no such checkpoint.',
    whatToDo: 'Choose a checkpoint of the sheet.',
  },
  'unknown-specimen': {
    sentence: 'There is no such specimen.',
    whatToDo: 'Add the specimen first.',
  },
  'unknown-closure': {
    sentence: 'There is no such closure in this case.',
    whatToDo: 'Choose a closure of the sheet.',
  },
  'unknown-step': {
    sentence: 'That step does not apply here.',
    whatToDo: 'Choose a step that is asked.',
  },
  'unknown-entry': {
    sentence: 'There is no such entry.',
    whatToDo: 'Choose an entry of the record.',
  },
  'unknown-agent': {
    sentence: 'This medicine is not on the sheet.',
    whatToDo: 'Choose one of the list.',
  },
  'not-a-quantity': {
    sentence: 'That is not a number of pieces.',
    whatToDo: 'Give a whole number from 1 to 999.',
  },
  'not-a-count': {
    sentence: 'That is not a number that can be counted.',
    whatToDo: 'Give a whole number from 0 to 999.',
  },
  'not-a-number': {
    sentence: 'That is not a number that fits here.',
    whatToDo: 'Give a number from 0 to 99999.',
  },
  'not-a-time': { sentence: 'That is not a time.', whatToDo: 'Give date and time.' },
  'reason-missing': { sentence: 'This needs a reason.', whatToDo: 'Say why, in a few words.' },
  'name-missing': { sentence: 'This needs a name.', whatToDo: 'Say who.' },
  'same-person': {
    sentence: 'One person cannot be both.',
    whatToDo: 'A second person must do this.',
  },
  'two-people': {
    sentence: 'Two people must agree to this.',
    whatToDo: 'Name the scrub and the circulator.',
  },
  'surgeon-missing': {
    sentence: 'The surgeon and one other must agree to this.',
    whatToDo: 'Name the surgeon and one other.',
  },
  'packs-needed': { sentence: 'This line comes in packs.', whatToDo: 'Say what each pack held.' },
  'same-place': { sentence: 'It is already there.', whatToDo: 'Choose another place.' },
  'not-a-move': {
    sentence: 'A plain move cannot do that.',
    whatToDo: 'Add it to the field, or settle the discrepancy.',
  },
  'not-with-specimen': {
    sentence: 'A swab, a sharp or an instrument does not leave with a specimen.',
    whatToDo: 'Take it out of the pot and count it off the field.',
  },
  'wrong-place': {
    sentence: 'The piece is not where that can happen.',
    whatToDo: 'Move the piece first.',
  },
  'before-incision': {
    sentence: 'There is no incision yet.',
    whatToDo: 'Record the incision first.',
  },
  'site-closed': { sentence: 'That site is closed.', whatToDo: 'Reopen it with a reason first.' },
  'count-running': {
    sentence: 'A count is running.',
    whatToDo: 'Finish the count or start it again.',
  },
  'already-counted': {
    sentence: 'The first count is agreed already.',
    whatToDo: 'Ask for an extra count.',
  },
  'count-waived': {
    sentence: 'The first count was waived.',
    whatToDo: 'It cannot be made good afterwards; an X-ray is owed.',
  },
  'baseline-open': {
    sentence: 'The first count has not been agreed.',
    whatToDo: 'Make the first count.',
  },
  'nothing-to-count': {
    sentence: 'Nothing waits to be counted in.',
    whatToDo: 'Ask for an extra count.',
  },
  'no-count': { sentence: 'No count is running.', whatToDo: 'Start a count.' },
  'not-in-count': {
    sentence: 'This line is not part of the count.',
    whatToDo: 'Count the lines that are asked.',
  },
  'counted-apart': {
    sentence: 'This part is counted by itself.',
    whatToDo: 'Say its own number.',
  },
  'lines-open': { sentence: 'Some lines have no number yet.', whatToDo: 'Count every line.' },
  'not-differing': {
    sentence: 'This line has nothing to recount.',
    whatToDo: 'Ask for an extra count.',
  },
  'no-relief': {
    sentence: 'Nobody has been relieved since the last relief count.',
    whatToDo: 'Record the relief first.',
  },
  'no-discrepancy': {
    sentence: 'No discrepancy is open on this line.',
    whatToDo: 'Count the line first.',
  },
  'discrepancy-over': {
    sentence: 'There are more than the record knows, so nothing is missing here.',
    whatToDo: 'Find the addition that was not recorded, and amend.',
  },
  'discrepancy-short': {
    sentence: 'There are fewer than the record knows, so nothing can be added here.',
    whatToDo: 'Search, then find or declare.',
  },
  'earlier-operation': {
    sentence: 'A pack left by an earlier operation must be accounted for.',
    whatToDo: 'Open a discrepancy or declare it.',
  },
  'not-carried-in': {
    sentence: 'This did not start in the patient, so it must come out.',
    whatToDo: 'Take it out, or open a discrepancy.',
  },
  'no-xray-owed': { sentence: 'No X-ray is owed.', whatToDo: 'Nothing to do.' },
  'already-closed': { sentence: 'That is closed already.', whatToDo: 'Go on.' },
  'not-closed': { sentence: 'That is not closed.', whatToDo: 'Nothing to reopen.' },
  held: { sentence: 'Something is still open.', whatToDo: 'Settle what holds it first.' },
  'already-done': { sentence: 'That is done already.', whatToDo: 'Go on.' },
  'checkpoint-finished': {
    sentence: 'This checkpoint is finished.',
    whatToDo: 'Reopen it with a reason.',
  },
  'checkpoint-order': {
    sentence: 'An earlier checkpoint is not finished.',
    whatToDo: 'Finish the earlier checkpoint.',
  },
  'checkpoint-open': {
    sentence: 'The checkpoint is not finished.',
    whatToDo: 'Finish the checkpoint.',
  },
  'checkpoint-not-begun': {
    sentence: 'This checkpoint has not been started.',
    whatToDo: 'Say who leads it and who is present.',
  },
  'leader-absent': {
    sentence: 'Whoever leads the checkpoint must be present.',
    whatToDo: 'Wait for them, or let another lead.',
  },
  'people-absent': {
    sentence: 'Somebody who must be present is not.',
    whatToDo: 'Wait until all are here.',
  },
  'is-computed': {
    sentence: 'This step takes its answer from the case.',
    whatToDo: 'Do what it waits for.',
  },
  'always-applies': {
    sentence: 'This step always applies.',
    whatToDo: 'Answer it, or leave it open with a name and a reason.',
  },
  'not-an-answer': {
    sentence: 'That does not answer the question.',
    whatToDo: 'Choose one of the answers.',
  },
  'answer-stops': {
    sentence: 'An answer given stops the checkpoint.',
    whatToDo: 'Settle it, then answer again.',
  },
  'steps-open': {
    sentence: 'Not every step is done or carries a reason.',
    whatToDo: 'Do the steps, or say why not.',
  },
  'not-taken-yet': {
    sentence: 'The specimen is not out yet.',
    whatToDo: 'Take the specimen first.',
  },
  'not-contained-yet': {
    sentence: 'The specimen is not in its pot yet.',
    whatToDo: 'Put it into its pot before it is labelled.',
  },
  'not-labelled-yet': {
    sentence: 'The pot is not labelled yet.',
    whatToDo: 'Label the pot first.',
  },
  'not-read-yet': {
    sentence: 'The label has not been read back.',
    whatToDo: 'A second person reads the label back.',
  },
  'pot-taken': {
    sentence: 'There is another specimen in that pot.',
    whatToDo: 'One specimen a pot: take another pot.',
  },
  'medium-unfit': {
    sentence: 'That medium does not fit the test wanted.',
    whatToDo: 'Take another pot, or say why.',
  },
  'label-on-lid': { sentence: 'The label is on the lid.', whatToDo: 'Put it on the pot.' },
  'label-incomplete': {
    sentence: 'The label does not say enough.',
    whatToDo:
      'It needs name and number of the patient; letter, name, site and side of the specimen; and the time.',
  },
  'label-differs': {
    sentence: 'The label differs from the case.',
    whatToDo: 'Destroy it before two people and print a new one.',
  },
  'which-place': {
    sentence: 'The record has it in more than one place.',
    whatToDo: 'Say where it was taken from.',
  },
  'not-enough': { sentence: 'There are not that many there.', whatToDo: 'Look, then enter again.' },
  'nothing-to-correct': { sentence: 'There is no entry to take back.', whatToDo: 'Go on.' },
  'not-taken-back': {
    sentence: 'That entry cannot be taken back.',
    whatToDo: 'Reopen it with a reason, or record what is so now.',
  },
  'already-corrected': {
    sentence: 'That entry was taken back already.',
    whatToDo: 'Choose another entry.',
  },
  'entry-depended-on': {
    sentence: 'A later entry depends on it.',
    whatToDo: 'Take the later entry back first.',
  },
} as const;

export type RefusalCode = keyof typeof refusals;

/** A refusal as the user reads it. `detail` names the field, the line or the entry, where that helps. */
export type Refusal = {
  readonly code: RefusalCode;
  readonly sentence: string;
  readonly whatToDo: string;
  readonly detail?: string;
};
