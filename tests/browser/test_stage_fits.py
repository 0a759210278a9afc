"""Every moving picture with its controls fits the screen it is made for, asked and answered."""

import pytest
from lab import PICTURES

from leverarm import panels
from leverarm.panels import _PARTS
from leverarm.panels.base import shared
from leverarm.panels.page import style_and_script
from leverarm.panels.said_first import SaidFirst
from leverarm.stage.case import FREE

STAGES = sorted(
    name for names in _PARTS.values() for name in names.split() if name.endswith("_stage")
)
# Window, whether the type is large, and how high question, picture and controls may be together.
WINDOWS = {
    "desk": (960, 600, False, 600),
    "projector": (1280, 720, True, 600),
    "phone": (390, 844, False, 844),
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
