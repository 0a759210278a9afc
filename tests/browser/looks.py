"""What a page looks like, measured in the page itself: words cut or on each other, things too wide,
names, sizes, contrast.
"""

from lab import CURRENT

# Real boxes of the words in every picture that is shown; how far two of them share ground, and how
# far one sticks out.
WORDS = """() => [...document.querySelectorAll('.lv-pic svg')].filter(svg =>
    svg.getBoundingClientRect().width).map(svg => {
  const sheet = svg.viewBox.baseVal, words = [...svg.querySelectorAll('text')].filter(t =>
      t.textContent.trim()).map(t => [t.textContent, t.getBBox()]);
  const bad = [];
  words.forEach(([name, b], i) => {
    if (b.x < sheet.x || b.y < sheet.y - 1 || b.x + b.width > sheet.x + sheet.width
        || b.y + b.height > sheet.y + sheet.height + 1) bad.push('cut: ' + name);
    for (const [other, o] of words.slice(i + 1)) {
      const wide = Math.min(b.x + b.width, o.x + o.width) - Math.max(b.x, o.x);
      const high = Math.min(b.y + b.height, o.y + o.height) - Math.max(b.y, o.y);
      if (wide > 1 && high > 3) bad.push(name + ' / ' + other);
    }
  });
  return bad;
}).flat()"""
CONTROLS = """() => [...document.querySelectorAll('.lv-panel :is('
    + 'input,select,button,textarea,.noUi-handle)')]
  .filter(el => el.getBoundingClientRect().width && !el.closest('.lv-beat'))
  .map(el => { const box = el.getBoundingClientRect(), label = el.labels && el.labels[0];
    return {what: el.outerHTML.slice(0, 90), width: box.width, height: box.height,
        keys: el.hasAttribute('data-lm-suppress-shortcuts'),
      name: (el.getAttribute('aria-label') || (label && label.textContent) || el.title
          || el.textContent || '').trim()}; })"""
