import { type Appended, type CaseLog, makeCaseLog } from './caseLog.ts';
import type { CheckedRows, Draft } from './chain.ts';
import { type Aside, bookId, type CaseList, collectAside, listAll } from './collect.ts';
import { exportText, headOf, type Imported, parseExport } from './exportFile.ts';
import { type Failed, fail, type Report, report } from './failures.ts';
import { ask, type Home, type Stored } from './home.ts';
import type { Patience } from './keepRow.ts';
import { makeLately } from './lately.ts';
import type { CaseRows } from './lookUp.ts';
import { isCaseId } from './parseEnvelope.ts';
import type { Signer } from './signer.ts';

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
  /** Takes a case away for good, in all homes. Fails: unknown-case, and as the homes do; some may be done. */
  readonly removeCase: (caseId: string) => Promise<Stored>;
  /** Lets go of rows that were read lately: nobody has a right to read them any more. */
  readonly forget: () => void;
  readonly close: () => Promise<void>;
};

export type JournalOptions = {
  readonly homes: readonly Home[];
  /** Takes a case out of one home, where homes can do so. */
  readonly remove?: (home: string, caseId: string) => Promise<Stored>;
  /** Signs where the chain of a case ends when it is taken out. */
  readonly sign?: Signer['sign'];
  /** Called before the rows of a case are written that is new to this tablet, and came as a file. */
  readonly beforeNew?: (caseId: string) => Promise<Stored>;
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
  const tell: Listener = (caseId, said) => {
    for (const listener of listeners) listener(caseId, said);
  };
  const patience: Patience = { ...defaultPatience, ...options.patience, tell };
  const logs = makeLogs(homes, patience);
  const few = homes.length < 2 ? [report('one-home')] : [];
  let isClosed = false;

  const refusal = (caseId: string): Failed | undefined =>
    isClosed ? fail('journal-closed') : isCaseId(caseId) ? undefined : fail('unknown-case');

  async function append(caseId: string, draft: Draft): Promise<Appended> {
    const refused = refusal(caseId);
    if (refused) return refused;
    const answer = await logs.of(caseId).append(draft);
    if (answer.ok && !answer.again) announce?.(caseId, answer.envelope.seq);
    return answer;
  }

  async function readCase(caseId: string, as: 'writer' | 'reader' = 'writer') {
    const refused = refusal(caseId);
    if (refused) return refused;
    return as === 'writer' ? logs.of(caseId).read() : logs.of(caseId).peek();
  }

  const listCases = async (): Promise<CaseList> =>
    isClosed ? fail('journal-closed') : listAll(homes, patience.limitMs, logs.of);
  const readAside = async (caseId: string): Promise<Aside> =>
    refusal(caseId) ?? collectAside(homes, patience.limitMs, caseId);

  const exportCase = async (caseId: string): Promise<Exported> =>
    caseId === bookId
      ? fail('unknown-case')
      : giveOut(await readCase(caseId, 'reader'), options.sign);

  async function importCase(text: string): Promise<ImportOutcome> {
    if (isClosed) return fail('journal-closed');
    const file = await parseExport(text);
    if (!file.ok) return file;
    const refused = await refuseNew(file.caseId, await listCases(), options);
    return refused ?? takeIn(logs.of(file.caseId), file);
  }

  const removeCase = async (caseId: string): Promise<Stored> =>
    refusal(caseId) ?? removeFrom(caseId, logs, patience.limitMs, options);
  const health = async (): Promise<Health> => ({
    persisted: await persisted?.(),
    homes: homes.map(({ name }) => name),
    reports: [...few, ...reports],
  });

  async function close(): Promise<void> {
    isClosed = true;
    await Promise.all(homes.map((home) => home.close()));
  }

  const watch = (listener: Listener) => {
    listeners.add(listener);
    return () => void listeners.delete(listener);
  };
  const asking = { listCases, readCase, readAside, health, exportCase, removeCase };
  return { append, importCase, watch, close, forget: logs.forget, ...asking };
}

type Logs = ReturnType<typeof makeLogs>;

/** The cases of the journal, and what was read of them lately. */
function makeLogs(homes: readonly Home[], patience: Patience) {
  const logs = new Map<string, CaseLog>();
  const lately = makeLately<CheckedRows>(({ rows }) => rows.length);

  function of(caseId: string): CaseLog {
    const log = logs.get(caseId) ?? makeCaseLog(caseId, homes, patience, lately);
    logs.set(caseId, log);
    return log;
  }

  function drop(caseId: string): void {
    logs.delete(caseId);
    lately.forget();
  }

  return { of, drop, forget: lately.forget };
}

/** What is in the way of a file's case, and what has to be ready before its first row is written. */
async function refuseNew(
  caseId: string,
  listed: CaseList,
  { beforeNew }: JournalOptions,
): Promise<Failed | undefined> {
  if (caseId === bookId) return fail('file-foreign');
  if (!listed.ok) return listed;
  if (!beforeNew || listed.cases.some((one) => one.caseId === caseId)) return undefined;
  const ready = await beforeNew(caseId);
  return ready.ok ? undefined : ready;
}

/** Home after home: a case that was half removed is listed still, and is removed again. */
async function removeFrom(
  caseId: string,
  logs: Logs,
  limitMs: number,
  { homes, remove }: JournalOptions,
): Promise<Stored> {
  logs.drop(caseId); // It has the rows in mind, and would put them back.
  if (caseId === bookId) return fail('unknown-case');
  for (const { name } of homes) {
    const gone = await ask(name, limitMs, async () =>
      remove ? remove(name, caseId) : fail('unknown-case'),
    );
    if (!gone.ok) return gone;
  }
  return { ok: true };
}

async function giveOut(answer: CaseRows | Failed, sign: JournalOptions['sign']): Promise<Exported> {
  if (!answer.ok) return answer;
  const { rows, texts } = answer;
  if (rows.length === 0) return fail('unknown-case');
  return { ok: true, text: exportText(rows, texts, await sign?.(headOf(rows))) };
}

/** Adds what a checked file has more than the case. */
async function takeIn(log: CaseLog, { caseId, texts }: Imported): Promise<ImportOutcome> {
  const extended = await log.extend(texts);
  if (!extended.ok) return extended;
  const added = Math.max(0, texts.length - extended.had);
  const outcome = added === 0 ? 'already-here' : extended.had === 0 ? 'imported' : 'extended';
  return { ok: true, caseId, outcome, added };
}
