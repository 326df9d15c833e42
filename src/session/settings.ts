import { firstSpoken, type LanguageId, languageOf } from '#words/languages.ts';
import type { Ports } from './ports.ts';
import type { ScannerSettings, SessionState } from './state.ts';

/** What this tablet keeps of itself between two starts. Nothing of it is about a patient. */
export type Settings = Pick<SessionState, 'lights' | 'language' | 'scanner'>;

const lightsKey = 'lastlook-lights';
const languageKey = 'lastlook-language';
const scannerKey = 'lastlook-scanner';
const textMax = 10;
const keyNames = /^F([1-9]|1[0-9]|2[0-4])$/;

/** The settings as they were left. What cannot be read is as on a new tablet. */
export function rememberedSettings({ memory, languages = [] }: Ports): Settings {
  const kept = memory.read(languageKey);
  return {
    lights: memory.read(lightsKey) === 'down' ? 'down' : 'up',
    language: kept === undefined ? firstSpoken(languages) : languageOf(kept),
    scanner: scannerFrom(memory.read(scannerKey)),
  };
}

/** What of the session is needed to change one. */
type Changed = {
  readonly ports: Ports;
  readonly state: () => SessionState;
  readonly change: (part: Partial<SessionState>) => void;
};

/** Switches the light level and remembers it. */
export function toggleLights({ ports, state, change }: Changed): void {
  const next = state().lights === 'up' ? 'down' : 'up';
  ports.memory.write(lightsKey, next);
  change({ lights: next });
}

/** Says what the program speaks, and remembers it. */
export function setLanguage(
  { ports, change }: Pick<Changed, 'ports' | 'change'>,
  language: LanguageId,
): void {
  ports.memory.write(languageKey, language);
  change({ language });
}

/** Says how scanners send the separator, and remembers it. */
export function setScanner(
  { ports, change }: Pick<Changed, 'ports' | 'change'>,
  wanted: ScannerSettings,
): void {
  const scanner = scannerFrom(JSON.stringify(wanted));
  ports.memory.write(scannerKey, JSON.stringify(scanner));
  change({ scanner });
}

function scannerFrom(text: string | undefined): ScannerSettings {
  const { separatorText, separatorKey } = objectFrom(text);
  return {
    ...(typeof separatorText === 'string' && /^\S+$/.test(separatorText)
      ? { separatorText: separatorText.slice(0, textMax) }
      : {}),
    ...(typeof separatorKey === 'string' && keyNames.test(separatorKey) ? { separatorKey } : {}),
  };
}

function objectFrom(text: string | undefined): Readonly<Record<string, unknown>> {
  try {
    const value: unknown = JSON.parse(text ?? '{}');
    return typeof value === 'object' && value !== null ? { ...value } : {};
  } catch {
    return {};
  }
}
