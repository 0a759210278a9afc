"""The overhang panel and its neighbours in the real page: keys, names, sizes, words that stand apart, a kernel that dies."""

import re

import pytest
from lab import CURRENT, as_start_does, start_lab, write_notebook

CELLS = ("from leverarm.panels import begin, overhang, exercise, worked_example, tally\nbegin()",
         "panel = overhang(gated=False)\npanel", "gated = overhang()\ngated", "exercise('front_gain', 7, system='kg')",
         "worked_example('front_gain', 3)", "tally('Front change?', ('less', 'the same', 'more'), 'C')")
OPEN, GATED = ".lv-split >> nth=0", ".jp-Cell:has-text('gated = overhang()') .lv-panel"

# Real boxes of the words in every picture that is shown; how far two of them share ground, and how far one sticks out.
WORDS = """() => [...document.querySelectorAll('.lv-pic svg')].filter(svg => svg.getBoundingClientRect().width).map(svg => {
  const sheet = svg.viewBox.baseVal, words = [...svg.querySelectorAll('text')].map(t => [t.textContent, t.getBBox()]);
  const bad = [];
  words.forEach(([name, b], i) => {
    if (b.x < 0 || b.y < -1 || b.x + b.width > sheet.width || b.y + b.height > sheet.height + 1) bad.push('cut: ' + name);
    for (const [other, o] of words.slice(i + 1)) {
      const wide = Math.min(b.x + b.width, o.x + o.width) - Math.max(b.x, o.x);
      const high = Math.min(b.y + b.height, o.y + o.height) - Math.max(b.y, o.y);
      if (wide > 1 && high > 3) bad.push(name + ' / ' + other);
    }
  });
  return bad;
}).flat()"""
CONTROLS = """() => [...document.querySelectorAll('.lv-panel :is(input,select,button,textarea,.noUi-handle)')]
  .filter(el => el.getBoundingClientRect().width && !el.closest('.lv-beat'))
  .map(el => { const box = el.getBoundingClientRect(), label = el.labels && el.labels[0];
    return {what: el.outerHTML.slice(0, 90), width: box.width, height: box.height, keys: el.hasAttribute('data-lm-suppress-shortcuts'),
      name: (el.getAttribute('aria-label') || (label && label.textContent) || el.title || el.textContent || '').trim()}; })"""
# A table of numbers may scroll inside its own box on a narrow page; the box itself must fit.
OVERFLOW = """() => [...document.querySelectorAll('.lv-panel, .lv-panel *')].filter(el => {
  const panel = el.closest('.lv-panel').getBoundingClientRect(), box = el.getBoundingClientRect();
  const table = el.parentElement.closest('.lv-table');
  if (table && ['auto', 'scroll'].includes(getComputedStyle(table).overflowX)) return false;
  return box.width > 2 && !el.closest('.lv-live, .lv-beat') && (box.right > panel.right + 2 || box.left < panel.left - 6);
}).map(el => el.className.toString().slice(0, 60) + ' ' + el.textContent.slice(0, 40))"""
CONTRAST = """() => {
  const rgb = (c) => c.match(/[\\d.]+/g).slice(0, 3).map(Number);
  const light = (c) => { const [r, g, b] = rgb(c).map(v => (v /= 255) <= .04045 ? v / 12.92 : ((v + .055) / 1.055) ** 2.4);
    return .2126 * r + .7152 * g + .0722 * b; };
  const paper = (el) => { for (; el; el = el.parentElement) { const c = getComputedStyle(el).backgroundColor;
    if (!/rgba\\(.*, 0\\)|transparent/.test(c)) return c; } return 'rgb(255,255,255)'; };
  return [...document.querySelectorAll('.lv-pic svg text, .lv-say, .lv-table td, .lv-panel label')]
    .filter(el => el.getBoundingClientRect().width).map(el => { const s = getComputedStyle(el);
      const a = light(el.matches('text') ? s.fill : s.color), b = light(paper(el.closest('.lv-pic') || el));
      return [(Math.max(a, b) + .05) / (Math.min(a, b) + .05), el.textContent.slice(0, 30)]; }).sort((a, b) => a[0] - b[0])[0]; }"""


