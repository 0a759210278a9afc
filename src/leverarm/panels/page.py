"""What a notebook page needs once: rules for how panels look, and a small script.

The script gives every control a name and keeps single-key shortcuts of the page
away from it, for controls that come later too.  It asks the kernel now and then
whether it is alive, and says so beside the controls when no answer comes.
It loads nothing.
"""

from leverarm.scene import page_style

_RULES = """
.lv-panel{container-type:inline-size;max-width:66rem;padding:2px}
.lv-panel,.lv-panel .widget-html-content,.lv-panel label{font-size:15px;line-height:1.45}
.lv-panel.lv-big,.lv-panel.lv-big :is(.widget-html-content,label,input,button,select,textarea,span){font-size:26px;line-height:1.35}
.lv-panel.lv-big :is(input,button,select){height:44px}
.lv-row{display:flex;flex-flow:row wrap;gap:2px 24px;align-items:center}
.lv-row>.jupyter-widgets{flex:0 1 auto;max-width:100%}
.lv-number{display:flex;flex-flow:row wrap;align-items:center;flex:1 1 26rem!important;max-width:34rem;min-width:0;overflow:hidden}
.lv-number>.widget-text{flex:0 1 auto;width:auto;max-width:100%;height:auto;min-height:32px}
.lv-number .widget-label{min-width:10.5em;width:auto;text-align:left;white-space:normal;line-height:1.2;height:auto}
.lv-number .widget-text input{width:7em;flex:0 0 7em;min-height:28px}
.lv-number>.widget-hslider{flex:1 1 9rem;width:auto;min-width:8rem;height:32px;margin:0 14px}
.lv-number>.lv-error{flex:1 0 100%}
.lv-panel .noUi-handle{width:24px!important;height:24px!important;top:50%!important;margin-top:-12px!important;right:-12px!important}
.lv-panel :is(button,select){min-height:28px}
.lv-panel input:is([type=radio],[type=checkbox]){width:24px;height:24px;min-width:24px;margin:2px 6px 2px 0}
.lv-panel .widget-radio-box label{height:auto;min-height:28px;width:auto;display:flex;align-items:center;padding-right:14px}
.lv-panel .widget-radio,.lv-panel .widget-checkbox{width:auto;height:auto;max-width:100%}
.lv-inline .widget-radio-box{display:flex;flex-flow:row wrap}
.lv-inline,.lv-inline .widget-radio-box{height:auto;align-items:center;margin:0}
.lv-live{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.lv-panel .widget-textarea{width:100%;max-width:40rem;height:auto;flex-flow:column;align-items:stretch}
.lv-panel .widget-html{max-width:100%;margin:0 2px}
.lv-panel .widget-html-content{overflow-wrap:anywhere;align-self:auto}
.lv-panel :is(button,input,select,textarea,.noUi-handle):focus-visible{outline:3px solid var(--jp-brand-color1,#0072b2)!important;outline-offset:1px}
.lv-panel button{width:auto;max-width:100%;height:auto;min-height:30px;white-space:normal;line-height:1.3;padding:3px 12px}
.lv-panel table.lv-table{border-collapse:collapse;margin:4px 0}
.lv-table :is(td,th){padding:2px 10px;text-align:right;border-bottom:1px solid var(--jp-border-color2,#bbb)}
.lv-table :is(td,th):first-child{text-align:left}
.lv-error,.lv-error .widget-html-content{color:var(--lv-rear-text);font-weight:600}
.lv-say .widget-html-content{font-size:1.08em}
.lv-beat{position:absolute!important;width:1px!important;height:1px!important;min-height:0!important;opacity:0;overflow:hidden;pointer-events:none}
.lv-banner{position:absolute;left:0;right:0;bottom:0;z-index:50;margin:0;padding:8px 14px;background:#7a1f00;color:#fff;font:600 15px/1.4 sans-serif}
@media(prefers-reduced-motion:reduce){.lv-panel *{transition:none!important;animation:none!important}}
"""

_SCRIPT = r"""
(() => {
  const FOCUS = 'input,textarea,select,button,[tabindex],.noUi-handle';
  const WAIT = 5000, POLL = 20000;
  if (window.leverarmPage) { window.leverarmPage(); return; }

  const name = (handle) => {
    const own = handle.closest('.lv-number'), slider = handle.closest('.widget-slider');
    const label = own ? own.querySelector('label') : slider && slider.querySelector('label');
    const text = (label ? label.textContent : '').trim() || (slider && slider.title) || 'slider';
    return own ? text + ', slider' : text;
  };
  const tend = (root) => {
    const all = root.matches && root.matches('.jupyter-widgets, .jupyter-widgets *') ? [root] : [];
    for (const el of [...all, ...root.querySelectorAll('.jupyter-widgets, .jupyter-widgets *')]) {
      if (el.namespaceURI !== 'http://www.w3.org/1999/xhtml') continue;
      if (el.matches(FOCUS)) el.setAttribute('data-lm-suppress-shortcuts', 'true');
      if (el.matches('.noUi-handle')) el.setAttribute('aria-label', name(el));
      if (el.title === 'null') el.removeAttribute('title');
      if (el.matches('.lv-say')) say(el);
      if (el.matches('.lv-error') && !el.hasAttribute('role')) el.setAttribute('role', 'alert');
      if (el.matches('.lv-beat')) { el.tabIndex = -1; el.setAttribute('aria-hidden', 'true'); }
      if (el.matches('.lv-begin') && !el.leverarmWatch) watch(el);
    }
  };
  // Words that change are read aloud from one quiet element that stays: what is replaced whole is not heard.
  const say = (el) => {
    const panel = el.closest('.lv-panel');
    if (!panel) return;
    let live = panel.leverarmLive;
    if (!live || !live.isConnected) {
      live = panel.leverarmLive = document.createElement('div');
      live.className = 'lv-live';
      live.setAttribute('role', 'status');
      panel.append(live);
    }
    clearTimeout(live.leverarmSoon);
    live.leverarmSoon = setTimeout(() => {
      const text = el.textContent.trim();
      if (text && el.isConnected && live.textContent !== text) live.textContent = text;
    }, 700);
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
  const watch = (root) => {
    root.leverarmWatch = true;
    const old = home(root).leverarmRoot;
    if (old) banner(old, false);
    home(root).leverarmRoot = root;
    const alive = root.querySelector('.lv-alive');
    if (!alive) { root.leverarmWatch = false; return; }
    new MutationObserver(() => {
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
  for (const kind of ['input', 'keyup', 'click']) document.addEventListener(kind, touched, true);
  setInterval(() => {
    if (document.hidden) return;
    for (const place of [...document.querySelectorAll('.jp-NotebookPanel'), document.body])
      if (place.leverarmRoot && place.offsetParent !== null) ask(place.leverarmRoot);
  }, POLL);
  new MutationObserver((changes) => {
    for (const change of changes) for (const node of change.addedNodes)
      if (node.nodeType === 1 && node.namespaceURI === 'http://www.w3.org/1999/xhtml') tend(node);
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
