import { Show } from 'solid-js';
import { Button } from '#parts/Button.tsx';
import { say } from '#words/say.ts';
import { useCaseScans } from './caseScans.ts';

/** Beside whatever can be scanned: the camera of the tablet, where the browser gives one to a page. */
export function CameraButton() {
  const scans = useCaseScans();
  return (
    <Show when={'mediaDevices' in navigator}>
      <Button kind="plain" onPress={scans.openCamera}>
        {say`Scan with the camera`}
      </Button>
    </Show>
  );
}
