"""Every moving picture with its controls fits the screen it is made for, asked and answered."""

import pytest
from lab import PICTURES

from leverarm import panels
from leverarm.panels import _PARTS
from leverarm.panels.base import shared
from leverarm.panels.page import style_and_script
from leverarm.panels.said_first import SaidFirst
from leverarm.stage.case import EXPLAINED, FREE, WEIGHED
from leverarm.stage.elements import as_text
from leverarm.stage.recording import start_of

STAGES = sorted(
    name for names in _PARTS.values() for name in names.split() if name.endswith("_stage")
)
# Window, whether the type is large, and how high question, picture and controls may be together.
WINDOWS = {
    "desk": (960, 600, False, 600),
    "projector": (1280, 720, True, 600),
    "phone": (390, 844, False, 844),
    "desk beside files": (914, 768, False, 640),
    "projector in JupyterLab": (1090, 720, True, 600),
}
PLACED = """() => {
  // Of a paragraph each line counts, not the box around all of them.
  const boxes = (part) => [...document.querySelectorAll(part)].flatMap((el) => {
    const line = document.createRange(); line.selectNodeContents(el);
    return part.endsWith('p') ? [...line.getClientRects()] : [el.getBoundingClientRect()];
  }).filter((one) => one.width);
  const all = ['.st-ask', '.st-paper', '.st-controls'].flatMap(boxes);
  const words = [...document.querySelectorAll('.st svg text')].map((el) =>
    [el.textContent, el.getBoundingClientRect()]).filter(([text, one]) => text.trim() && one.width);
  const over = ['.st-ask p', '.st-controls button', '.st-controls input', '.st-controls p',
    '.st-controls textarea'].flatMap((part) => boxes(part).flatMap((box) =>
    words.filter(([, one]) => one.left < box.right - 1 && box.left < one.right - 1
        && one.top < box.bottom - 1 && box.top < one.bottom - 1
    ).map(([text]) => `${text} under ${part}`)));
  return {high: Math.max(...all.map((one) => one.bottom)) - Math.min(...all.map((one) => one.top)),
    wide: document.documentElement.scrollWidth, over};
}"""


@pytest.fixture(scope="module")
def page_of(browser):
    """A page with one moving picture, as its panel sends it."""

    def show(name, window, free):
        width, height, large, _ = WINDOWS[window]
        shared.set(large=large)
        panel = getattr(panels, name)()
        if free:
            panel.locked, panel._part = True, FREE
            panel.draw()
        page = browser.new_page(viewport={"width": width, "height": height})
        page.set_content(f"<body style='margin:0'>{style_and_script()}{panel._shown_html}</body>")
        page.wait_for_timeout(100)
        return page

    yield show
    shared.set(large=False)


@pytest.mark.parametrize("window", WINDOWS)
@pytest.mark.parametrize("name", STAGES)
def test_picture_and_controls_fit_together(page_of, name, window):
    width, _, _, high = WINDOWS[window]
    acts = (False, True) if isinstance(getattr(panels, name)(), SaidFirst) else (False,)
    for free in acts:
        page = page_of(name, window, free)
        page.screenshot(path=PICTURES / f"fits_{name}_{window}_{'free' if free else 'asks'}.png")
        found = page.evaluate(PLACED)
        page.close()
        assert found["high"] <= high and found["wide"] <= width and found["over"] == []


# The same desks at 200 percent: what is 960 by 600, or 1280 by 720, is half as wide and high then.
ZOOMED = {"960 by 600": (480, 300), "1280 by 720": (640, 360)}
IN_USE = """() => [...document.querySelectorAll(
    '.st-controls :is(input, button, textarea, select), .st-beside button, .st-arm')]
  .filter((el) => el.getClientRects().length && !el.disabled).map((el) => {
    el.focus();
    const seen = (one) => { const box = one.getBoundingClientRect();
      return (Math.min(box.bottom, innerHeight) - Math.max(box.top, 0)) / box.height; };
    const all = [...document.querySelectorAll('.st svg')];
    const picture = all.find((one) => one.getClientRects().length);
    return [el.outerHTML.slice(0, 80), seen(picture), seen(el)]; })"""
RINGS = """() => {
  const out = (one) => { const box = one.getBoundingClientRect();
    return box.width && (box.left < 0 || box.right > innerWidth); };
  return [...document.querySelectorAll('.st .st-ring')].filter(out).length; }"""


@pytest.mark.parametrize("size", ZOOMED)
@pytest.mark.parametrize("name", STAGES)
def test_at_200_percent_picture_and_control_in_use_are_seen_together(browser, name, size):
    """Whatever has the keyboard: all of it and all of the picture, so each ring in it too."""
    width, height = ZOOMED[size]
    for free in (False, True):
        panel = getattr(panels, name)()
        if free and not isinstance(panel, SaidFirst):
            continue
        if free:
            panel.locked, panel._part = True, FREE
            panel.draw()
        page = browser.new_page(viewport={"width": width, "height": height}, device_scale_factor=2)
        page.set_content(f"<body style='margin:0'>{style_and_script()}{panel._shown_html}</body>")
        page.wait_for_timeout(100)
        found = page.evaluate(IN_USE)
        assert found and [one for one in found if min(one[1:]) < 0.98] == []
        assert page.evaluate(RINGS) == 0
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        page.close()