# A table of numbers, or a picture that keys can move, may scroll inside its own box on a narrow
# page; the box itself must fit.
OVERFLOW = """() => [...document.querySelectorAll('.lv-panel, .lv-panel *')].filter(el => {
  const panel = el.closest('.lv-panel').getBoundingClientRect(), box = el.getBoundingClientRect();
  const table = el.parentElement.closest('.lv-wide, .wide, .st-paper[tabindex]');
  if (table && ['auto', 'scroll'].includes(getComputedStyle(table).overflowX)) return false;
  return box.width > 2 && !el.closest('.lv-live, .lv-beat') && (box.right > panel.right + 2
      || box.left < panel.left - 6);
}).map(el => el.className.toString().slice(0, 60) + ' ' + el.textContent.slice(0, 40))"""
# Colors as they end up: see-through ones over what lies behind them.
_COLORS = """
  const parts = (c) => c.match(/[\\d.]+/g).map(Number);
  const over = (c, under) => { const [r, g, b, a = 1] = parts(c);
      return [r, g, b].map((v, i) => v * a + under[i] * (1 - a)); };
  const paper = (el) => { const above = []; for (; el; el = el.parentElement) {
      const c = getComputedStyle(el).backgroundColor;
    if ((parts(c)[3] ?? 1) > 0) above.push(c); if ((parts(c)[3] ?? 1) === 1) break; }
    return above.reverse().reduce((under, c) => over(c, under), [255, 255, 255]); };
  const light = (rgb) => { const [r, g, b] = rgb.map(v => (v /= 255) <= .04045 ? v / 12.92
      : ((v + .055) / 1.055) ** 2.4);
    return .2126 * r + .7152 * g + .0722 * b; };
  const ratio = (one, two) => { const [low, high] = [light(one), light(two)].sort((p, q) => p - q);
      return (high + .05) / (low + .05); };
  const shown = (el) => el.getBoundingClientRect().width > 0 && !el.closest('.lv-live, .lv-beat')
      && !el.disabled && !el.closest('[disabled]');
"""
# The least contrast of words: in pictures, sentences, tables, labels, boxes, and of the examples in
# empty boxes.
CONTRAST = (
    "(where) => {"
    + _COLORS
    + """
  const found = [], words = ':is(p, li, td, th, dt, dd, h1, h2, caption, legend, label, b,'
      + ' small, code, a, summary, button, input:not([type=range], [type=radio], [type=checkbox]),'
      + ' select, textarea)';
  for (const el of document.querySelectorAll(where ? where + ' :is(svg text, ' + words + ')'
      : '.lv-pic svg text, .lv-panel ' + words)) {
    if (!shown(el) || el.closest('[aria-hidden=true]')) continue;
    const under = paper(el.closest('svg') || el), style = getComputedStyle(el);
    found.push([ratio(over(el.matches('text') ? style.fill : style.color, under), under),
        el.textContent.slice(0, 30) || el.outerHTML.slice(0, 60)]);
    if (el.placeholder) found.push([ratio(over(getComputedStyle(el, '::placeholder').color, under),
        under), 'example ' + el.placeholder]);
  }
  return found.sort((a, b) => a[0] - b[0])[0]; }"""
)
# The least contrast of lines that show where a control is: edges of boxes, slider and handle.
EDGES = (
    "() => {"
    + _COLORS
    + """
  return [...document.querySelectorAll('.lv-panel :is('
      + 'input:not([type=radio], [type=checkbox]), select, textarea, .noUi-handle, .noUi-target)')]
    .filter(shown)
    .map(el => { const under = paper(el.closest('.lv-number, .widget-slider') || el.parentElement),
        style = getComputedStyle(el);
      return [ratio(over(el.matches('.noUi-target') ? style.backgroundColor
          : style.borderBottomColor, under), under), el.outerHTML.slice(0, 80)]; })
    .sort((a, b) => a[0] - b[0])[0] ?? [21, 'none']; }"""
)
_SEEN = """
  const seen = (el) => { const box = el.getBoundingClientRect();
    return el.checkVisibility() && box.width > 2 && box.height > 2
        && getComputedStyle(el).visibility !== 'hidden' && !el.closest('.lv-live, .lv-beat, svg');
        };
"""
# Words that do not fit: clipped, scrolled outside a box made for it, running out of a label, longer
# than their box.
CUT = (
    "(lists) => {"
    + _SEEN
    + """
  const pen = document.createElement('canvas').getContext('2d'), bad = [];
  for (const el of document.querySelectorAll('.lv-panel, .lv-panel *')) {
    if (!seen(el) || el.matches('textarea, .lv-wide, .wide, [type=radio], [type=checkbox],'
        + ' .noUi-target *, .noUi-target, .lv-wide *, .wide *, .st-paper[tabindex],'
        + ' .st-paper[tabindex] *')) continue;
    const style = getComputedStyle(el), told = el.outerHTML.slice(0, 70)
        + ' ' + el.textContent.trim().slice(0, 40);
    if (el.matches('input, select')) {
      if (el.matches('select') && !lists) continue;
      const text = el.matches('select') ? (el.selectedOptions[0] || {text: ''}).text : el.value
          || el.placeholder;
      pen.font = style.font;
      if (pen.measureText(text).width > el.clientWidth - parseFloat(style.paddingLeft)
          - parseFloat(style.paddingRight) + 1) bad.push('longer than its box: ' + text);
    } else if (el.scrollWidth > el.clientWidth + 1 && el.clientWidth
        && (style.overflowX !== 'visible' || el.matches('label, button, summary')))
      bad.push('too wide: ' + told);
    else if (el.scrollHeight > el.clientHeight + 3 && el.clientHeight
        && style.overflowY !== 'visible') bad.push('too high: ' + told);
  }
  return bad; }"""
)
# Controls that stand on each other.
CROWDED = (
    "() => {"
    + _SEEN
    + """
  return [...document.querySelectorAll('.lv-panel')].flatMap(panel => {
    const all = [...panel.querySelectorAll(
        'input, select, button, textarea, label, summary, .noUi-target')]
        .filter(seen).map(el => [el, el.getBoundingClientRect()]);
    return all.flatMap(([one, a], i) => all.slice(i + 1).filter(([two, b]) => !one.contains(two)
        && !two.contains(one)
      && Math.min(a.right, b.right) - Math.max(a.left, b.left) > 2 && Math.min(a.bottom, b.bottom)
           - Math.max(a.top, b.top) > 2)
      .map(([two]) => one.outerHTML.slice(0, 60) + ' / ' + two.outerHTML.slice(0, 60)));
  }); }"""
)
# How large the smallest letters of a picture end up on the screen.
SMALL = """() => Math.min(99, ...[...document.querySelectorAll('.lv-pic svg')].filter(svg =>
    svg.getBoundingClientRect().width).flatMap(svg =>
  [...svg.querySelectorAll('text')].filter(t => t.textContent.trim()).map(t =>
      parseFloat(getComputedStyle(t).fontSize) * svg.getBoundingClientRect().width
          / svg.viewBox.baseVal.width)))"""