@pytest.fixture(scope="module")
def bench(browser, tmp_path_factory):
    """JupyterLab with a notebook of the panels alone."""
    folder = tmp_path_factory.mktemp("panels")
    (folder / "root").mkdir()
    write_notebook(folder / "root" / "panels.ipynb", *CELLS)
    running = start_lab(browser, folder / "root", as_start_does(folder / "home"))
    yield running
    running.stop()


def opened(bench, **how):
    return bench.open("panels.ipynb", **{"width": 1280, "height": 2600, **how})


def ready(sheet):
    """Run everything and wait for the last panel and the second look of the page script."""
    sheet.only_notebook()
    sheet.run_all()
    sheet.page.wait_for_selector(".lv-count input")
    sheet.page.wait_for_timeout(900)
    assert sheet.errors() == []
    return sheet.page


def shows(page, text):
    page.wait_for_function("(text) => document.querySelector('.lv-split').innerText.replace(/\\s+/g, ' ').includes(text)", arg=text)


def test_slider_box_and_units_answer_to_keys_alone(bench):
    with opened(bench) as sheet:
        page = ready(sheet)
        shows(page, "The front scale gains 190.0 kg, the rear loses 80.0 kg")
        slider = page.locator(".lv-number .noUi-handle").nth(1)
        slider.focus()
        for _ in range(9):
            page.keyboard.press("ArrowRight")
        shows(page, "2.00 times the weight")
        assert slider.get_attribute("aria-valuetext") == "1.65 m" and slider.get_attribute("aria-label") == "Overhang, slider"
        page.keyboard.press("Shift+Tab")
        page.keyboard.press("Control+a")
        page.keyboard.type("47 in")
        page.keyboard.press("Enter")
        shows(page, "hangs 1.19 m ahead")
        page.keyboard.press("Control+a")
        page.keyboard.type("5 kg")
        page.keyboard.press("Tab")
        shows(page, "Still used: 1.19 m")
        page.get_by_role("radio", name="lb and in").first.focus()
        page.keyboard.press("Space")
        shows(page, "The bucket weighs 243 lb and hangs 47.0 in ahead")
        live = page.locator(".lv-live").first
        page.wait_for_function("(el) => el.textContent.includes('243 lb')", arg=live.element_handle())
        assert live.get_attribute("role") == "status"
        assert sheet.errors() == []


def test_predict_commit_reveal_by_keys_alone(bench):
    with opened(bench) as sheet:
        page = ready(sheet)
        panel = page.locator(GATED)
        assert "790.0" not in panel.inner_text()
        for scale, way, amount in (("Front scale", "up", "110 kg"), ("Rear scale", "down", "80")):
            panel.get_by_role("radiogroup", name=scale).get_by_role("radio", name=way).focus()
            page.keyboard.press("Space")
            panel.get_by_role("textbox", name=f"{scale}, by how much?").focus()
            page.keyboard.type(amount)
            page.keyboard.press("Tab")
        panel.get_by_role("button", name="Commit my prediction").focus()
        page.keyboard.press("Enter")
        panel.get_by_role("button", name="Show the readings").wait_for()
        assert "790.0" not in panel.inner_text() and panel.locator(".noUi-target[disabled]").count() >= 1
        panel.get_by_role("button", name="Show the readings").focus()
        page.keyboard.press("Space")
        panel.get_by_text("you said").wait_for()
        row = panel.get_by_role("row", name=re.compile("Front scale")).inner_text()
        assert "+190.0 kg" in row and "+110.0 kg" in row
        assert sheet.errors() == []


