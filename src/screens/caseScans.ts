import { type Accessor, createContext, createEffect, createSignal, on, useContext } from 'solid-js';
import { readScan, type Scan } from '#scan/readScan.ts';
import { isVeiled } from '#session/guard.ts';
import { say } from '#words/say.ts';
import { type Heard, heardIn, otherBand } from './heardIn.ts';
import { useSession } from './useSession.ts';

/** What stops the whole case until somebody has tapped that they have seen it. */
export type ScanStop = {
  readonly sentence: string;
  /** False: a code that may have been on anything; somebody says whether it was a wristband. */
  readonly isSure: boolean;
};

/** What the last scan said, where it stopped nothing. `isOver`: a sheet lies over the screen, and hides the foot. */
export type ScanSaid = { readonly sentence: string; readonly isOver: boolean };

/** The scans of one case: what each is for, whatever screen is shown. */
export type CaseScans = {
  readonly said: Accessor<ScanSaid | undefined>;
  readonly dismiss: () => void;
  readonly stop: Accessor<ScanStop | undefined>;
  /** Somebody has seen the stop. `other`: the code was on no wristband. */
  readonly settle: (as: 'seen' | 'band' | 'other') => void;
  /** The last wristband that was scanned: whether it was this patient's, and when. */
  readonly band: Accessor<{ readonly agrees: boolean; readonly at: string } | undefined>;
  /** Takes scans of its own kind for as long as whoever asks is on the screen; answers whether it took one. */
  readonly take: (taker: (scan: Scan) => boolean) => void;
  readonly tell: (sentence: string) => void;
  /** Whether the camera looks for a code; what it reads comes as from a scanner. */
  readonly isCamera: Accessor<boolean>;
  readonly openCamera: () => void;
  readonly closeCamera: (text?: string) => void;
};

export const CaseScansContext = createContext<CaseScans>();

/** Throws: an error, outside of a case. */
export function useCaseScans(): CaseScans {
  const scans = useContext(CaseScansContext);
  if (!scans) throw new Error('No case around this screen.');
  return scans;
}

/**
 * Listens for the whole case. A wristband agrees, or stops everything, on every screen; what a screen has asked for
 * goes to that screen; anything else is told in a sentence.
 */
export function createCaseScans(): CaseScans {
  const { scans, session, state } = useSession();
  const [said, setSaid] = createSignal<ScanSaid>();
  const [stop, setStop] = createSignal<ScanStop>();
  const [band, setBand] = createSignal<{ readonly agrees: boolean; readonly at: string }>();

  const tell = (sentence: string) =>
    setSaid({ sentence, isOver: document.querySelector('dialog[open]') !== null });

  function stopFor({ sentence, note, isBand }: Extract<Heard, { readonly is: 'stop' }>): void {
    setSaid(undefined);
    setStop({ sentence, isSure: true });
    if (isBand) setBand({ agrees: false, at: session.now() });
    void session.send({ type: 'note', text: note }, state().current?.team.circulator);
  }

  function hear(text: string): boolean {
    const { current } = state();
    if (!current) return false;
    const now = session.now();
    const { people } = state().unit;
    const where = { isHidden: isVeiled(state()), now, people };
    const heard = heardIn(current, readScan(text, now), where);
    if (heard.is === 'stop') stopFor(heard);
    else if (heard.is === 'said') tell(heard.sentence);
    else if (heard.is === 'asked') setStop({ sentence: heard.sentence, isSure: false });
    else {
      setBand({ agrees: true, at: now });
      setStop(undefined);
      tell(say`The wristband is of this patient.`);
    }
    return true;
  }

  // What is said of a scan gives way to the next entry, and to what the rules say of it.
  const changes = [() => state().head, () => state().notice];
  createEffect(on(changes, () => setSaid(undefined), { defer: true }));
  const [isCamera, setCamera] = createSignal(false);
  scans.take(hear);
  return {
    ...{ said, stop, band, tell },
    isCamera,
    openCamera: () => setCamera(true),
    closeCamera: (text) => {
      setCamera(false); // before it is heard: what is said then does not lie under the sheet
      if (text !== undefined) scans.hear(text);
    },
    dismiss: () => setSaid(undefined),
    settle: (as) => {
      setStop(undefined);
      if (as !== 'band') return;
      const sentence = say`Stop. Find out who this is before anything else is done.`;
      stopFor({ is: 'stop', sentence, note: otherBand(), isBand: true });
    },
    take: (taker) =>
      scans.take((text) => stop() === undefined && taker(readScan(text, session.now()))),
  };
}
