const hibcSigns = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-. $/+%';

/**
 * The check character of an HIBC string: the sum of the values of its signs, modulo 43.
 *
 * Source: ANSI/HIBC 2.6, as two generators and a published page have it; see tests/scan.
 */
export function hibcCheck(data: string): string | undefined {
  let sum = 0;
  for (const sign of data) {
    const value = hibcSigns.indexOf(sign);
    if (value < 0) return undefined;
    sum += value;
  }
  return hibcSigns[sum % 43];
}

/** Whether this is an HIBC string whose check character is right. */
export const isHibc = (text: string): boolean =>
  /^\+[A-Z$][A-Z0-9$]{2}/.test(text) && hibcCheck(text.slice(0, -1)) === text.at(-1);

const isbtSigns = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*';

/** Source: ISO/IEC 7064, MOD 37-2, as ISBT 128 uses it for donation numbers. The number that stands for its sign. */
export function isbtCheck(donation: string): number | undefined {
  if (!/^[A-Z0-9]{13}$/.test(donation)) return undefined;
  let sum = 0;
  for (const sign of donation) sum = ((sum + isbtSigns.indexOf(sign)) * 2) % 37;
  return (38 - sum) % 37;
}

/** Whether this is a structure of ISBT 128. A donation number that carries its check must carry the right one. */
export function isIsbt(text: string): boolean {
  const donation = /^=([A-NP-Z1-9][A-Z0-9]{4}\d{8})(\d\d)$/.exec(text);
  if (!donation) return /^[=&][^\s]{4,}$/.test(text);
  const flags = Number(donation[2]);
  return flags < 60 || isbtCheck(donation[1] ?? '') === flags - 60;
}
