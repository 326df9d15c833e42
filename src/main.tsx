import { sheets } from 'virtual:sheets';
import { render } from 'solid-js/web';
import { chainCode } from '#journal/chainCode.ts';
import { bookId } from '#journal/collect.ts';
import { fail } from '#journal/failures.ts';
import { openTabletJournal } from '#journal/openTabletJournal.ts';
import { openSheetShelf } from '#journal/sheetShelf.ts';
import { makeWriterLock } from '#journal/writerLock.ts';
import { App, preloadScreens } from '#screens/App.tsx';
import { NoJournal } from '#screens/NoJournal.tsx';
import { ignoreRestingFingers } from '#screens/restingFinger.ts';
import { speak } from '#screens/speaking.ts';
import { allowOnlyOurMarkup } from '#screens/trustedTypes.ts';
import { showWaiting } from '#screens/Waiting.tsx';
import { keepOffline, takeNewestVersion } from '#session/appVersion.ts';
import { browserDevice } from '#session/browserDevice.ts';
import { browserIdle } from '#session/browserIdle.ts';
import { deviceClock, randomIds } from '#session/browserPorts.ts';
import { createSession } from '#session/createSession.ts';
import { loadSheetDesk } from '#session/loadSheetDesk.ts';
import { makeBook } from '#session/makeBook.ts';
import { readRules } from '#session/readRules.ts';
import { routeFrom, routeKey } from '#session/route.ts';
import { createSheetLibrary } from '#session/sheetLibrary.ts';
import { openVault, type Vault } from '#vault/openVault.ts';
import { say } from '#words/say.ts';
import '#styles/base.css';
import '#styles/tokens.css';
import '#styles/print.css';
import '#styles/screens.css';
import '#styles/close.css';
import '#styles/closeParts.css';
import '#record/record.css';

/** Version that stands on every row of the record. */
const app = '0.1.0';

async function begin(root: HTMLElement, endWaiting: () => void): Promise<void> {
  // The vault keeps what it knows in the journal, which asks it for keys: no row is touched before it is there.
  let give = (_: Vault): void => undefined;
  const made = new Promise<Vault>((resolve) => {
    give = resolve;
  });
  const opened = await openTabletJournal({
    cipherOf: async (caseId) => (caseId === bookId ? 'plain' : (await made).cases.cipherOf(caseId)),
    beforeNew: async (caseId) => {
      const ready = await (await made).receive(caseId);
      return ready.ok ? ready : fail('not-saved', { detail: ready.failure.sentence });
    },
  });
  if (!opened.ok) {
    const { sentence } = opened.failure;
    endWaiting();
    render(() => <NoJournal sentence={sentence} />, root);
    return;
  }
  const { journal, memory, notes, keyPlace, signer } = opened;
  const clock = deviceClock;
  const ids = randomIds;
  const { locks } = navigator;
  const vault = openVault({
    ...{ notes, deviceKey: keyPlace, now: clock.now, newId: ids.next },
    book: makeBook({ journal, clock, ids, app, locks }),
    steadyMs: browserIdle.steadyMs,
  });
  give(vault);
  const writer = makeWriterLock();
  const device = browserDevice();
  const session = createSession({
    ...{ journal, clock, ids, memory, writer, app, vault },
    idle: browserIdle,
    languages: navigator.languages,
    device,
    rules: readRules,
    signedAs: signer.code,
  });
  const library = createSheetLibrary({
    shipped: sheets,
    shelf: openSheetShelf('lastlook-sheets', indexedDB),
    desk: loadSheetDesk,
    now: deviceClock.now,
    confirm: session.confirm,
  });
  const practice = async () => (await import('virtual:practice')).scripts;
  const { language } = session.store.getSnapshot().context;
  endWaiting();
  await speak(language).catch(() => undefined); // without its phrase book the program speaks English
  render(
    () => <App session={session} library={library} record={readRecordKit} practice={practice} />,
    root,
  );
  session.store.subscribe(({ context }) => {
    if (context.route.screen === 'case') device.hold();
    else device.release();
  });
  // A case that goes on is shown next: what it needs is read beside its record, else after the first screen.
  const goesOn = routeFrom(memory.read(routeKey)).screen === 'case';
  const readRest = () => {
    void preloadScreens();
    void readRules().catch(() => undefined); // what is not there is said when it is needed
  };
  const starting = session.start();
  if (goesOn) readRest();
  const [lost] = await Promise.all([library.start(), starting]);
  if (!goesOn) readRest();
  if (lost !== undefined) {
    const { reports } = session.store.getSnapshot().context;
    const change = { reports: [...reports, { code: 'sheets-lost', sentence: lost }] };
    session.store.trigger.changed({ change });
  }
  const isAtStart = () => session.store.getSnapshot().context.route.screen === 'start';
  if (import.meta.env.PROD) await keepNewest(isAtStart);
}

async function readRecordKit() {
  const [{ makeRecordKit }, css, { owedTable }] = await Promise.all([
    import('#record/makeRecordKit.ts'),
    import('#record/record.css?raw'),
    import('#review/owedTable.ts'),
  ]);
  return { ...makeRecordKit(css.default, chainCode), owedTable };
}

/** A new version is taken into use only at the first screen: no case is open, and nothing is half typed. */
async function keepNewest(isAtStart: () => boolean): Promise<void> {
  const registration = await keepOffline();
  if (!registration || !isAtStart()) return;
  // Somebody may have begun meanwhile: the page is then left as it is until its next start.
  if ((await takeNewestVersion(registration)) && isAtStart()) location.reload();
}

allowOnlyOurMarkup();
ignoreRestingFingers(window);
const root = document.getElementById('root');
if (!root) throw new Error('The page has no element with the id root.');
const endWaiting = showWaiting(document.body);
begin(root, endWaiting).catch((fault: unknown) => {
  console.error(fault);
  endWaiting();
  // Never a white page: somebody stands before it with a patient. What is shown already stays.
  if (root.childElementCount > 0) return;
  render(() => <NoJournal sentence={say`The program could not start in this browser.`} />, root);
});
