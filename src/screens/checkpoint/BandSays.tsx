import { Match, Switch } from 'solid-js';
import type { Step } from '#engine/sheet.ts';
import { say } from '#words/say.ts';
import { CameraButton } from '../CameraButton.tsx';
import { useCaseScans } from '../caseScans.ts';
import { useCase } from '../useSession.ts';
import '../scans.css';

/** What a scanned wristband says to the step of the moment. `none`: this step is not about who the patient is. */
export type Band = 'agrees' | 'differs' | 'waits' | 'none';

/** Items of the WHO list (2009) that say who the patient is: 1 at sign in, 9 at time out. */
const identityItems: readonly (number | undefined)[] = [1, 9];

/** The wristband as it was scanned last, since this checkpoint began. An older scan was of another moment. */
export function createBand(of: { readonly checkpoint: string; readonly step: Step }): () => Band {
  const scans = useCaseScans();
  const current = useCase();
  return () => {
    if (!identityItems.includes(of.step.whoItem)) return 'none';
    const band = scans.band();
    const beganAt = current().checkpoints[of.checkpoint]?.beganAt ?? '';
    if (!band || Date.parse(band.at) < Date.parse(beganAt)) return 'waits';
    return band.agrees ? 'agrees' : 'differs';
  };
}

/** Says it beside the answer. Without a scanner the wristband is read aloud, as before. */
export function BandSays(props: { readonly band: Band }) {
  return (
    <Switch>
      <Match when={props.band === 'agrees'}>
        <p class="band-says" data-band="agrees" role="status">
          {say`✓ The wristband that was scanned is of this patient.`}
        </p>
      </Match>
      <Match when={props.band === 'differs'}>
        <p class="band-says" data-band="differs" role="alert">
          {say`▲ The wristband that was scanned is not of this patient. Scan the right one, or answer no.`}
        </p>
      </Match>
      <Match when={props.band === 'waits'}>
        <p class="band-says">{say`Scan the wristband, or read it aloud.`}</p>
        <CameraButton />
      </Match>
    </Switch>
  );
}
