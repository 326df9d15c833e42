/** Stands between elements whose length is not known. */
export const separator = '\u001D';
