import { lazy, Show, Suspense } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { Dialog } from '#parts/Dialog.tsx';
import { say } from '#words/say.ts';
import { type ScanStop, useCaseScans } from './caseScans.ts';
import './scans.css';

const CameraDialog = lazy(async () => ({
  default: (await import('./CameraDialog.tsx')).CameraDialog,
}));

/** Lies over every screen of a case, and over every sheet: the stop of a scan, until a tap says that it was seen. */
export function ScanSheets() {
  const scans = useCaseScans();
  const over = () => {
    const said = scans.said();
    return said?.isOver ? said : undefined;
  };
  return (
    <>
      <Show when={scans.stop()} keyed>
        {(stop) => <Stop stop={stop} />}
      </Show>
      <Show when={scans.isCamera()}>
        <Suspense>
          <CameraDialog
            onCode={(text) => scans.closeCamera(text)}
            onClose={() => scans.closeCamera()}
          />
        </Suspense>
      </Show>
      <Show when={over()} keyed>
        {(said) => (
          <Dialog
            title={say`What was scanned`}
            onClose={scans.dismiss}
            closeWords={say`Understood`}
          >
            <p class="scan-said">{said.sentence}</p>
          </Dialog>
        )}
      </Show>
    </>
  );
}

function Stop(props: { readonly stop: ScanStop }) {
  const scans = useCaseScans();
  return (
    <Dialog
      title={props.stop.isSure ? say`Stop: everyone` : say`What was that?`}
      onClose={() => undefined}
      only={
        <Show
          when={props.stop.isSure}
          fallback={
            <>
              <Button kind="plain" onPress={() => scans.settle('other')}>
                {say`Not a wristband`}
              </Button>
              <Button kind="danger" onPress={() => scans.settle('band')}>
                {say`A wristband, of another patient`}
              </Button>
            </>
          }
        >
          <Button kind="danger" size={112} onPress={() => scans.settle('seen')}>
            {say`Everyone has stopped`}
          </Button>
        </Show>
      }
    >
      <p class="scan-stop" role="alert">
        <Show when={props.stop.isSure}>▲ </Show>
        {props.stop.sentence}
      </p>
      <Show when={props.stop.isSure}>
        <p class="quiet">
          {say`The record says that it was scanned, not whose number it was. Scan the right one and this goes;
            nothing was entered for it.`}
        </p>
      </Show>
    </Dialog>
  );
}
