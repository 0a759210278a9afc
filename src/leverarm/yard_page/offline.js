// Keeps the served page at hand where there is no network. A new edition takes the place of the old one.
const KEPT = 'yard-page-/*edition*/';
self.addEventListener('install', (event) => {
  event.waitUntil(caches.open(KEPT).then((cache) => cache.addAll(['./', 'index.html'])).then(() => self.skipWaiting()));
});
self.addEventListener('activate', (event) => {
  event.waitUntil(caches.keys().then((names) => Promise.all(
    names.filter((name) => name.startsWith('yard-page-') && name !== KEPT).map((name) => caches.delete(name)),
  )).then(() => self.clients.claim()));
});
self.addEventListener('fetch', (event) => {
  if (event.request.method !== 'GET') return;
  event.respondWith(fetch(event.request).then((answer) => {
    if (answer.ok) { const copy = answer.clone(); caches.open(KEPT).then((cache) => cache.put(event.request, copy)); }
    return answer;
  }).catch(() => caches.match(event.request, {ignoreSearch: true}).then((kept) => kept || caches.match('index.html'))));
});
