/** Every file of checklists/, checked when the program is built. See `checkedSheets` in vite.config.ts. */
declare module 'virtual:sheets' {
  export const sheets: readonly import('#session/sheetEntry.ts').SheetEntry[];
}
