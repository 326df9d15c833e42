import { type Appended, type CaseLog, makeCaseLog } from './caseLog.ts';
import type { Draft } from './chain.ts';
import { exportText, type Imported, parseExport } from './exportFile.ts';
import { type Failed, fail, type Report, report } from './failures.ts';
import { ask, type Home, type Listed } from './home.ts';
import type { Patience } from './keepRow.ts';
import type { CaseRows } from './lookUp.ts';
import { isCaseId } from './parseEnvelope.ts';

export type CaseList =
  | {
      readonly ok: true;
      readonly cases: readonly Required<Listed>[];
      /** A home that did not answer: cases that only it holds are not in the list. */
      readonly reports: readonly Report[];
    }
  | Failed;
/** What was set aside of a case, home by home. Not checked: the rows may be damaged or a fork. */
export type Aside =
  | {
      readonly ok: true;
      readonly copies: readonly { readonly home: string; readonly texts: readonly string[] }[];
      readonly reports: readonly Report[];
    }
  | Failed;
export type Exported = { readonly ok: true; readonly text: string } | Failed;
export type ImportOutcome =
  | {
      readonly ok: true;
      readonly caseId: string;
      readonly outcome: 'imported' | 'extended' | 'already-here';
      /** How many rows came new to this tablet. */
      readonly added: number;
    }
  | Failed;
export type Health = {
  /** Whether the browser promised not to clear the storage by itself; undefined if it cannot say. */
  readonly persisted: boolean | undefined;
  readonly homes: readonly string[];
  readonly reports: readonly Report[];
};
export type Listener = (caseId: string, said: Report) => void;

/**
 * The durable record of all cases on this tablet.
 *
 * Rules: an entry is acknowledged when every home would keep it through a power cut. Entries of one
 * case are written in the order asked. The same id is recorded once. An entry that could not be saved
 * keeps its place: offer the same id again, or read the case to see what became of it; until then
 * other entries of the case are refused (earlier-unsaved).
 */
export type Journal = {
  /**
   * Fails: not-saved, earlier-unsaved, other-writer, stale-writer, not-json, bad-entry,
   * entry-too-long, unknown-case (not a name for a case), journal-closed.
   */
  readonly append: (caseId: string, draft: Draft) => Promise<Appended>;
  /** Fails: cannot-read. */
  readonly listCases: () => Promise<CaseList>;
  /**
   * A writer's reading settles the homes and says what it found; a reader's changes nothing. A case
   * without rows is no failure. Fails: cannot-read.
   */
  readonly readCase: (caseId: string, as?: 'writer' | 'reader') => Promise<CaseRows | Failed>;
  /** What mending had to take out of the homes. Fails: cannot-read. */
  readonly readAside: (caseId: string) => Promise<Aside>;
  /** Hears when an entry is not saved, when all is saved again, and what had to be put right. */
  readonly watch: (listener: Listener) => () => void;
  readonly health: () => Promise<Health>;
  /**
   * A case that is open has to be read again after rows were added to it. Fails, and changes nothing:
   * what `parseExport` fails with, other-history, cannot-read. Fails, and may be done in part:
   * import-unsaved.
   */
  readonly importCase: (text: string) => Promise<ImportOutcome>;
  /** Fails: unknown-case, cannot-read. */
  readonly exportCase: (caseId: string) => Promise<Exported>;
  readonly close: () => Promise<void>;
};

export type JournalOptions = {
  readonly homes: readonly Home[];
  readonly patience?: Partial<Omit<Patience, 'tell'>>;
  /** What is to be said from the start, for instance that there is one home only. */
  readonly reports?: readonly Report[];
  readonly persisted?: () => Promise<boolean | undefined>;
  /** Called after each acknowledged row, so that other windows can follow. */
  readonly announce?: (caseId: string, seq: number) => void;
};

/** Three tries within the second in which the user has to be told. */
const defaultPatience = {
  limitMs: 5000,
  rowMs: 5, // ten times what a desk machine takes in Chromium 156
  noticeMs: 900,
  pausesMs: [50, 250],
  secondLookMs: 300,
} as const;