# Each picture that is shown: what it is for a reader who does not see it, and the words in it but
# for the scales at its edges.
DRAWN = """() => [...document.querySelectorAll('.lv-panel svg, .st-here svg')].filter(svg =>
    svg.getBoundingClientRect().width).map(svg => ({
  role: svg.getAttribute('role'),
  name: svg.getAttribute('aria-label') ||
      (svg.getAttribute('aria-labelledby') || '').split(' ').map(id =>
      (svg.querySelector('[id="' + id + '"]') || {}).textContent || '').join(' '),
  words: [...svg.querySelectorAll('text:not(.lv-text-muted, .lv-text-ground, .st-text-muted)')]
      .filter(t => t.getClientRects().length).map(t => t.textContent)}))"""
# Accessible names, by the rules of the standard (axe-core works them out), of every control and
# group of choices.
NAMES = (
    "() => {"
    + _SEEN
    + """
  axe.setup(document.body);
  const all = [...document.querySelectorAll('.lv-panel')].map(panel =>
      [...panel.querySelectorAll('input, select, button, textarea, summary, .noUi-handle,'
        + ' [role=radiogroup], .lv-wide[tabindex]')]
    .filter(seen).map(el => { const group = el.matches('[type=radio]')
        && el.closest('[role=radiogroup]');
      return {role: axe.commons.aria.getRole(el),
        group: group ? axe.commons.text.accessibleText(group) : '',
        name: axe.commons.text.accessibleText(el).trim(),
        radio: el.matches('[type=radio]'), order: el.getAttribute('tabindex'),
            what: el.outerHTML.slice(0, 90)}; }));
  axe.teardown();
  return all; }"""
)
# Where the keyboard should stop in a panel: every control, and one stop for each set of radio
# buttons.
STOPS = (
    "(at) => {"
    + _SEEN
    + """
  const panel = document.querySelectorAll('.lv-panel')[at], sets = new Set();
  const all = [...panel.querySelectorAll(
      'input, select, button, textarea, summary, .noUi-handle, [tabindex="0"]')]
    .filter(el => seen(el) && !el.disabled && !el.closest('[disabled]')
    && el.tabIndex >= 0).filter(el => { if (!el.matches('[type=radio]')) return true;
      const chosen = panel.querySelector('input[name="' + el.name + '"]:checked');
      if (chosen ? el !== chosen : sets.has(el.name)) return false;
      sets.add(el.name); return true; });
  panel.tabIndex = -1;
  panel.focus({preventScroll: true});
  window.lookStops = [...new Set(all)];
  return window.lookStops.map(el => el.outerHTML.slice(0, 90)); }"""
)
# The stop the keyboard is at: which one, where, and whether it shows.
FOCUS = (
    "() => {"
    + _COLORS
    + """
  const el = document.activeElement, style = getComputedStyle(el), box = el.getBoundingClientRect();
  const around = paper(el.closest('.lv-number, .widget-slider') || el.parentElement),
      top = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
  // Reaching a control may scroll the page.
  const from = (el.closest('.lv-panel') || document.body).getBoundingClientRect().top;
  return {at: window.lookStops.indexOf(el), left: box.left, right: box.right, top: box.top - from,
      bottom: box.bottom - from, what: el.outerHTML.slice(0, 90),
    line: style.outlineStyle === 'none' ? 0 : parseFloat(style.outlineWidth),
        ratio: ratio(over(style.outlineColor, around), around),
    covered: !!top && !el.contains(top) && !top.contains(el) && !(top.closest('label')
        || document.body).contains(el)}; }"""
)
TROUBLE = (
    "() => [...document.querySelectorAll('.lv-panel .lv-error .widget-html-content')].map(el "
    "=> el.textContent.trim()).filter(Boolean)"
)
# Python has nothing left to do, and the page has drawn it.
AT_REST = f"""async () => {{
  await {CURRENT}.sessionContext.session.kernel.requestExecute({{code: '', silent: true}}).done;
  await new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done))); }}"""
