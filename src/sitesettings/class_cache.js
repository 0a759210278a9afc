// Keeps what a lesson has fetched, so that it opens again without a network. Stands before the site
// tools' own service worker, which goes on to answer what Python asks of the page.
// A file named after what it holds is kept for good, until the site lists it no longer. Anything else
// is asked for again at every visit, so a correction is seen, and comes from here where nobody answers.
{
  const STORE = 'class site', KEPT_FOR_GOOD = new Set(/* kept */ []);
  const inside = ({pathname}) => pathname.slice(new URL(registration.scope).pathname.length);

  async function answer(request) {
    const store = await caches.open(STORE), kept = await store.match(request.url, {ignoreVary: true});
    const forGood = KEPT_FOR_GOOD.has(inside(new URL(request.url)));
    if (kept && forGood) return kept;
    try {
      const fresh = await fetch(request.url, forGood ? {} : {cache: 'no-cache'});
      if (fresh.ok) await store.put(request.url, fresh.clone());
      return fresh;
    } catch (nobody) {
      if (kept) return kept;
      throw nobody;
    }
  }

  addEventListener('fetch', (event) => {
    const {request} = event, url = new URL(request.url);
    const toPython = /\/api\/(drive|stdin|service-worker)/.test(url.pathname);
    if (request.method !== 'GET' || url.origin !== location.origin || toPython) return;
    event.stopImmediatePropagation();
    event.respondWith(answer(request));
  });

  addEventListener('activate', (event) => event.waitUntil((async () => {
    const store = await caches.open(STORE);
    for (const request of await store.keys()) {
      const name = inside(new URL(request.url));
      if (/\/(build|static|extensions)\//.test(`/${name}`) && !KEPT_FOR_GOOD.has(name)) await store.delete(request);
    }
  })()));
}
