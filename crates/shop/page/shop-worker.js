// Keeps the maker's page on this machine once it was served, so that it opens with no network. It answers for the page's own files alone
// and leaves everything else to the browser. {version} changes with the page: a new one is fetched whole, and used from its next start on.
const kept = "scantling-shop-{version}";
const files = ["shop.html", "shop.webmanifest"].map((file) => new URL(file, self.location).href);

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(kept).then((cache) => cache.addAll(files.map((file) => new Request(file, { cache: "reload" })))));
});

self.addEventListener("activate", (event) => {
  const older = (names) => names.filter((name) => name.startsWith("scantling-shop-") && name !== kept);
  event.waitUntil(caches.keys().then((names) => Promise.all(older(names).map((name) => caches.delete(name)))));
});

self.addEventListener("fetch", (event) => {
  const address = event.request.url.split("#")[0];
  if (event.request.method === "GET" && files.includes(address)) {
    event.respondWith(caches.open(kept).then(async (cache) => (await cache.match(address)) ?? fetch(event.request)));
  }
});
