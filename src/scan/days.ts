/** A day, YYYY-MM-DD. `isMonthOnly`: only the month was printed, so that it is the last day of it. */
export type Day = { readonly date: string; readonly isMonthOnly: boolean };

/**
 * The day that YYMMDD means, read at this instant. Undefined: there is no such day.
 *
 * The century is read from 49 years back to 50 years ahead of when it was scanned, so that a record that is read
 * much later still means the same. Day 00 is the last day of the month, in leap years too.
 * Source: GS1 General Specifications 7.12 (century) and 3.4.2 (day 00), as the lints of GS1's dictionary have them.
 */
export function dayOf(digits: string, scannedAt: string): Day | undefined {
  const parts = /^(\d\d)(\d\d)(\d\d)/.exec(digits);
  if (!parts) return undefined;
  const [yy, month, day] = parts.slice(1).map(Number);
  if (yy === undefined || month === undefined || day === undefined) return undefined;
  const year = fullYear(yy, Number(scannedAt.slice(0, 4)));
  if (month < 1 || month > 12 || day > daysIn(year, month)) return undefined;
  const last = day === 0 ? daysIn(year, month) : day;
  return { date: `${year}-${two(month)}-${two(last)}`, isMonthOnly: day === 0 };
}

/** The year that two digits mean in this year. */
export function fullYear(yy: number, thisYear: number): number {
  const century = Math.floor(thisYear / 100);
  const ahead = yy - (thisYear % 100);
  return (ahead >= 51 ? century - 1 : ahead <= -50 ? century + 1 : century) * 100 + yy;
}

const daysIn = (year: number, month: number): number => {
  if (month === 2) return isLeap(year) ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
};

const isLeap = (year: number): boolean => (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;

const two = (number: number): string => String(number).padStart(2, '0');
