/** Said where a file of the program did not come. */
export const notWhole =
  'A part of the program could not be read. Nothing is lost. Connect the tablet and try again.';
