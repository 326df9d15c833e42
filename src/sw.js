/*
 * Service worker: the program without a network. It serves the files of one build from a cache and
 * nothing else. The build fills in VERSION and FILES (vite.config.ts).
 *
 * A new version is fetched and kept beside the one in use, and waits. It is used only when the page
 * asks for it, which the page does while no case is open (src/session/appVersion.ts). Which version is
 * in use is written down in a cache of its own: a browser that was killed in the middle of a case
 * may start the new worker, but the case goes on with the files it was started with. The worker takes
 * over, and the files of the other versions go, once a page has started with its version.
 */
const VERSION = '__VERSION__';
const FILES = JSON.parse('__FILES__');
const PREFIX = 'lastlook-files-';
const OWN = PREFIX + VERSION;
const NOTES = 'lastlook-notes';
const IN_USE = '/version-in-use';

async function readInUse() {
  const note = await (await caches.open(NOTES)).match(IN_USE);
  const name = note ? await note.text() : OWN;
  return (await caches.has(name)) ? name : OWN;
}

/** Answers whether that changed anything. The files that were in use stay: a page may still need them. */
async function useOwn() {
  const before = await readInUse();
  await (await caches.open(NOTES)).put(IN_USE, new Response(OWN));
  return before !== OWN;
}

/** Removes the files of other versions, unless another window may still be running on them. */
async function removeOthers() {
  const windows = await self.clients.matchAll({ type: 'window', includeUncontrolled: true });
  if (windows.length > 1) return;
  for (const name of await caches.keys())
    if (name.startsWith(PREFIX) && name !== OWN) await caches.delete(name);
}

/** A page that was started with another version still finds its own parts: their names carry their hash. */
async function answer(request, url) {
  const isPage = request.mode === 'navigate';
  if (isPage && url.search === '?newest') await useOwn();
  const key = isPage ? '/index.html' : url.pathname;
  const files = await caches.open(await readInUse());
  return (await files.match(key)) ?? (await caches.match(key)) ?? fetch(request);
}

self.addEventListener('install', (event) => {
  const fresh = FILES.map((url) => new Request(url, { cache: 'reload' }));
  event.waitUntil(caches.open(OWN).then((files) => files.addAll(fresh)));
});

self.addEventListener('activate', (event) => {
  const begin = async () => {
    const notes = await caches.open(NOTES);
    if (!(await notes.match(IN_USE))) await useOwn();
    await self.clients.claim();
  };
  event.waitUntil(begin());
});

self.addEventListener('message', (event) => {
  if (event.data !== 'use-this-version') return;
  const change = async () => {
    const changed = await useOwn();
    event.ports[0]?.postMessage({ changed });
    // The page loads itself again now. Taking over at the same time would hold it back for seconds.
    if (changed) return;
    await removeOthers();
    await self.skipWaiting();
  };
  event.waitUntil(change());
});

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || url.origin !== self.location.origin) return;
  event.respondWith(answer(event.request, url));
});