# At 400 percent a notebook program leaves little beside its own margins: 320 or 190 wide.
SMALLEST = """() => Math.min(...[...document.querySelectorAll('.st svg text')]
  .filter((one) => one.getClientRects().length && one.textContent.trim()).map((one) => {
    const svg = one.ownerSVGElement;
    return parseFloat(getComputedStyle(one).fontSize) * svg.getBoundingClientRect().width
      / svg.viewBox.baseVal.width; }))"""


@pytest.mark.parametrize("width", [320, 190])
@pytest.mark.parametrize("name", STAGES)
def test_at_400_percent_a_picture_is_moved_sideways_and_the_page_is_not(browser, name, width):
    page = browser.new_page(viewport={"width": width, "height": 180}, device_scale_factor=4)
    panel = getattr(panels, name)()
    page.set_content(f"<body style='margin:0'>{style_and_script()}{panel._shown_html}</body>")
    page.wait_for_timeout(100)
    assert page.evaluate(SMALLEST) >= 9
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.close()


# What of a picture lies under the words of its question: each point of ink, as the browser fills
# and strokes it.  The marks of a scale and the places a finger may hit are no ink.
UNDER_QUESTION = """() => {
  const lines = [...document.querySelectorAll('.st-ask p')].flatMap((el) => {
    const line = document.createRange(); line.selectNodeContents(el);
    return [...line.getClientRects()].filter((one) => one.width);
  });
  const inked = (el, x, y) => {
    const style = getComputedStyle(el);
    const at = new DOMPoint(x, y).matrixTransform(el.getScreenCTM().inverse());
    return (style.fill !== 'none' && style.fill !== 'transparent' && el.isPointInFill(at))
      || (style.stroke !== 'none' && parseFloat(style.strokeWidth) && el.isPointInStroke(at));
  };
  const lies = (el, line) => {
    // Two pixels above and below its letters a line is only spacing.
    const box = el.getBoundingClientRect();
    const left = Math.max(line.left, box.left - 1), right = Math.min(line.right, box.right + 1);
    const top = Math.max(line.top + 2, box.top - 1);
    const low = Math.min(line.bottom - 2, box.bottom + 1);
    if (left >= right || top >= low) return false;
    if (el.matches('text')) return el.textContent.trim() !== '';
    for (let x = left; x <= right; x += 1.5)
      for (let y = top; y <= low; y += 1.5) if (inked(el, x, y)) return true;
    return false;
  };
  const parts = '.st svg :is(path, polygon, polyline, circle, rect, ellipse, text)'
    + ':not(defs *, .st-hit, .st-area-paper, .st-line-grid)';
  return [...document.querySelectorAll(parts)].filter((el) => el.getClientRects().length
    && el.checkVisibility() && lines.some((line) => lies(el, line)))
    .map((el) => el.getAttribute('class') + ' ' + el.textContent);
}"""
# How far the words of each dimension keep from the ends of its line where it is interrupted, and
# from the ends of the whole line.
DIMENSIONS = """() => [...document.querySelectorAll('.st svg rect.st-area-paper + text')]
  .filter((el) => el.getClientRects().length && el.parentElement.querySelector('polyline'))
  .map((el) => {
    const keeps = (other) => { const [words, box] = [el, other].map((one) => one.getBBox());
      return Math.min(words.x - box.x, box.x + box.width - words.x - words.width); };
    return [el.textContent, keeps(el.previousElementSibling),
      keeps(el.parentElement.querySelector('polyline'))];
  })"""
SEEN_AT = {
    "desk": (960, False),
    "small desk": (780, False),
    "projector": (1280, True),
    "small projector": (1000, True),
}


def acts_of(name):
    """The drawing and inputs of each act of a stage."""
    panel = getattr(panels, name)()
    yield panel.act()[:2]
    if isinstance(panel, SaidFirst):
        panel.locked, panel._part = True, FREE
        panel.draw()
        yield panel.act()[:2]


def states_of(inputs):
    """The start, each part of the act, and everything that moves at both its ends."""
    start = start_of(inputs)
    parts = (WEIGHED, EXPLAINED, FREE) if "part" in start else ()
    yield start, True
    yield from ((start | {"part": part}, True) for part in parts)
    if parts:
        start |= {"part": FREE}
    for one in inputs:
        if one.name != "part":
            yield from ((start | {one.name: end}, False) for end in (one.low, one.high))


@pytest.mark.parametrize("window", SEEN_AT)
@pytest.mark.parametrize("system", ["lb", "kg"])
def test_words_of_a_question_and_of_a_dimension_touch_no_line(browser, system, window):
    width, large = SEEN_AT[window]
    before = shared.system
    shared.set(system=system, large=large)
    page = browser.new_page(viewport={"width": width, "height": 760})
    page.set_content(
        f"<body style='margin:0;font-family:sans-serif'>{style_and_script()}<main></main></body>"
    )
    try:
        acts = [(name, *act) for name in STAGES for act in acts_of(name)]
        for name, draw, inputs in acts:
            for state, usual in states_of(inputs):
                page.evaluate(
                    "(text) => { document.querySelector('main').innerHTML = text; }",
                    as_text(draw(state).tree),
                )
                assert page.evaluate(UNDER_QUESTION) == [], (name, state)
                for text, gap, ends in page.evaluate(DIMENSIONS):
                    assert gap >= 2, (name, state, text)
                    # Words wider than their line stand without it, or beside it.
                    assert ends < 0 or ends >= 6 or not usual, (name, state, text)
    finally:
        page.close()
        shared.set(system=before, large=False)
