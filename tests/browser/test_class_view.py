"""The class view in JupyterLab: every lesson is led to its end, each step fits the screen in large
type, and nothing on it comes later.
"""

import contextlib
import json
import re

import axe
import pytest
from hands import answer_body, press, rest
from lab import write_notebook

from leverarm import exercises
from leverarm.data import toml_file
from leverarm.panels.class_view import STAGES
from leverarm.panels.written import demo_numbers

CELLS = (
    "import json\nfrom leverarm import panels\npanels.begin(system='lb')",
    "leading = panels.class_lesson()\nleading",
)
# How high and wide what is seen is, and the smallest type as it is seen: of the page, and of the
# picture at its size.
SEEN = """() => {
  const view = document.querySelector('.lv-class'), top = view.getBoundingClientRect().top;
  let type = 99, low = view.scrollHeight, right = view.scrollWidth, letters = '';
  for (const el of view.querySelectorAll('*')) {
    const own = [...el.childNodes].some((one) => one.nodeType === 3 && one.textContent.trim());
    const box = el.getBoundingClientRect(), style = getComputedStyle(el);
    if (!(own || el.matches('input, select, button')) || !box.width) continue;
    if (el.closest('.lv-live, .st-live, .lv-heard, small') || style.clipPath !== 'none') continue;
    const svg = el.closest('svg');
    const scale = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1;
    const size = scale * parseFloat(style.fontSize);
    low = Math.max(low, box.bottom - top);
    right = Math.max(right, box.right);
    if (size < type) [type, letters] = [size, el.textContent.trim().slice(0, 30)];
  }
  return {low, right, type, letters, text: view.innerText};
}"""
# Every control that can be used, by a number that it is given; the one that has the focus.
CONTROLS = """() => [...document.querySelectorAll('.lv-class :is(button, input, select)')]
  .filter((el) => !el.disabled && el.offsetParent && getComputedStyle(el).visibility !== 'hidden')
  .filter((el) => el.type !== 'radio')
  .map((el, n) => (el.dataset.nth = `${n} ${el.textContent || el.ariaLabel || el.type}`))"""
FOCUSED = "() => document.activeElement.dataset.nth || ''"
SIZES = {"wide": (1280, 720), "small": (960, 600)}
LEAST_TYPE = 18
SAY = """
view = leading.view
if view.step == 'ask' and not view.answered:
    for one in view._asked:
        hands = ', '.join(['12', '5', '3', '2'][: len(one.ways)])
        view.say(**{one.name: (hands, '3, 4, 2, -1, 0, 1, 5' if not one.plain else '3, 4, 2')
                    if one.ways else ('its number is not what was read',)})
elif view.step == 'board' and not view.drawn:
    view.stage.put_body(view.stage._problem.answer)
elif view.step in ('vote', 'again') and not view.answered:
    view.vote_box.value = ', '.join('3456'[: len(view._options)])
view.attempt(view.go_on)
print(view.error.value, view.at)
"""


def size_of(page, size):
    width, height = SIZES[size]
    page.set_viewport_size({"width": width, "height": height})
    page.wait_for_timeout(150)


@contextlib.contextmanager
def led(lab, dark=False):
    """A notebook with the list of lessons, its motion off."""
    path = lab.root / "notebooks" / f"class_led_{'dark' if dark else 'light'}.ipynb"
    write_notebook(path, *CELLS)
    with lab.open(f"notebooks/{path.name}", dark=dark) as sheet:
        sheet.page.emulate_media(reduced_motion="reduce")
        sheet.run_all()
        yield sheet


@pytest.fixture(scope="module")
def leading(lab):
    """One notebook for every lesson."""
    with led(lab) as sheet:
        yield sheet


def choose(sheet, lesson):
    """A lesson from its question on, on the full screen."""
    sheet.ask(f"leading.lesson.value = '{lesson}'; leading.view.start_over()")
    rest(sheet.page)
    if not sheet.page.evaluate("() => !!document.fullscreenElement"):
        sheet.page.get_by_role("button", name="Full screen").click()
    return json.loads(sheet.ask("print(json.dumps(leading.view.steps))"))


def later(lesson):
    """What answers the poll and the exit question, and the step it belongs to."""
    data, numbers = toml_file(f"lesson_{lesson}"), demo_numbers("lb")
    exit_told = data.part("exit").template("compare", numbers).format(**numbers)
    return {"answer": "The right answer is", "compare": exit_told}


def given_away(text, lesson):
    numbers = demo_numbers("lb")
    words = toml_file(f"lesson_{lesson}").part("spoilers").texts("texts")
    told = [one.format(**numbers).lower() for one in words]
    return [one for one in told if re.search(rf"(?<![\d.,]){re.escape(one)}", text.lower())]


