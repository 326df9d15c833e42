import { say } from '#words/say.ts';

/** A camera that looks for codes, until it is told to stop. */
export type Camera = { readonly stop: () => void };

export type CameraOpened =
  | { readonly ok: true; readonly camera: Camera }
  | { readonly ok: false; readonly sentence: string };

/** What a browser that reads codes itself has; Chromium on Android and macOS, not on Linux (156). */
type Detector = {
  readonly detect: (source: CanvasImageSource) => Promise<readonly { readonly rawValue: string }[]>;
};
type DetectorKind = new (options: { readonly formats: readonly string[] }) => Detector;

type Look = (video: HTMLVideoElement) => Promise<string | undefined>;

/** Units: milliseconds between two looks, dots of the longer side that is looked at. */
const lookEveryMs = 150;
const sideMax = 960;

/**
 * Opens the camera on the back, shows what it sees, and calls once with the first code that it reads.
 *
 * Nothing of the picture is kept. Fails with a sentence where there is no camera, or it may not be used.
 */
export async function openCamera(
  video: HTMLVideoElement,
  onCode: (text: string) => void,
): Promise<CameraOpened> {
  let stream: MediaStream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({
      video: { facingMode: 'environment', width: { ideal: 1280 } },
    });
  } catch (fault) {
    return { ok: false, sentence: sentenceOf(fault) };
  }
  let timer: ReturnType<typeof setTimeout> | undefined;
  let isStopped = false;
  const stop = () => {
    isStopped = true;
    clearTimeout(timer);
    for (const track of stream.getTracks()) track.stop();
    video.srcObject = null;
  };
  try {
    video.srcObject = stream;
    await video.play();
    const look = await makeLook();
    const again = async () => {
      const text = isStopped ? undefined : await look(video).catch(() => undefined); // not this time
      if (isStopped) return;
      if (text === undefined || text === '') timer = setTimeout(() => void again(), lookEveryMs);
      else {
        stop();
        onCode(text);
      }
    };
    void again();
  } catch {
    stop();
    return { ok: false, sentence: say`The camera could not be started. Type what the code says.` };
  }
  return { ok: true, camera: { stop } };
}

function sentenceOf(fault: unknown): string {
  const name = fault instanceof DOMException ? fault.name : '';
  if (name === 'NotAllowedError')
    return say`This tablet does not let the program use its camera. Its settings say who may.`;
  return name === 'NotFoundError'
    ? say`This tablet has no camera.`
    : say`The camera could not be started. Type what the code says.`;
}

const formats = ['code_128', 'data_matrix', 'qr_code'];

/** The browser's own reader where there is one, else ours, which is fetched then. */
async function makeLook(): Promise<Look> {
  const { BarcodeDetector } = globalThis as { readonly BarcodeDetector?: DetectorKind }; // no types yet
  if (BarcodeDetector) {
    const detector = new BarcodeDetector({ formats });
    return async (video) => (await detector.detect(video))[0]?.rawValue;
  }
  const { readFrame } = await import('./readFrame.ts');
  const canvas = document.createElement('canvas');
  const pen = canvas.getContext('2d', { willReadFrequently: true });
  return async (video) => {
    const { videoWidth, videoHeight } = video;
    if (!pen || videoWidth === 0) return undefined;
    const scale = Math.min(1, sideMax / Math.max(videoWidth, videoHeight));
    const [width, height] = [Math.round(videoWidth * scale), Math.round(videoHeight * scale)];
    canvas.width = width;
    canvas.height = height;
    pen.drawImage(video, 0, 0, width, height);
    return readFrame(pen.getImageData(0, 0, width, height));
  };
}
