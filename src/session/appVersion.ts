/**
 * Registers the worker that serves the program without a network. Nothing happens where the page is not
 * a secure context: the program then needs its server.
 *
 * Fails: answers undefined where the browser has no worker or refuses it; the page goes on without.
 */
export async function keepOffline(): Promise<ServiceWorkerRegistration | undefined> {
  if (!('serviceWorker' in navigator)) return undefined;
  try {
    return await navigator.serviceWorker.register('/sw.js', { updateViaCache: 'none' });
  } catch {
    return undefined;
  }
}

/**
 * Takes the newest version that was fetched into use. Call it only while no case is open: the page
 * must be loaded again afterwards. Answers whether the version changed.
 *
 * Units: waits at most `waitMs` for the worker, else answers false and nothing is lost by it.
 */
export function takeNewestVersion(
  registration: ServiceWorkerRegistration,
  waitMs = 3000,
): Promise<boolean> {
  const worker = registration.waiting ?? registration.active;
  if (!worker) return Promise.resolve(false);

  const { port1, port2 } = new MessageChannel();
  const answer = new Promise<boolean>((resolve) => {
    const late = setTimeout(() => resolve(false), waitMs);
    port1.onmessage = ({ data }: MessageEvent<unknown>) => {
      clearTimeout(late);
      resolve(
        typeof data === 'object' && data !== null && 'changed' in data && data.changed === true,
      );
    };
  });
  worker.postMessage('use-this-version', [port2]);
  return answer;
}
