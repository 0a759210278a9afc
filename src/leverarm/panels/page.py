"""What a notebook page needs once: rules for how panels look, and a small script.

The script gives every control a name and keeps single-key shortcuts of the page
away from it, for controls that come later too.  It asks the kernel now and then
whether it is alive, and says so beside the controls when no answer comes.
It loads nothing.
"""

from leverarm.scene import page_style

_RULES = """
.lv-panel{container-type:inline-size;max-width:70rem;padding:2px;position:relative}
.lv-panel,.lv-panel :is(.widget-html-content,label,textarea){font-size:15px;line-height:1.4}
.lv-panel .jupyter-widgets{max-width:100%;min-width:0}
.lv-panel :is(.widget-box,.widget-vbox,.widget-hbox){overflow:visible}
.lv-panel .widget-label{flex:0 1 auto;max-width:100%;height:auto;white-space:normal;line-height:1.2;overflow:visible}
.lv-panel :is(input:not([type=radio],[type=checkbox]),select,textarea){border-color:var(--lv-muted-line)!important}
.lv-panel ::placeholder{color:var(--lv-muted-text);opacity:1}
.lv-row{display:flex;flex-flow:row wrap;gap:2px 20px;align-items:center}
.lv-row>.jupyter-widgets{flex:0 1 auto}
.lv-grid{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,21rem),1fr));gap:0 24px;align-items:start}
.lv-split{display:flex;flex-flow:column}
@container(min-width:52rem){.lv-panel:not(.lv-big) .lv-split{display:grid;
grid-template-columns:minmax(24rem,25.5rem) minmax(0,1fr);gap:0 20px;align-items:start}}
.lv-big .lv-split>:last-child{order:-1}
.lv-big .lv-split{reading-flow:flex-visual}
.lv-number{display:flex;flex-flow:row wrap;align-items:center;margin:0}
.lv-number>.widget-text{flex:0 1 auto;width:auto;height:auto;min-height:32px;flex-wrap:wrap;margin-right:0}
.lv-number .widget-label,.lv-ask .widget-label{min-width:9.6em;width:auto;text-align:left;align-self:center}
.lv-number .widget-text input{width:6.4em;flex:0 0 6.4em;min-height:28px;font-size:inherit}
.lv-number>.widget-hslider{flex:1 1 6rem;width:auto;min-width:5.5rem;height:32px;margin:0 16px}
.lv-number>.lv-error{flex:1 0 100%}
.lv-panel .noUi-handle{width:24px!important;height:24px!important;top:50%!important;margin-top:-13px!important;right:-12px!important;border:2px solid var(--lv-muted-line)!important}
.lv-panel .noUi-target{background:var(--lv-muted-line)!important}
.lv-panel .noUi-handle:focus{border-color:var(--lv-front-line)!important}
.lv-panel :is(button,select){min-height:28px;font-size:inherit}
.lv-panel input:is([type=radio],[type=checkbox]){width:24px;height:24px;min-width:24px;margin:2px 6px 2px 0}
.lv-panel :is(.widget-radio,.widget-checkbox){width:auto;height:auto}
.lv-panel .widget-radio-box{height:auto;width:auto;margin:0}
.lv-panel .widget-radio-box label{height:auto;min-height:28px;width:auto;display:flex;flex-direction:row-reverse;justify-content:flex-end;align-items:center;padding-right:14px;margin:0}
.lv-panel .widget-checkbox label{height:auto;width:auto;max-width:100%;white-space:normal;line-height:1.2;display:flex;align-items:center}
.lv-inline{display:flex;flex-flow:row wrap;align-items:center;column-gap:10px}
.lv-inline>.widget-label{min-width:5.8em;width:auto;align-self:center;height:auto}
.lv-inline .widget-radio-box{display:flex;flex-flow:row wrap;margin-bottom:0!important}
.lv-ask{width:auto;height:auto;flex-wrap:wrap}
.lv-panel .lv-ask select{flex:1 1 15em;max-width:30em}
.lv-force .lv-ask .widget-label{min-width:0;flex-shrink:0;white-space:nowrap}
.lv-panel .lv-force .lv-ask{flex-wrap:nowrap}
.lv-panel .lv-force .lv-ask :is(select,input){flex-basis:7em;min-width:5em}
.lv-ask input{flex:1 1 12em;min-width:7em;min-height:28px;font-size:inherit}
.lv-stack,.lv-stack .widget-radio-box{flex-flow:column;align-items:flex-start}
.lv-panel .lv-stack>.widget-label{align-self:flex-start;text-align:left}
.lv-panel .lv-stack .widget-radio-box label{margin:3px 0;line-height:1.3}
.lv-panel select{min-width:6em;height:auto;min-height:30px;padding-right:24px;background-repeat:no-repeat!important;background-size:6px 6px!important;
background-position:right 13px center,right 7px center!important;background-image:linear-gradient(45deg,transparent 50%,currentColor 50%),
linear-gradient(135deg,currentColor 50%,transparent 50%)!important}
.lv-count{width:auto;height:auto}
.lv-panel .lv-count input{width:4.2em;flex:0 0 4.2em}
.lv-panel .lv-count .widget-label{width:auto;white-space:nowrap}
.lv-lines{margin:4px 0;padding-left:1.6em}
.lv-lines small{font-size:.9em}
.lv-reply{border-left:4px solid var(--lv-front-line);padding-left:10px}
.lv-live{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.lv-panel .widget-textarea{width:calc(100% - 4px);max-width:40rem;height:auto;flex-flow:column;align-items:flex-start}
.lv-panel .widget-textarea textarea{width:100%}
.lv-panel .widget-html{margin:0 2px;height:auto}
.lv-panel .widget-html-content{overflow-wrap:anywhere;align-self:auto;width:100%}
.lv-panel :is(button,input,select,textarea,summary,.lv-wide,.wide,.noUi-handle):focus-visible{outline:3px solid var(--lv-front-line)!important;outline-offset:2px}
.lv-panel .jupyter-button{width:auto;height:auto;min-height:30px;white-space:normal;line-height:1.3;padding:3px 12px;align-self:flex-start}
.lv-panel table.lv-table{border-collapse:collapse;margin:4px 0}
.lv-table :is(td,th){padding:2px 10px 2px 0;text-align:right;border-bottom:1px solid var(--lv-muted-line)}
.lv-table :is(td,th):first-child{text-align:left}
.lv-panel caption{text-align:left}
.lv-wide .lv-table :is(td,th[scope=col]){white-space:nowrap}
.lv-wide{overflow-x:auto}
@container(max-width:26rem){.lv-number>.widget-hslider{flex-basis:100%}.lv-panel .lv-table :is(td,th){padding-right:6px;font-size:13px;overflow-wrap:normal}
.lv-panel .lv-wide .lv-table th[scope=col]{white-space:normal}.lv-panel :is(ul,ol){padding-left:1.5em}}
.lv-error,.lv-error .widget-html-content{color:var(--lv-rear-text);font-weight:600}
.lv-error:not(:has(.widget-html-content:not(:empty))){margin:0}
.lv-panel .lv-say{margin:4px 0}
.lv-panel.lv-big,.lv-panel.lv-big :is(.widget-html-content,label,input,button,select,textarea,span,p,td,th){font-size:27px;line-height:1.3}
.lv-panel .jupyter-widgets-disconnected:is(.widget-container,.widget-html)::before{display:none}
.lv-big :is(input:not([type=radio],[type=checkbox]),select){height:auto!important;min-height:44px}
.jp-NotebookPanel:has(.lv-begin) .jp-OutputArea-output pre{word-break:normal;overflow-wrap:anywhere}
.lv-beat{position:absolute!important;width:1px!important;height:1px!important;min-height:0!important;padding:0!important;opacity:0;overflow:hidden;pointer-events:none}
.lv-banner{position:absolute;left:0;right:0;bottom:0;z-index:50;margin:0;padding:8px 14px;background:#7a1f00;color:#fff;font:600 15px/1.4 sans-serif}
@media(prefers-reduced-motion:reduce){.lv-panel *{transition:none!important;animation:none!important}}
"""

