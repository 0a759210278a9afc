"""The concept check as a student and an instructor meet it: panels, the desk's folder, report."""

import re

import ipywidgets as w
import pytest

from leverarm import panels
from leverarm.concept_check.desk import CheckDesk, imagined_check
from leverarm.concept_check.questions import form, right_letters
from leverarm.concept_check.report import gain_words, report_html, report_page
from leverarm.concept_check.results import read_class, result_of
from leverarm.concept_check.sheet import HandedIn, check_slip, opening_key
from leverarm.marking import Desk
from leverarm.marking.codes import DEMO_KEY, new_codes
from leverarm.quantities import Refusal

CODES = new_codes(40)
SLIP = check_slip(DEMO_KEY, CODES[0], 1, "A")


def every(widget):
    """A widget and all that it holds."""
    return [widget, *(one for child in getattr(widget, "children", ()) for one in every(child))]


def text_of(panel):
    """What stands on a panel's page now."""
    return panel.asked.value + panel.shown.value + panel.head.value + panel.saved.value


def test_a_student_marks_a_form_and_is_told_nothing(tmp_path):
    panel = panels.concept_check(tmp_path)
    assert panel.page.layout.display == "none" and panel.error.value == ""
    panel.code.value, panel.key_box.value = SLIP.code, "nonsense"
    panel.slip.children[1].click()
    assert "number key" in panel.error.value and panel.sheet is None
    panel.key_box.value = SLIP.key
    panel.slip.children[1].click()
    assert panel.error.value == "" and "form A, before the lessons" in panel.head.value
    for question in form("A"):
        assert panel.options.value is None and question.text[:40] in panel.asked.value
        panel.options.value = question.key if question.number % 2 else question.letters[0]
        said = text_of(panel)
        for option in question.options:
            assert option.thought not in said and (not option.slip or option.slip not in said)
        panel.next_button.click()
    assert "All are marked" in panel.saved.value and panel.next_button.disabled
    again = panels.concept_check(tmp_path)
    again.start(SLIP.code, SLIP.key)
    assert again.number == 1 and again.options.value == form("A")[0].key
    again.options.value = "D"
    assert again.sheet.marked[1] == "D"
    again.leave()
    assert again.slip.layout.display == ""


def test_the_answers_show_when_the_instructor_opens_them(tmp_path):
    panel = panels.concept_check(tmp_path)
    panel.use(SLIP)
    panel.mark("A")
    panel.open_box.value = "not yet"
    panel.open_button.click()
    assert "opening key" in panel.error.value and panel.shown.value == ""
    panel.open_box.value = opening_key(DEMO_KEY)
    panel.open_button.click()
    first = form("A")[0]
    assert first.option("A").thought in panel.shown.value.replace("&#x27;", "'")
    assert f"<b>{first.key}: " in panel.shown.value and panel.options.disabled
    panel.mark_ = panel.attempt(lambda: panel.mark("B"))
    assert "nothing more is taken" in panel.error.value


def test_units_follow_and_the_mark_stays(tmp_path):
    panel = panels.concept_check(tmp_path)
    panel.use(SLIP)
    panel.mark("C")
    before = panels.shared.system
    try:
        for system in ("kg", "lb"):
            panels.shared.set(system=system)
            assert f"12-{system} sack" in panel.asked.value and panel.options.value == "C"
    finally:
        panels.shared.set(system=before)


# The desk ----------------------------------------------------------------------------------


def test_the_desk_deals_writes_and_reads(tmp_path):
    desk = Desk(tmp_path / "class")
    check = CheckDesk(desk)
    with pytest.raises(Refusal):
        check.write()
    desk.start(6)
    out = check.write()
    first = check.first_forms()
    assert sorted(first.values()) == ["A"] * 3 + ["B"] * 3
    assert all(one.form != first[one.code] for one in check.slips(2))
    for path in out.iterdir():
        text = path.read_text("utf-8")
        for question in form("A"):
            assert question.option(question.key).thought not in text
        assert desk.class_key not in text and check.opening_key not in text
    assert (desk.private / "concept_check_key.html").is_file()
    desk.add_codes(2)
    check.write("A first")
    again = check.first_forms()
    assert {code: again[code] for code in first} == first and len(again) == 8
    assert check.read()[0].sheets == (0, 0)
    with pytest.raises(Refusal, match="by turns or A first"):
        check.write("dice")


