// On a lesson's page of the class site: says in words what is running, runs the lesson by itself when
// Python is there, and stays at its top.
(() => {
  const USUAL_S = 20, ASK_MS = 250, KEPT = 'leverarm: seconds to start';
  const kept = {
    read: () => { try { return Number(localStorage.getItem(KEPT)); } catch { return 0; } },
    write: (seconds) => { try { localStorage.setItem(KEPT, seconds); } catch { /* nothing is kept here */ } },
  };
  const usual = kept.read() || USUAL_S, passed = () => performance.now() / 1000;

  const line = document.createElement('p');
  line.setAttribute('role', 'status');
  Object.assign(line.style, {
    background: 'Canvas', border: '1px solid', bottom: '0', color: 'CanvasText', font: '16px/1.4 system-ui',
    left: '0', margin: '0', padding: '8px 12px', pointerEvents: 'none', position: 'fixed', zIndex: '2000',
  });
  const say = (words, ready = false) => {
    if (line.textContent !== words) line.textContent = words;
    if (parent !== window) parent.postMessage({leverarm: {words, ready}}, location.origin);
  };
  const more = () => {
    const left = usual - passed();
    if (left > 5) return `about ${Math.ceil(left / 5) * 5} seconds more`;
    return passed() < 2 * usual ? 'a few seconds more' : 'longer than usual: on a small computer close other tabs';
  };

  const sheet = () => window.jupyterapp?.shell?.currentWidget;
  const kernel = () => sheet()?.sessionContext?.session?.kernel;
  const pause = () => new Promise((done) => setTimeout(done, ASK_MS));
  const code = () => sheet().content.widgets.filter((cell) => cell.model.type === 'code');
  const toTop = () => {
    sheet().content.activeCellIndex = 0;
    for (const el of document.querySelectorAll('.jp-WindowedPanel-outer')) el.scrollTop = 0;
  };

  // What was moved in the first picture goes on in the lesson's own: the same act, in the same units, where
  // nobody has moved that yet.
  let moved = null;
  const same = (one, other) => JSON.stringify(one) === JSON.stringify(other);
  const carry = () => {
    for (const here of document.querySelectorAll('.st-here')) {
      const stage = here.leverarmStage, {start, ranges} = JSON.parse(here.dataset.stage);
      if (!stage || !moved || !same(ranges, moved.ranges)) continue;
      if (same(stage.state, start)) stage.again(moved.state);
      moved = null;
    }
  };
  addEventListener('message', ({origin, source, data}) => {
    if (origin !== location.origin || source !== parent || !data?.leverarmMoved) return;
    moved = data.leverarmMoved;
    carry();
  });

  async function start() {
    document.body.append(line);
    while (!sheet()?.content?.widgets?.length) { say(`The lesson is being fetched, ${more()}.`); await pause(); }
    while (!kernel() || kernel().status === 'unknown') { say(`Python is starting, ${more()}.`); await pause(); }
    let over = false;
    window.jupyterapp.commands.execute('notebook:run-all-cells').catch(() => {}).then(() => { over = true; });
    toTop();
    while (!over) {
      const all = code(), at = all.filter((cell) => cell.model.executionCount > 0).length;
      say(at ? `The lesson is being made ready: ${at} of ${all.length} parts.` : `Python is starting, ${more()}.`);
      await pause();
      if (kernel()?.status === 'dead') break;
    }
    toTop();
    if (kernel()?.status === 'dead') {
      say('Python did not start in this browser: reload the page, and on a small computer close other tabs first.', true);
      return;
    }
    kept.write(Math.round(passed()));
    document.body.dataset.lesson = 'ready';
    say('The lesson is ready.', true);
    setTimeout(() => line.remove(), 3000);
  }
  start();
})();
