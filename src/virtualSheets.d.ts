/** Every file of checklists/, checked when the program is built. See `checkedSheets` in vite.config.ts. */
declare module 'virtual:sheets' {
  export const sheets: readonly import('#session/sheetEntry.ts').SheetEntry[];
}

/** The texts of the same files, and of those that they take from: for bringing in and changing a sheet. */
declare module 'virtual:sheet-texts' {
  type SheetText = { readonly name: string; readonly file: string; readonly text: string };
  export const sheets: readonly SheetText[];
  export const shared: readonly SheetText[];
}

/** Every practice case of checklists/practice, checked when the program is built. See `checkedPractice`. */
declare module 'virtual:practice' {
  export const scripts: readonly import('#practice/script.ts').Script[];
}