def test_nothing_was_written_yet_and_the_desk_says_what_to_do_first(tmp_path):
    desk = Desk(tmp_path / "class")
    desk.start(6)
    panel = panels.concept_check_desk(desk)
    press = {one.description: one for one in every(panel.widget) if isinstance(one, w.Button)}
    press["Read both rounds"].click()
    assert "write forms and slips first" in panel.error.value
    press["Write forms and slips"].click()
    press["Read both rounds"].click()
    assert panel.error.value == "" and panel.result.sheets == (0, 0)


def test_an_invented_class_is_read_with_both_rounds(tmp_path):
    check = imagined_check(tmp_path / "class")
    result, folder = check.read()
    assert result.sheets == (24, 22) and result.pairs == 22
    before, after = (
        sum(row.scores[at] for row in result.students if row.pair is not None) for at in (0, 1)
    )
    assert result.gain.gain == pytest.approx((after - before) / (22 * 12 - before))
    assert {one.file for one in result.skipped} == {"holiday.txt"}
    assert check.read()[1] == folder  # nothing changed, nothing written anew
    again = panels.imagined_check_panel(tmp_path / "class")  # its cell is run once more
    assert again.result == result and again.error.value == ""
    assert not any(isinstance(one, w.Button) for one in every(again.widget)), "nothing to press"
    names = {path.name for path in folder.iterdir()}
    assert names == {
        "concept_check.html", "students.csv", "questions.csv", "options.csv", "left_out.csv"
    }  # fmt: skip
    panel = panels.concept_check_desk(Desk(tmp_path / "class"))
    panel.read()
    assert "Normalized gain" in panel.shown.value and "marked/Concept_check/01" in panel.said.value


def sheets(pairs):
    """Sheets of students with so many right before and after, from the first question on."""
    for code, (before, after) in zip(CODES, pairs):
        for round_, name, right in ((1, "A", before), (2, "B", after)):
            if right is not None:
                key = right_letters(name)
                wrong = "".join("B" if letter == "A" else "A" for letter in key)
                yield HandedIn("", code, round_, name, key[:right] + wrong[right:])


SPREAD = [3, 5, 4, 6, 2, 7, 3, 5, 4, 6]


@pytest.mark.parametrize(
    "pairs, says, not_said",
    [
        ([], "No sheet came back yet", "percent"),
        ([(3, None)] * 6, "Nobody has done both rounds yet", "percent"),
        ([(3, 6)] * 4, "Under 5 nothing is shown", "percent"),
        (zip(SPREAD[:8], SPREAD[2:10]), "too few for one number", "Normalized gain:"),
        ([(a, a + 3) for a in SPREAD * 2], "Normalized gain: 0.40 ±", "too few"),
        ([(a, b) for a, b in zip(SPREAD * 2, SPREAD[::-1] * 2)], "Zero lies inside", "too few"),
        ([(12, 12)] * 12, "nothing was left to gain", "Normalized gain:"),
        ([(11, 12), (10, 11), (12, 12), (11, 11)] * 6, "little was left to gain", "too few"),
        ([*[(a, a + 3) for a in SPREAD * 2], (5, None)], "1 student with one round only", "too"),
    ],
)
def test_the_page_says_what_the_class_is_large_enough_for(pairs, says, not_said):
    said = " ".join(gain_words(result_of(sheets(list(pairs)))))
    assert says in said and not_said not in said


def test_the_gain_is_never_given_without_its_limits():
    said = " ".join(gain_words(result_of(sheets([(a, a + 3) for a in SPREAD * 2]))))
    for words in ("Hake 1998", "0.23", "0.48", "no yardstick", "what changed it", "not measured"):
        assert words in said


def test_figures_of_questions_come_with_a_class_that_is_large_enough():
    small = result_of(sheets([(a, a + 3) for a in SPREAD * 2]))
    large = result_of(sheets([(a, a + 3) for a in SPREAD * 4]))
    assert "KR-20 and discrimination need 30" in report_html(small)
    assert "discrimination before" not in report_html(small), "a column of dashes"
    assert "KR-20 before the lessons: " in report_html(large) and large.kr20[0][0] < 1
    few = report_html(result_of(sheets([(3, 6)] * 4)))
    assert "%" not in few and "Question by question" not in few


def test_a_stranger_s_file_name_cannot_write_on_the_page(tmp_path):
    (tmp_path / "<b>x.txt").write_text("nothing")
    page = report_page(read_class(tmp_path, DEMO_KEY, CODES))
    assert "<b>x" not in page and "&lt;b&gt;x.txt" in page and not re.search("<script", page)
