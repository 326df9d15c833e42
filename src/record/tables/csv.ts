/** A cell of a table for a spreadsheet. Nothing known is an empty cell. */
export type Cell = string | number | boolean | undefined;

/** Names of columns, and rows with a cell for each. */
export type Table = {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
};

/** UTF-8's mark: without it spreadsheets take the bytes of a name for those of an older code page. */
const byteOrderMark = '\uFEFF';

/**
 * A table as comma-separated values: CRLF at the end of each record, quotes where they are needed, one header.
 *
 * A text that a spreadsheet would take for a formula gets an apostrophe in front.
 * Source: RFC 4180, section 2; OWASP, CSV Injection (begins with = + - @, tab, carriage return or line feed, also in
 * full width).
 */
export function csvOf({ columns, rows }: Table): string {
  const records = [columns, ...rows].map((cells) => cells.map(field).join(','));
  return `${byteOrderMark}${records.join('\r\n')}\r\n`;
}

function field(cell: Cell): string {
  if (cell === undefined) return '';
  if (typeof cell !== 'string') return String(cell);
  const text = /^\s*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]|^[\t\r\n]/.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
