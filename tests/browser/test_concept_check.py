"""The concept check in a real browser: a slip, a mark kept at once, the answers opened.

And the desk, which opens with what to teach tomorrow.
"""

import json

import axe

from leverarm.concept_check.sheet import check_slip, opening_key
from leverarm.marking import shown_code
from leverarm.marking.codes import DEMO_KEY, with_check


def panel_with(sheet, label):
    """The panel that has a box or button of this name."""
    return sheet.page.locator(".lv-panel").filter(has=sheet.page.get_by_label(label)).last


def test_a_student_marks_a_question_and_sees_the_answers_with_the_key(lab):
    slip = check_slip(DEMO_KEY, with_check("K7MPTD"), 1, "A")
    with lab.open("notebooks/homework.ipynb") as sheet:
        sheet.only_notebook()
        sheet.run_all()
        page = sheet.page
        start = page.get_by_role("button", name="Open this sheet")
        panel = page.locator(".lv-panel").filter(has=start)
        panel.get_by_label("Code").fill(shown_code(slip.code))
        panel.get_by_label("Number key").fill(slip.key)
        panel.get_by_label("Number key").press("Tab")
        start.click()
        following = page.get_by_role("button", name="Next question")
        following.wait_for()
        panel = page.locator(".lv-panel").filter(has=following)
        panel.get_by_role("radio").nth(1).check()
        kept = lab.root / "notebooks"
        panel.get_by_text("1 of 12 marked").first.wait_for()
        files = [path for path in kept.iterdir() if path.name == slip.file_name]
        assert len(files) == 1 and json.loads(files[0].read_text().splitlines()[0])
        following.click()
        found = axe.check(page, ".lv-panel")
        assert axe.short(found["violations"]) == []
        panel.get_by_label("Opening key").fill(opening_key(DEMO_KEY))
        panel.get_by_label("Opening key").press("Tab")
        panel.get_by_role("button", name="Show the answers").click()
        panel.get_by_role("radio").first.wait_for()
        page.wait_for_function(
            "() => [...document.querySelectorAll('.lv-panel input[type=radio]')]"
            ".some((one) => one.disabled)"
        )
        assert sheet.errors() == []


def test_the_desk_opens_with_what_to_teach_and_hides_codes(lab):
    with lab.open("notebooks/instructor_desk.ipynb") as sheet:
        sheet.only_notebook()
        sheet.run_all()
        page = sheet.page
        page.get_by_role("heading", name="Teach tomorrow").first.wait_for()
        code = page.locator(".tt code").first
        assert code.is_visible()
        sheet.picture("teach_tomorrow")
        page.get_by_role("checkbox", name="Hide codes").first.check()
        code.wait_for(state="hidden")
        page.get_by_text("Codes are hidden").first.wait_for()
        found = axe.check(page, ".lv-panel")
        assert axe.short(found["violations"]) == []
        assert sheet.errors() == []