/** Opens a journal on given homes. `openTabletJournal` gives those of the browser. */
export function openJournal(options: JournalOptions): Journal {
  const { homes, reports = [], persisted, announce } = options;
  const listeners = new Set<Listener>();
  const logs = new Map<string, CaseLog>();
  const patience: Patience = {
    ...defaultPatience,
    ...options.patience,
    tell: (caseId, said) => {
      for (const listener of listeners) listener(caseId, said);
    },
  };
  const few = homes.length < 2 ? [report('one-home')] : [];
  let isClosed = false;

  function logOf(caseId: string): CaseLog {
    const log = logs.get(caseId) ?? makeCaseLog(caseId, homes, patience);
    logs.set(caseId, log);
    return log;
  }

  const refusal = (caseId: string): Failed | undefined =>
    isClosed ? fail('journal-closed') : isCaseId(caseId) ? undefined : fail('unknown-case');

  async function append(caseId: string, draft: Draft): Promise<Appended> {
    const refused = refusal(caseId);
    if (refused) return refused;
    const answer = await logOf(caseId).append(draft);
    if (answer.ok && !answer.again) announce?.(caseId, answer.envelope.seq);
    return answer;
  }

  async function readCase(caseId: string, as: 'writer' | 'reader' = 'writer') {
    const refused = refusal(caseId);
    if (refused) return refused;
    return as === 'writer' ? logOf(caseId).read() : logOf(caseId).peek();
  }

  async function listCases(): Promise<CaseList> {
    return isClosed ? fail('journal-closed') : listAll(homes, patience.limitMs, logOf);
  }

  async function exportCase(caseId: string): Promise<Exported> {
    const answer = await readCase(caseId, 'reader');
    if (!answer.ok) return answer;
    if (answer.rows.length === 0) return fail('unknown-case');
    return { ok: true, text: exportText(answer.rows, answer.texts) };
  }

  async function importCase(text: string): Promise<ImportOutcome> {
    if (isClosed) return fail('journal-closed');
    const file = await parseExport(text);
    return file.ok ? takeIn(logOf(file.caseId), file) : file;
  }

  async function readAside(caseId: string): Promise<Aside> {
    return refusal(caseId) ?? collectAside(homes, patience.limitMs, caseId);
  }

  async function health(): Promise<Health> {
    const names = homes.map(({ name }) => name);
    return { persisted: await persisted?.(), homes: names, reports: [...few, ...reports] };
  }

  async function close(): Promise<void> {
    isClosed = true;
    await Promise.all(homes.map((home) => home.close()));
  }

  const watch = (listener: Listener) => {
    listeners.add(listener);
    return () => void listeners.delete(listener);
  };
  const asking = { listCases, readCase, readAside, health, exportCase };
  return { append, importCase, watch, close, ...asking };
}

/** The cases of all homes, each once, by name. Where no home counts rows, the case is read. */
async function listAll(
  homes: readonly Home[],
  limitMs: number,
  logOf: (caseId: string) => CaseLog,
): Promise<CaseList> {
  const lists = await Promise.all(homes.map((home) => ask(home.name, limitMs, home.list)));
  if (!lists.some(({ ok }) => ok)) return fail('cannot-read');
  const found = new Map<string, number | undefined>();
  for (const { caseId, rows } of lists.flatMap((list) => (list.ok ? list.cases : []))) {
    const known = found.get(caseId);
    found.set(caseId, rows === undefined ? known : Math.max(known ?? 0, rows));
  }
  const cases: Required<Listed>[] = [];
  for (const [caseId, counted] of found) {
    const read = counted === undefined ? await logOf(caseId).peek() : undefined;
    cases.push({ caseId, rows: counted ?? (read?.ok ? read.rows.length : 0) });
  }
  cases.sort((a, b) => (a.caseId < b.caseId ? -1 : 1));
  return { ok: true, cases, reports: silentOnes(homes, lists) };
}

async function collectAside(
  homes: readonly Home[],
  limitMs: number,
  caseId: string,
): Promise<Aside> {
  const answers = await Promise.all(
    homes.map((home) => ask(home.name, limitMs, () => home.readAside(caseId))),
  );
  if (!answers.some(({ ok }) => ok)) return fail('cannot-read');
  const copies = answers.flatMap((held, index) =>
    held.ok && held.texts.length > 0 ? [{ home: homes[index]?.name ?? '', texts: held.texts }] : [],
  );
  return { ok: true, copies, reports: silentOnes(homes, answers) };
}

const silentOnes = (homes: readonly Home[], answers: readonly { readonly ok: boolean }[]) =>
  homes
    .filter((_, index) => answers[index]?.ok === false)
    .map(({ name }) => report('home-unreadable', { home: name }));

/** Adds what a checked file has more than the case. */
async function takeIn(log: CaseLog, { caseId, texts }: Imported): Promise<ImportOutcome> {
  const extended = await log.extend(texts);
  if (!extended.ok) return extended;
  const added = Math.max(0, texts.length - extended.had);
  const outcome = added === 0 ? 'already-here' : extended.had === 0 ? 'imported' : 'extended';
  return { ok: true, caseId, outcome, added };
}
