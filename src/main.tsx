import { sheets } from 'virtual:sheets';
import { render } from 'solid-js/web';
import { chainCode } from '#journal/chainCode.ts';
import { openTabletJournal } from '#journal/openTabletJournal.ts';
import { makeWriterLock } from '#journal/writerLock.ts';
import { makeRecordKit } from '#record/makeRecordKit.ts';
import recordCss from '#record/record.css?raw';
import { App } from '#screens/App.tsx';
import { NoJournal } from '#screens/NoJournal.tsx';
import { keepOffline, takeNewestVersion } from '#session/appVersion.ts';
import { deviceClock, randomIds } from '#session/browserPorts.ts';
import { createSession } from '#session/createSession.ts';
import { keepAwake } from '#session/keepAwake.ts';
import '#styles/base.css';
import '#styles/tokens.css';
import '#styles/print.css';
import '#styles/screens.css';
import '#record/record.css';

/** Version that stands on every row of the record. */
const app = '0.1.0';

async function begin(root: HTMLElement): Promise<void> {
  const opened = await openTabletJournal();
  if (!opened.ok) {
    const { sentence } = opened.failure;
    render(() => <NoJournal sentence={sentence} />, root);
    return;
  }
  const session = createSession({
    journal: opened.journal,
    clock: deviceClock,
    ids: randomIds,
    memory: opened.memory,
    writer: makeWriterLock(),
    app,
  });
  const record = makeRecordKit(recordCss, chainCode);
  render(() => <App session={session} sheets={sheets} record={record} />, root);
  const awake = keepAwake(() => undefined);
  session.store.subscribe(({ context }) => {
    if (context.route.screen === 'case') awake.hold();
    else awake.release();
  });
  await session.start();
  const isAtStart = () => session.store.getSnapshot().context.route.screen === 'start';
  if (import.meta.env.PROD) await keepNewest(isAtStart);
}

/** A new version is taken into use only at the first screen: no case is open, and nothing is half typed. */
async function keepNewest(isAtStart: () => boolean): Promise<void> {
  const registration = await keepOffline();
  if (!registration || !isAtStart()) return;
  // Somebody may have begun meanwhile: the page is then left as it is until its next start.
  if ((await takeNewestVersion(registration)) && isAtStart()) location.reload();
}

const root = document.getElementById('root');
if (!root) throw new Error('The page has no element with the id root.');
void begin(root);
