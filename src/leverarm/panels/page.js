// The page: gives every control a name, keeps single-key shortcuts of the page away from it (also for controls
// that come later), reads changed words aloud, and asks the kernel now and then whether it is alive.
// It loads nothing from anywhere.
(() => {
  const FOCUS = 'input,textarea,select,button,[tabindex],.noUi-handle';
  const WAIT = 5000, POLL = 20000;
  if (window.leverarmPage) { window.leverarmPage(); return; }

  // Answers that are in this tab only, by file name: as they are now, and as they were last saved.
  const given = new Map(), saved = new Map();
  document.addEventListener('click', ({target}) => {
    const link = target.closest && target.closest('.lv-answers a[download]');
    if (link) saved.set(link.download, link.closest('.lv-answers').dataset.stamp);
  }, true);
  window.addEventListener('beforeunload', (event) => {
    if ([...given].some(([file, stamp]) => stamp && saved.get(file) !== stamp)) event.preventDefault();
  });
  const name = (el) => {
    const own = el.closest('.lv-number'), slider = el.closest('.widget-slider');
    const label = own ? own.querySelector('label') : slider && slider.querySelector('label');
    const text = (label ? label.textContent : '').trim() || (slider && slider.title) || 'slider';
    return own ? text + ', slider' : text;
  };
  // The value as read aloud: rounded, so that 0.30000000000000004 is 0.3, and with its unit.
  const speak = (el) => {
    const box = (el.closest('.lv-number') || el).querySelector('input');
    const unit = box ? box.value.replace(/^[^A-Za-z%²]*/, '') : '';
    const text = (Number(Number(el.getAttribute('aria-valuetext')).toPrecision(6)) + ' ' + unit).trim();
    if (text.startsWith('NaN') || el.getAttribute('aria-valuetext') === text) return;
    el.setAttribute('aria-valuetext', text);
  };
  const handle = (el) => {
    el.setAttribute('aria-label', name(el));
    if (el.leverarmSpoken) return;
    el.leverarmSpoken = true;
    new MutationObserver(() => speak(el)).observe(el, {attributeFilter: ['aria-valuetext']});
    setTimeout(() => speak(el), 0);
  };
  // Radio buttons of one set share a name: then the arrow keys move among them, and the tab key stops once.
  let sets = 0;
  const join = (el) => {
    const set = el.closest('.widget-radio');
    set.leverarmSet = set.leverarmSet || 'lv-set' + (++sets);
    if (el.name !== set.leverarmSet) el.name = set.leverarmSet;
  };
  const group = (el) => {
    const label = el.querySelector('.widget-label');
    el.setAttribute('role', 'radiogroup');
    if (label) el.setAttribute('aria-label', label.textContent.trim().replace(/:$/, ''));
  };
  // A table wider than the page scrolls in its box. The keyboard must reach a box that scrolls, and no other.
  const SCROLLS = {tabindex: 0, role: 'group', 'aria-label': 'Table, scrolls sideways'};
  const room = new ResizeObserver((boxes) => {
    for (const target of new Set(boxes.map((each) => each.target.closest('.lv-wide, .wide')))) {
      if (!target) continue;
      const scrolls = target.scrollWidth > target.clientWidth + 1;
      for (const [key, value] of Object.entries(SCROLLS))
        if (scrolls) target.setAttribute(key, value); else target.removeAttribute(key);
    }
  });
  // A stage is ordinary output that its own script moves. What the reader does goes to Python through a hidden box
  // of the same key; every other view of the same stage follows.
  const views = (key) => [...document.querySelectorAll('.st-here')].filter((el) => el.dataset.key === key);
  const stage = (here) => {
    if (here.leverarmStage || !window.leverarmStage) return;
    const {key} = here.dataset, data = JSON.parse(here.dataset.stage);
    let count = 0;
    here.leverarmAct = data.act;
    here.leverarmStage = window.leverarmStage.mount(here, data, (news) => {
      for (const other of views(key))
        if (other !== here && other.leverarmAct === data.act) other.leverarmStage?.set(news.state);
      const box = document.querySelector(`.st-told-${key} input`);
      if (!box) return false;
      box.value = JSON.stringify({...news, count: ++count});
      box.dispatchEvent(new Event('input', {bubbles: true}));
      return true;
    });
    here.tabIndex = -1;
    here.leverarmStage.begin();
  };
  const heard = (el) => {
    const {key, state, texts, seconds} = el.dataset;
    for (const here of views(key)) {
      if (Number(seconds)) here.leverarmStage?.glide(JSON.parse(state), Number(seconds));
      else here.leverarmStage?.set(JSON.parse(state), JSON.parse(texts || '{}'));
    }
  };
  // On the class site Python keeps no files: there the browser keeps the choice of units, by its words, or the page
  // says that it cannot.
  const UNITS = 'leverarm-units';
  const units = (set) => {
    const radios = [...set.querySelectorAll('[type=radio]')];
    if (set.leverarmUnits || radios.length < 2) return;
    set.leverarmUnits = true;
    const words = (radio) => radio.closest('label').textContent.trim();
    const store = (use) => {
      try { return use(window.localStorage); } catch (error) { set.closest('.lv-by-page').classList.add('lv-unkept'); }
    };
    set.addEventListener('change', (event) => store((kept) => kept.setItem(UNITS, words(event.target))));
    const before = store((kept) => kept.getItem(UNITS));
    const chosen = radios.find((radio) => words(radio) === before);
    if (chosen && !chosen.checked) chosen.click();
  };
  const tend = (root) => {
    for (const el of [...(root.matches && root.matches('.st-here') ? [root] : []),
      ...root.querySelectorAll('.st-here')]) stage(el);
    for (const el of [...(root.matches && root.matches('.st-news') ? [root] : []),
      ...root.querySelectorAll('.st-news')]) heard(el);
    const all = root.matches && root.matches('.jupyter-widgets, .jupyter-widgets *') ? [root] : [];
    for (const el of [...all, ...root.querySelectorAll('.jupyter-widgets, .jupyter-widgets *')]) {
      if (el.namespaceURI !== 'http://www.w3.org/1999/xhtml') continue;
      // A press beside a control stays in the panel: on the cell, a letter typed next would be a command.
      if (el.matches('.lv-panel')) el.tabIndex = -1;
      else if (el.matches(FOCUS)) el.setAttribute('data-lm-suppress-shortcuts', 'true');
      if (el.matches('.noUi-handle')) handle(el);
      if (el.title === 'null') el.removeAttribute('title');
      if (el.matches('.widget-radio')) group(el);
      if (el.matches('.widget-radio [type=radio]')) join(el);
      if (el.matches('.lv-by-page [type=radio]')) units(el.closest('.widget-radio'));
      if (el.matches('.lv-say') && !el.leverarmSaid) say(el);
      if (el.matches('.lv-turn') && !el.leverarmSaid) turn(el);
      if (el.matches('.lv-answers')) given.set(el.dataset.file, el.dataset.stamp);
      if (el.matches('.lv-error') && !el.hasAttribute('role')) el.setAttribute('role', 'alert');
      if (el.matches('.lv-wide, .wide, .lv-wide > *, .wide > *')) room.observe(el);
      if (el.matches('.lv-beat')) { el.tabIndex = -1; el.setAttribute('aria-hidden', 'true'); }
      // The parts of a panel arrive one by one: the line that says Python is running may be the last.
      if (el.matches('.lv-alive') && el.closest('.lv-begin')) {
        watch(el.closest('.lv-begin'), el);
        stayAtTop(el);
      }
    }
  };
  // A screen reader misses an element that is replaced whole, so changed words are copied into one that stays.
  // What a panel says as it appears is not announced; only later changes are.
  const say = (el) => {
    const panel = el.closest('.lv-panel');
    if (!panel) return;
    el.leverarmSaid = true;
    let live = panel.leverarmLive;
    if (!live || !live.isConnected) {
      live = panel.leverarmLive = document.createElement('div');
      live.className = 'lv-live';
      live.setAttribute('role', 'status');
      live.leverarmSince = Date.now();
      live.leverarmNews = [];
      panel.append(live);
    }
    if (Date.now() - live.leverarmSince < 1000) return;
    live.leverarmNews.push(el);
    clearTimeout(live.leverarmSoon);
    live.leverarmSoon = setTimeout(() => {
      const news = live.leverarmNews.filter((each) => each.isConnected);
      const text = news.map((each) => each.textContent.trim()).join(' ').trim();
      live.leverarmNews = [];
      if (text && live.textContent !== text) live.textContent = text;
      // Once it is read it goes, so that nobody finds old words there.
      clearTimeout(live.leverarmDone);
      live.leverarmDone = setTimeout(() => { live.textContent = ''; }, 10000);
    }, 700);
  };
  // The keyboard moves on to the control whose turn it is, which may appear or be enabled a moment later.
  const turn = (mark) => {
    mark.leverarmSaid = true;
    const panel = mark.closest('.lv-panel'), end = Date.now() + WAIT;
    const look = () => {
      if (!panel || !mark.isConnected || Date.now() > end) return;
      const place = panel.querySelector('.' + mark.dataset.to);
      const el = place && [place, ...place.querySelectorAll('input,select,textarea,button')].find(
        (each) => each.matches('input,select,textarea,button') && !each.disabled && each.offsetParent);
      if (el) el.focus(); else setTimeout(look, 40);
    };
    look();
  };
  const home = (el) => el.closest('.jp-NotebookPanel') || document.body;
  const banner = (root, show) => {
    let note = root.leverarmNote;
    if (!show) { if (note) note.remove(); root.leverarmNote = null; return; }
    if (note) return;
    note = document.createElement('p');
    note.className = 'lv-banner';
    note.setAttribute('role', 'alert');
    note.textContent = 'Python does not answer. It is busy, was restarted, or has stopped. The controls move, ' +
      'but nothing follows them. If it does not come back, ' +
      'press the start button at the top of the page, or choose Run, then Run All Cells.';
    home(root).append(note);
    root.leverarmNote = note;
  };
  const watch = (root, alive) => {
    if (root.leverarmWatch === alive) return;
    root.leverarmWatch = alive;
    const old = home(root).leverarmRoot;
    if (old) banner(old, false);
    home(root).leverarmRoot = root;
    new MutationObserver(() => {
      if (!alive.querySelector('[data-answer]')) return;
      clearTimeout(root.leverarmWaiting);
      root.leverarmWaiting = 0;
      banner(root, false);
    }).observe(alive, {childList: true, subtree: true, characterData: true});
  };
  const ask = (root) => {
    const beat = root && root.querySelector('.lv-beat');
    if (!beat || root.leverarmWaiting || root.leverarmNote && Date.now() - root.leverarmAsked < WAIT) return;
    root.leverarmAsked = Date.now();
    root.leverarmWaiting = setTimeout(() => {
      root.leverarmWaiting = 0;
      banner(root, true);
      const line = root.querySelector('.lv-alive .widget-html-content');
      if (line) line.textContent = 'Python: no answer. Press the start button above, or choose Run, then Run All Cells.';
    }, WAIT);
    try { beat.click(); } catch (error) { /* no answer will come, and that is what is shown */ }
  };
  // Running all cells ends at the bottom of the page. A reader starts at the top, so the page is kept there until the
  // cells are done or the reader moves it.
  const KEEP_TOP = 60000, LOOK_EVERY = 200, STILL_FOR = 3000;
  const topOf = (notebook) => notebook.querySelector('.jp-WindowedPanel-outer');
  const stayAtTop = (root) => {
    const notebook = root.closest('.jp-NotebookPanel'), scroller = notebook && topOf(notebook);
    if (!scroller || notebook.leverarmTop) return;
    notebook.leverarmTop = true;
    let idle = 0;
    const end = Date.now() + KEEP_TOP, watch = new AbortController(), {signal} = watch;
    const stop = () => { watch.abort(); };
    for (const kind of ['wheel', 'pointerdown', 'keydown', 'touchstart'])
      notebook.addEventListener(kind, stop, {signal, passive: true});
    scroller.addEventListener('scroll', () => { if (scroller.scrollTop) scroller.scrollTop = 0; }, {signal});
    scroller.scrollTop = 0;
    const look = () => {
      if (signal.aborted) return;
      // The last cell that ran would have the keyboard: the next Tab goes on from the top instead.
      const at = document.activeElement;
      if (at.matches('.jp-Cell') && notebook.contains(at) && !at.contains(root))
        root.closest('.lv-begin')?.focus({preventScroll: true});
      const sign = notebook.querySelector('.jp-Notebook-ExecutionIndicator');
      if (sign?.dataset.status === 'busy') idle = 0; else idle += LOOK_EVERY;
      if (Date.now() > end || idle > STILL_FOR) stop(); else setTimeout(look, LOOK_EVERY);
    };
    look();
  };
  // Pressed again, after Python was restarted or in a second window, it stays at the top once more.
  document.addEventListener('click', ({target}) => {
    const start = target.closest?.('button[data-commandlinker-command="notebook:run-all-cells"]');
    const notebook = start?.closest('.jp-NotebookPanel');
    if (notebook) notebook.leverarmTop = false;
  }, true);
  let last = 0;
  const touched = (event) => {
    const el = event.target;
    if (!el || !el.closest || !el.closest('.jupyter-widgets') || el.closest('.lv-beat')) return;
    if (Date.now() - last < 3000) return;
    last = Date.now();
    ask(home(el).leverarmRoot);
  };
  // Leaving a box sends its text.  Doing so before Enter is told makes sure that Python has the text first.
  document.addEventListener('keydown', (event) => {
    const box = event.target;
    if (event.key !== 'Enter' || !box.matches || !box.matches('.lv-ask input[type=text]')) return;
    box.blur();
    box.focus();
  }, true);
  // A class is led with a presenter's remote, which sends Page Down and Page Up.
  const TURNS = {PageDown: '.lv-forward', PageUp: '.lv-backward'};
  document.addEventListener('keydown', (event) => {
    const {key, target} = event;
    if (!TURNS[key] || event.repeat || event.ctrlKey || event.altKey || target.closest?.('.jp-Editor')) return;
    const turns = [...document.querySelectorAll(`.lv-class ${TURNS[key]}`)].find((el) => el.offsetParent);
    if (!turns) return;
    event.preventDefault();
    event.stopPropagation();
    // Leaving a box sends its text, so Python has it before the press.
    if (target.matches?.('input')) target.blur();
    if (!turns.disabled) turns.click();
  }, true);
  document.addEventListener('click', ({target}) => {
    const view = target.closest?.('.lv-fill')?.closest('.lv-class');
    if (view) (document.fullscreenElement ? document.exitFullscreen() : view.requestFullscreen()).catch(() => {});
  });
  for (const kind of ['input', 'keyup', 'click']) document.addEventListener(kind, touched, true);
  setInterval(() => {
    if (document.hidden) return;
    for (const place of [...document.querySelectorAll('.jp-NotebookPanel'), document.body])
      if (place.leverarmRoot && place.offsetParent !== null) ask(place.leverarmRoot);
  }, POLL);
  // Some names and classes are set after their element is on the page, so look once more.
  let again = 0;
  const later = () => { clearTimeout(again); again = setTimeout(() => tend(document.body), 400); };
  new MutationObserver((changes) => {
    for (const change of changes) for (const node of change.addedNodes)
      if (node.nodeType === 1 && node.namespaceURI === 'http://www.w3.org/1999/xhtml') {
        tend(node);
        if (node.matches('.jupyter-widgets') || node.querySelector('.jupyter-widgets')) later();
      }
  }).observe(document.body, {childList: true, subtree: true});
  window.leverarmPage = () => tend(document.body);
  window.leverarmPage();
})();