_SCRIPT = r"""
(() => {
  const FOCUS = 'input,textarea,select,button,[tabindex],.noUi-handle';
  const WAIT = 5000, POLL = 20000;
  if (window.leverarmPage) { window.leverarmPage(); return; }

  // Answers that live in this tab alone, by their file: as they are, and as they were saved last.
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
  // The value as read aloud: without the dust of binary fractions, and with its unit.
  const speak = (el) => {
    const box = (el.closest('.lv-number') || el).querySelector('input');
    const unit = box ? box.value.replace(/^[^A-Za-z%²]*/, '') : '';
    const text = (Number(Number(el.getAttribute('aria-valuetext')).toPrecision(6)) + ' ' + unit).trim();
    if (!text.startsWith('NaN') && el.getAttribute('aria-valuetext') !== text) el.setAttribute('aria-valuetext', text);
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
  // A table wider than the page scrolls in its box; keys must reach a box that scrolls, and no other.
  const room = new ResizeObserver((boxes) => {
    for (const target of new Set(boxes.map((each) => each.target.closest('.lv-wide, .wide')))) {
      if (!target) continue;
      const told = target.scrollWidth > target.clientWidth + 1 ? {tabindex: 0, role: 'group', 'aria-label': 'Table, scrolls sideways'} : {};
      for (const key of ['tabindex', 'role', 'aria-label'])
        if (key in told) target.setAttribute(key, told[key]); else target.removeAttribute(key);
    }
  });
  const tend = (root) => {
    const all = root.matches && root.matches('.jupyter-widgets, .jupyter-widgets *') ? [root] : [];
    for (const el of [...all, ...root.querySelectorAll('.jupyter-widgets, .jupyter-widgets *')]) {
      if (el.namespaceURI !== 'http://www.w3.org/1999/xhtml') continue;
      if (el.matches(FOCUS)) el.setAttribute('data-lm-suppress-shortcuts', 'true');
      if (el.matches('.noUi-handle')) handle(el);
      if (el.title === 'null') el.removeAttribute('title');
      if (el.matches('.widget-radio')) group(el);
      if (el.matches('.widget-radio [type=radio]')) join(el);
      if (el.matches('.lv-say') && !el.leverarmSaid) say(el);
      if (el.matches('.lv-turn') && !el.leverarmSaid) turn(el);
      if (el.matches('.lv-answers')) given.set(el.dataset.file, el.dataset.stamp);
      if (el.matches('.lv-error') && !el.hasAttribute('role')) el.setAttribute('role', 'alert');
      if (el.matches('.lv-wide, .wide, .lv-wide > *, .wide > *')) room.observe(el);
      if (el.matches('.lv-beat')) { el.tabIndex = -1; el.setAttribute('aria-hidden', 'true'); }
      // The parts of a panel arrive one by one: the line that says Python is running may be the last.
      if (el.matches('.lv-alive') && el.closest('.lv-begin')) watch(el.closest('.lv-begin'), el);
    }
  };
  // Words that change are read aloud from one quiet element that stays: what is replaced whole is not heard.
  // What a panel says as it appears is there to be read; only what changes after that is told.
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
      const text = live.leverarmNews.filter((each) => each.isConnected).map((each) => each.textContent.trim()).join(' ').trim();
      live.leverarmNews = [];
      if (text && live.textContent !== text) live.textContent = text;
    }, 700);
  };
  // The keyboard goes on at the control whose turn it is; that may come, show itself or be freed a moment later.
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
    note.textContent = 'Python does not answer. It is busy, was restarted, or has stopped: the controls move and ' +
      'nothing follows. If it does not come back, choose Run, then Run All Cells.';
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
      if (line) line.textContent = 'Python: no answer. Choose Run, then Run All Cells.';
    }, WAIT);
    try { beat.click(); } catch (error) { /* no answer will come, and that is what is shown */ }
  };
  let last = 0;
  const touched = (event) => {
    const el = event.target;
    if (!el || !el.closest || !el.closest('.jupyter-widgets') || el.closest('.lv-beat')) return;
    if (Date.now() - last < 3000) return;
    last = Date.now();
    ask(home(el).leverarmRoot);
  };
  // Leaving a box sends its text; done before Enter is told, the text is there when Python hears of the Enter.
  document.addEventListener('keydown', (event) => {
    const box = event.target;
    if (event.key !== 'Enter' || !box.matches || !box.matches('.lv-ask input[type=text]')) return;
    box.blur();
    box.focus();
  }, true);
  for (const kind of ['input', 'keyup', 'click']) document.addEventListener(kind, touched, true);
  setInterval(() => {
    if (document.hidden) return;
    for (const place of [...document.querySelectorAll('.jp-NotebookPanel'), document.body])
      if (place.leverarmRoot && place.offsetParent !== null) ask(place.leverarmRoot);
  }, POLL);
  // Some names and classes reach an element after the element has reached the page: look once more.
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
"""


def page_rules():
    """The style sheet of panels and pictures."""
    return page_style() + _RULES.replace("\n", "")


def page_html():
    """Rules and script as one piece of HTML, for the set-up cell."""
    return f"<style>{page_rules()}</style><script>{_SCRIPT}</script>"
