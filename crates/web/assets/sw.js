// Keeps the app on the device, so that it opens without a network. Entries are none of its business:
// they lie in the page's own database.
const CACHE = "app-{{version}}";
const FILES = [{{files}}];

self.addEventListener("install", (event) => {
  const keep = async () => {
    const cache = await caches.open(CACHE);
    // what an older version has under the same name is the same file
    await Promise.all(
      FILES.map(async (path) => {
        const held = path.startsWith("/app/") && (await caches.match(path));
        return held ? cache.put(path, held) : cache.add(new Request(path, { cache: "no-cache" }));
      }),
    );
  };
  event.waitUntil(keep());
});

self.addEventListener("activate", (event) => {
  const tidy = async () => {
    const names = await caches.keys();
    await Promise.all(
      names.filter((name) => name.startsWith("app-") && name !== CACHE).map((name) => caches.delete(name)),
    );
    await self.clients.claim();
  };
  event.waitUntil(tidy());
});

// A visit must not be torn by an update: the newer version waits until the keeper starts it or all
// tabs are closed.
self.addEventListener("message", (event) => {
  if (event.data === "start") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return;
  // plain pages of the server, and the exchange, always go to it
  if (["/api/", "/health", "/phone", "/authority.crt"].some((start) => url.pathname.startsWith(start))) return;
  const answer = async () => {
    const cache = await caches.open(CACHE);
    const held = await cache.match(request.mode === "navigate" ? "/" : url.pathname);
    return held ?? fetch(request);
  };
  event.respondWith(answer());
});
