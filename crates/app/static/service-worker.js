// Keeps the page on the device, so that it opens with no signal. The version and the list are filled in when the
// folder is made; every file of a version is kept before the version can be used.
const VERSION = "VERSION";
const FILES = ["FILES"];

const NAME = "headwright-";
const CACHE = NAME + VERSION;
const LOCK = "headwright-test";
const TAKE_OVER = "no test is open";

self.addEventListener("install", (event) => {
  // A name with a hash means one content; any other is asked for past the browser's own cache, which may be old.
  const isHashed = (file) => /\.[0-9a-f]{16}\./.test(file);
  const requests = FILES.map((file) => new Request(file, { cache: isHashed(file) ? "default" : "no-cache" }));
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(requests)));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(dropOthers().then(() => self.clients.claim()));
});

async function dropOthers() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith(NAME) && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
}

// A window says that it has no test open. Another may have one, and then holds the lock.
self.addEventListener("message", (event) => {
  if (event.data !== TAKE_OVER) return;
  event.waitUntil(
    navigator.locks.request(LOCK, { ifAvailable: true }, (lock) => lock && self.skipWaiting()),
  );
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || new URL(request.url).origin !== location.origin) return;
  event.respondWith(answer(request));
});

async function answer(request) {
  const cache = await caches.open(CACHE);
  // Whatever address opens the page, it is one document.
  const kept = await cache.match(request.mode === "navigate" ? "./" : request);
  return kept ?? fetch(request);
}
