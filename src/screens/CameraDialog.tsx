import { createSignal, onCleanup, onMount, Show } from 'solid-js';
import { Dialog } from '#parts/Dialog.tsx';
import { type Camera, openCamera } from '#scan/camera.ts';
import { say } from '#words/say.ts';
import './scans.css';

export type CameraDialogProps = {
  readonly onCode: (text: string) => void;
  readonly onClose: () => void;
};

/** Where there is no scanner: the camera looks for a code, and what it reads comes as from a scanner. */
export function CameraDialog(props: CameraDialogProps) {
  const [wrong, setWrong] = createSignal<string>();
  let video: HTMLVideoElement | undefined;
  let camera: Camera | undefined;
  let isGone = false;
  onMount(async () => {
    if (!video) return;
    const opened = await openCamera(video, (text) => props.onCode(text));
    if (!opened.ok) setWrong(opened.sentence);
    else if (isGone) opened.camera.stop();
    else camera = opened.camera;
  });
  onCleanup(() => {
    isGone = true;
    camera?.stop();
  });
  return (
    <Dialog
      title={say`Scan with the camera`}
      sentence={say`Hold the code still, a hand's breadth away. Nothing of the picture is kept.`}
      onClose={props.onClose}
    >
      <Show when={wrong()}>
        {(sentence) => (
          <p class="start-report" role="alert">
            ▲ {sentence()}
          </p>
        )}
      </Show>
      <video
        ref={video}
        class="camera-view"
        muted
        playsinline
        aria-label={say`What the camera sees`}
      />
    </Dialog>
  );
}
