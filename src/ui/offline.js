// The service worker of the site. VERSION and FILES stand above this line in the built file.
/* global VERSION, FILES */
const STORE = `castclock-${VERSION}`;

addEventListener("install", (event) => {
  event.waitUntil(
    caches
      .open(STORE)
      .then((store) => store.addAll(FILES))
      .then(() => skipWaiting()),
  );
});

addEventListener("activate", (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) =>
        Promise.all(
          names
            .filter((n) => n.startsWith("castclock-") && n !== STORE)
            .map((n) => caches.delete(n)),
        ),
      )
      .then(() => clients.claim()),
  );
});

// The page itself comes from the network while there is one, so that a new version shows at once; all else has
// its content in its name and comes from the store.
addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== location.origin) return;
  if (request.mode === "navigate") {
    event.respondWith(fetch(request).catch(() => caches.match("./")));
    return;
  }
  event.respondWith(
    caches.match(request, { ignoreSearch: true }).then((found) => found ?? fetch(request)),
  );
});
