"""The class view in JupyterLab: each step fits the screen, in large type."""

import pytest
from lab import write_notebook

CELLS = (
    "from leverarm import panels\npanels.begin(system='lb')",
    "view = panels.class_view('02')\nview",
)
# The smallest type that is seen, as it is seen: of the page, and of the picture at its size.
SMALLEST = """() => {
  const view = document.querySelector('.lv-class');
  let least = 99, low = 0;
  const top = view.getBoundingClientRect().top;
  for (const el of view.querySelectorAll('*')) {
    const own = [...el.childNodes].some((one) => one.nodeType === 3 && one.textContent.trim());
    if (!own || !el.getClientRects().length || el.closest('.lv-live, .st-live')) continue;
    const svg = el.closest('svg'), box = el.getBoundingClientRect();
    const scale = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1;
    low = Math.max(low, box.bottom - top);
    least = Math.min(least, scale * parseFloat(getComputedStyle(el).fontSize));
  }
  return [Math.round(low), least];
}"""
SIZES = {"wide": (1280, 720), "small": (960, 600)}


@pytest.mark.parametrize("size", SIZES)
def test_a_class_is_led_by_the_remote(lab, size):
    path = lab.root / "notebooks" / f"class_{size}.ipynb"
    write_notebook(path, *CELLS)
    width, height = SIZES[size]
    with lab.open(f"notebooks/class_{size}.ipynb") as sheet:
        page = sheet.page
        page.set_viewport_size({"width": width, "height": height})
        sheet.run_all()
        page.get_by_role("button", name="Full screen").click()
        view = page.locator(".lv-class")
        for label, text in (
            ("Front: hands", "12, 5, 8"),
            ("Front: numbers", "260, 130, 520, -50"),
            ("Rear: hands", "3, 20, 2"),
            ("Rear: numbers", "0, -50, -100"),
        ):
            page.get_by_label(label).fill(text)
        found, seen = [], []
        for at in range(1, 10):
            view.get_by_text(f"· {at} of 9 ·").wait_for()
            page.wait_for_timeout(1300)
            page.emulate_media(color_scheme="light")
            sheet.picture(f"class_{size}_{at}")
            found.append(page.evaluate(SMALLEST))
            seen.append(view.inner_text())
            if at in (5, 6):
                page.get_by_label("Hands for").fill("3, 10, 8, 4")
            if at < 9:
                page.keyboard.press("PageDown")
        print(size, found)
        assert all(tall <= 600 for tall, _ in found), found
        assert min(least for _, least in found) >= (15.9 if size == "wide" else 14.3), found
        assert "448" not in seen[0] and "The right answer" not in "".join(seen[:6])
        assert "The right answer is B" in seen[6]
        page.keyboard.press("PageUp")
        view.get_by_text("· 8 of 9 ·").wait_for()
        assert sheet.errors() == []