def test_an_exercise_by_keys_alone_and_tab_order(bench):
    with opened(bench) as sheet:
        page = ready(sheet)
        box = page.get_by_role("textbox", name="Your answer, in kg")
        weight = re.search(r"of (\d+ kg) hangs", page.locator(".lv-panel", has=box).inner_text()).group(1)
        box.focus()
        page.keyboard.type(weight)
        page.keyboard.press("Enter")
        page.get_by_text("the hung weight alone").first.wait_for()
        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.textContent") == "Check"
        page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        page.get_by_text("Hint 1.").wait_for()
        assert page.evaluate("document.activeElement.textContent") == "Hint 2 of 4"
        assert len(sheet.cells()) == len(CELLS)


@pytest.mark.parametrize("width, dark, large", [(1280, False, False), (1280, True, False), (640, False, False), (320, False, False),
                                                (320, True, False), (1280, False, True)])
def test_names_sizes_room_and_contrast(bench, width, dark, large):
    with opened(bench, width=width, height=4200, dark=dark) as sheet:
        page = ready(sheet)
        if large:
            page.get_by_label("Large type (projector)").check()
            page.wait_for_timeout(1500)
        controls = page.evaluate(CONTROLS)
        assert len(controls) > 40
        assert [c["what"] for c in controls if not c["name"]] == []
        assert [c["what"] for c in controls if not c["keys"]] == []
        assert [(c["what"], c["width"], c["height"]) for c in controls if c["width"] < 23.9 or c["height"] < 23.9] == []
        assert page.evaluate(OVERFLOW) == []
        ratio, words = page.evaluate(CONTRAST)
        assert ratio >= 4.5, words
        assert page.evaluate(WORDS) == []
        sheet.picture(f"panels_{width}{'_dark' if dark else ''}{'_large' if large else ''}")


@pytest.mark.parametrize("width", [1280, 320])
def test_words_stand_apart_over_the_ends_of_every_slider(bench, width):
    """The boxes the browser itself draws, at both ends of each slider and of each pair of lengths."""
    with opened(bench, width=width) as sheet:
        page = ready(sheet)
        sliders = [page.locator(OPEN).locator(".noUi-handle").nth(i) for i in range(5)]
        for first in range(5):
            for key in ("Home", "End"):
                sliders[first].press(key)
                for second, other in ((1, "Home"), (1, "End"), (2, "Home"), (2, "End")):
                    if second != first:
                        sliders[second].press(other)
                    page.wait_for_timeout(150)
                    assert page.evaluate(WORDS) == [], (first, key, second, other)
        assert sheet.errors() == []


def test_it_is_said_when_python_does_not_answer_and_taken_back_when_it_does(bench):
    with opened(bench) as sheet:
        page = ready(sheet)
        page.evaluate(f"() => {CURRENT}.sessionContext.session.kernel.restart()")
        page.wait_for_timeout(4000)
        page.locator(".lv-number .noUi-handle").nth(1).press("ArrowRight")
        page.get_by_role("alert").filter(has_text="Python does not answer").wait_for()
        assert "no answer" in page.locator(".lv-alive").inner_text()
        sheet.picture("panels_no_answer")
        sheet.run_all()
        page.wait_for_function("() => !document.querySelector('.lv-banner')")
        page.wait_for_timeout(1500)
        page.locator(".lv-number .noUi-handle").nth(1).press("ArrowRight")
        shows(page, "hangs 1.25 m ahead")
        page.wait_for_timeout(6000)
        assert page.locator(".lv-banner").count() == 0 and "Python is running." in page.locator(".lv-alive").inner_text()


def test_a_panel_shown_no_more_is_not_drawn_and_comes_back_right(bench):
    with opened(bench) as sheet:
        page = ready(sheet)
        counts = f"""async () => {{ const future = {CURRENT}.sessionContext.session.kernel.requestExecute(
            {{code: "print(panel.widget._view_count)", silent: false}});
            let text = ''; future.onIOPub = (m) => {{ if (m.content.text) text += m.content.text; }}; await future.done; return text.trim(); }}"""
        assert page.evaluate(counts) == "1"
        page.evaluate(f"""async () => {{ {CURRENT}.content.activeCellIndex = 1;
            await window.jupyterapp.commands.execute('notebook:clear-cell-output'); }}""")
        page.wait_for_timeout(500)
        assert page.evaluate(counts) == "0"
