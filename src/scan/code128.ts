import encoder from 'jsbarcode/bin/barcodes/CODE128/CODE128_AUTO.js';

const Encoder = 'default' in encoder ? encoder.default : encoder;

/**
 * The bars of a text in Code 128: 1 is a bar, 0 a gap, each one module wide, quiet zones not included.
 *
 * Loaded with the first label only. `gs1`: with the sign in front that makes an element string of it.
 * Source: ISO/IEC 15417.
 */
export const code128 = (text: string, gs1 = false): string =>
  new Encoder(text, { ean128: gs1 }).encode().data;
