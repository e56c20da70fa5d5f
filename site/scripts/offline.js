// Keeps the desk and the look-up for use without a network, and every page that has been opened. `margent publish` writes
// this file to the top of the site and puts before it what is kept (KEPT) and a digest of it (EDITION).

const CACHE = `margent ${EDITION}`;

/** Ways to pages and small data; dumps are too large to be kept unasked. */
const WORTH_KEEPING = /\/$|\.html$|\.svg$|\/look-up\/[^/]+\.js$/;

addEventListener("install", (event) => event.waitUntil(keepAll().then(() => skipWaiting())));
addEventListener("activate", (event) => event.waitUntil(forgetOthers().then(() => clients.claim())));
addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method === "GET" && new URL(request.url).origin === location.origin) event.respondWith(answer(request));
});

async function keepAll() {
  const cache = await caches.open(CACHE);
  await cache.addAll(KEPT);
}

async function forgetOthers() {
  for (const name of await caches.keys()) if (name.startsWith("margent ") && name !== CACHE) await caches.delete(name);
}

/** What the network has, so that nobody reads an old page while there is a new one; without a network what was kept. */
async function answer(request) {
  const cache = await caches.open(CACHE);
  const address = new URL(request.url);
  address.search = "";
  address.hash = "";
  if (address.pathname.endsWith("/")) address.pathname += "index.html";
  try {
    const fresh = await fetch(request);
    if (fresh.ok && WORTH_KEEPING.test(address.pathname)) await cache.put(address.href, fresh.clone());
    return fresh;
  } catch {
    const kept = await cache.match(address.href);
    return kept ?? new Response("This page has not been kept: open it once while there is a network.\n", { status: 503 });
  }
}
