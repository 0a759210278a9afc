// On every page of the class site: keeps what is fetched, where the address allows it (a secure one, or
// this computer's own), and fetches what Python will ask for, one after another, while the page is read.
{
  const here = (name) => new URL(name, document.currentScript.src).href;
  const worker = here('service-worker.js?enableCache=false'), parts = (/* parts */ []).map(here);
  navigator.serviceWorker?.register(worker).catch(() => {});
  // In a frame the page around it does the fetching.
  if (parent === window) (async () => {
    for (const part of parts)
      try { await (await fetch(part, {priority: 'low'})).arrayBuffer(); } catch { return; }
  })();
}