@pytest.mark.parametrize("lesson", STAGES)
def test_every_step_fits_in_large_type_and_shows_nothing_that_comes_later(leading, lesson):
    page, faults = leading.page, []
    steps = choose(leading, lesson)
    for at, step in enumerate(steps):
        page.locator(".lv-class").get_by_text(f"· {at + 1} of {len(steps)} ·").wait_for()
        for size, (width, height) in SIZES.items():
            size_of(page, size)
            seen = page.evaluate(SEEN)
            leading.picture(f"class_{lesson}_{at + 1}_{step}_{size}")
            if seen["low"] > height or seen["right"] > width or seen["type"] < LEAST_TYPE:
                faults.append((at + 1, step, size, {**seen, "text": ""}))
            words = later(lesson).items()
            early = [text for own, text in words if text in seen["text"] and own != step]
            if at == 0:
                early += given_away(seen["text"], lesson)
            if early:
                faults.append((at + 1, step, early))
        if at < len(steps) - 1:
            assert leading.ask(SAY) == f"{at + 1}"
    assert faults == [] and leading.errors() == []


def test_what_is_planted_is_found(leading):
    choose(leading, "02")
    leading.ask("leading.view.note.value = '<p style=\"font-size:10px\">It gains 448 lb.</p>'")
    leading.ask("leading.view.note.layout.display = None")
    rest(leading.page)
    size_of(leading.page, "small")
    seen = leading.page.evaluate(SEEN)
    assert seen["type"] == 10 and "448 lb" in given_away(seen["text"], "02")
    leading.ask("leading.view.summary.value = '<p style=\"height:900px\">.</p>'")
    leading.ask("leading.view.summary.layout.display = None")
    rest(leading.page)
    assert leading.page.evaluate(SEEN)["low"] > 720


def test_an_instructor_mistypes_goes_back_and_reloads(leading):
    """With a presenter's remote and a keyboard: what the class said is never lost."""
    page, view = leading.page, leading.page.locator(".lv-class")
    choose(leading, "02")

    def fill(**texts):
        for label, text in texts.items():
            axle, _, kind = label.partition("_")
            page.get_by_label(re.compile(f"^{axle}, {kind}")).fill(text)

    fill(Front_hands="12, 5", Front_numbers="260, 130, 520, -50")
    fill(Rear_hands="3, 14, 3", Rear_numbers="0, -50, -100")
    page.keyboard.press("PageDown")
    refused = view.get_by_role("alert").filter(has_text="3 whole numbers, for more, the same, less")
    refused.wait_for()
    assert page.get_by_label(re.compile("^Rear, hands")).input_value() == "3, 14, 3"
    fill(Front_hands="12, 5, 3")
    page.keyboard.press("PageDown")
    view.get_by_text("· 2 of 10 ·").wait_for()
    page.keyboard.press("PageUp")
    view.get_by_text("12 more, 5 the same, 3 less").wait_for()
    assert not page.get_by_label(re.compile("^Front, hands")).is_visible()
    for at in (2, 3, 4, 5, 6):
        page.keyboard.press("PageDown")
        view.get_by_text(f"· {at} of 10 ·").wait_for()
    page.get_by_label("Hands for").fill("3, 10, 8, 0")
    page.keyboard.press("PageDown")
    view.get_by_text("· 7 of 10 ·").wait_for()
    # The notebook is run again, as after a restart of the computer.
    leading.run_all()
    page.get_by_text("Lesson 02 was at step 7 when this page last ran").wait_for()
    assert "448" not in view.inner_text()
    press(page.get_by_role("button", name="Go on at step 7"))
    view.get_by_text("· 7 of 10 ·").wait_for()
    page.get_by_label("Hands for").fill("1, 19, 1, 0")
    page.keyboard.press("PageDown")
    view.get_by_text("The right answer is B").wait_for()
    assert "10" in view.get_by_role("table").inner_text()
    assert leading.errors() == []


def test_a_class_draws_on_the_board_and_the_page_turns_when_it_is_right(leading):
    steps = choose(leading, "03")
    leading.ask(SAY)
    view = leading.page.locator(".lv-class")
    view.get_by_text(f"· 2 of {len(steps)} ·").wait_for()
    lines = exercises.make("body_bucket", "lesson ").answer
    answer_body(view, lines)
    press(view.get_by_role("button", name="Check", exact=True))
    view.get_by_text(f"· 3 of {len(steps)} ·").wait_for()
    assert leading.errors() == []


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_axe_finds_nothing_and_the_keys_reach_everything(lab, dark):
    """axe-core at a question, a board, a caution, a formula, a vote and its answer."""
    axe.script()
    with led(lab, dark) as sheet:
        page, found, reached = sheet.page, {}, {}
        steps = choose(sheet, "03")
        size_of(page, "small")
        for step in steps[:-1]:
            rest(page)
            page.wait_for_timeout(200)
            sheet.picture(f"class_03_{step}_{'dark' if dark else 'light'}")
            found[step] = axe.short(axe.check(page, ".lv-class")["violations"])
            reached[step] = page.evaluate(CONTROLS)
            for _ in range(len(reached[step]) + 2):
                page.keyboard.press("Tab")
                at = page.evaluate(FOCUSED)
                reached[step] = [one for one in reached[step] if one != at]
            sheet.ask(SAY)
        assert {step: faults for step, faults in found.items() if faults} == {}
        assert {step: left for step, left in reached.items() if left} == {}
