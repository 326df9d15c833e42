/** The encoder alone: the package's own types describe only its drawing. */
declare module 'jsbarcode/bin/barcodes/CODE128/CODE128_AUTO.js' {
  type Encoder = new (
    text: string,
    options: { readonly ean128?: boolean },
  ) => {
    /** Bars as 1 and gaps as 0, with start, check and stop, without the quiet zones. */
    readonly encode: () => { readonly data: string };
  };
  /** Node and the bundler give the class inside or by itself: the package is older than modules. */
  const encoder: Encoder | { readonly default: Encoder };
  export default encoder;
}
