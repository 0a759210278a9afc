"""A whole round in a real browser: an instructor sets work, three students answer, one is cut off,
the class is marked.
"""

import shutil
from pathlib import Path

import pytest
from lab import CURRENT

from leverarm.marking import Desk, Homework, shown_code
from leverarm.marking.answer_file import read_answers
from leverarm.marking.demo import right_text

RESTART = f"async () => {{ await {CURRENT}.sessionContext.restartKernel(); }}"


def ready(sheet):
    sheet.only_notebook()
    sheet.run_all()


def fill(page, label, text):
    """Type into a box as a person does, and leave it."""
    box = page.locator(".lv-panel").get_by_label(label).first
    box.fill(text)
    box.press("Tab")


def press(page, name):
    page.get_by_role("button", name=name, exact=True).first.click()


def on_button(page, name):
    """Wait until the keyboard is on this button."""
    page.wait_for_function(
        "(name) => document.activeElement.matches('button') && "
        "document.activeElement.textContent.includes(name)",
        arg=name,
    )


@pytest.fixture(scope="module")
def place(lab):
    """The notebooks folder of the workbook's copy."""
    return lab.root / "notebooks"


@pytest.fixture(scope="module")
def week(lab, place):
    """The instructor makes codes and an assignment by mouse and keyboard; the assignment file goes
    to the students.
    """
    with lab.open("notebooks/instructor_desk.ipynb") as sheet:
        ready(sheet)
        page = sheet.page
        fill(page, "How many students?", "3")
        press(page, "Make class key and codes")
        page.get_by_text("has a class key and 3 codes").wait_for()
        page.get_by_label("Lesson").select_option("lesson 02")
        for title in ("What the front gains", "What the rear does", "Where it counts twice"):
            page.get_by_label(title, exact=True).check()
        page.get_by_text("3 chosen.").wait_for()
        fill(page, "Name of the assignment", "Week 3")
        press(page, "Write what to hand out")
        page.get_by_text("Written for 3 codes").wait_for()
        assert sheet.errors() == []
    desk = Desk(place / "my_class")
    work = desk.assignment("Week 3")
    shutil.copy(desk.hand_out_folder(work) / "Week_3.assignment.txt", place)
    return desk, work


def start(page, ticket):
    """Type a ticket."""
    press(page, "Look again for files")
    fill(page, "Code", shown_code(ticket.code).lower())
    fill(page, "Number key", ticket.key)
    press(page, "Start")
    page.get_by_text(" of 3 right").first.wait_for()


def at_work(place, ticket, name="front_gain"):
    """The problem a student sees now."""
    return Homework(ticket, place).problem(name)


def test_by_keyboard_alone_wrong_then_right(lab, place, week):
    ticket = week[0].tickets(week[1])[0]
    with lab.open("notebooks/homework.ipynb") as sheet:
        ready(sheet)
        page = sheet.page
        start(page, ticket)
        page.locator(".lv-panel").get_by_label("Your answer").first.focus()
        page.keyboard.type(at_work(place, ticket).given["W"])
        page.keyboard.press("Enter")
        page.get_by_text("Not yet.").first.wait_for()
        on_button(page, "New numbers")
        page.keyboard.press("Enter")
        page.get_by_text("Try 2.").first.wait_for()
        page.wait_for_function("() => document.activeElement.matches('input[type=text]')")
        page.keyboard.type(f"{at_work(place, ticket).answer:.1f}")
        page.keyboard.press("Enter")
        page.get_by_text("1 of 3 right").wait_for()
        on_button(page, "Next problem")
        sheet.picture("homework_right")
        assert sheet.errors() == []
    kept = read_answers(Homework(ticket, place).path.read_bytes())
    assert [answer.number for answer in kept.answers] == [1, 2] and not kept.notes


@pytest.mark.parametrize("by", ["Enter", "Check"])
def test_no_check_overtakes_what_was_typed(lab, by):
    """Ten characters typed without a pause, then Enter or the button at once: the whole number is
    read, every time.
    """
    with lab.open("notebooks/homework.ipynb") as sheet:
        ready(sheet)
        page, panel = sheet.page, sheet.page.locator(".lv-panel", has_text="This is practice").last
        for _ in range(5):
            panel.get_by_label("Your answer").focus()
            page.keyboard.type("12345.6789")
            page.keyboard.press("Enter") if by == "Enter" else panel.get_by_role(
                "button", name="Check"
            ).click()
            on_button(page, "New numbers")
            assert "12,345.6789" in panel.locator(".lv-reply").inner_text()
            page.keyboard.press("Enter")
            page.wait_for_function("() => document.activeElement.matches('input[type=text]')")
        assert sheet.errors() == []


def test_a_killed_kernel_loses_nothing_and_the_page_takes_up_again(lab, place, week):
    ticket = week[0].tickets(week[1])[1]
    with lab.open("notebooks/homework.ipynb") as sheet:
        ready(sheet)
        page = sheet.page
        start(page, ticket)
        fill(page, "Your answer", "1 kg")
        press(page, "Check")
        page.get_by_text("Not yet.").wait_for()
        page.evaluate(RESTART)
        sheet.run_all()
        page.get_by_label("Ticket").first.select_option(
            label=f"Week 3, code {shown_code(ticket.code)}"
        )
        press(page, "Open this ticket")
        page.get_by_text("Try 2.").first.wait_for()
        assert sheet.errors() == []
    assert Homework(ticket, place).number("front_gain") == 2


def test_two_windows_on_one_ticket_lose_nothing(lab, place, week):
    ticket = week[0].tickets(week[1])[2]
    shutil.copy(place / "homework.ipynb", place / "homework-copy.ipynb")
    with (
        lab.open("notebooks/homework.ipynb") as one,
        lab.open("notebooks/homework-copy.ipynb") as other,
    ):
        for sheet in (one, other):
            ready(sheet)
            start(sheet.page, ticket)
        fill(one.page, "Your answer", "1 kg")
        press(one.page, "Check")
        one.page.get_by_text("Not yet.").wait_for()
        fill(other.page, "Your answer", "2 kg")
        press(other.page, "Check")
        other.page.get_by_text("Another window had answered this try before").wait_for()
        with other.page.expect_download() as saved:
            other.page.get_by_text("Save a copy").first.click()
        copy = read_answers(Path(saved.value.path()).read_bytes())
        assert one.errors() == other.errors() == []
    kept = read_answers(Homework(ticket, place).path.read_bytes())
    assert [answer.typed for answer in kept.answers] == ["1 kg", "2 kg"]
    assert copy == kept
    (place / "homework-copy.ipynb").unlink()


def test_the_class_is_marked(lab, place, week):
    desk, work = week
    for ticket in desk.tickets(work):
        student = Homework(ticket, place)
        student.check("rear_change", right_text(student.problem("rear_change")))
    for path in place.glob("*.answers.txt"):
        shutil.copy(path, desk.came_back_folder(work))
    (desk.came_back_folder(work) / "<img src=x onerror=alert(1)>.txt").write_text("<script>")
    with lab.open("notebooks/instructor_desk.ipynb") as sheet:
        ready(sheet)
        page = sheet.page
        page.evaluate("() => { window.alert = () => { window.ran = true } }")
        press(page, "Mark")
        for words in (
            "Marked. In",
            "3 handed in. Under 5 students",
            "<img src=x onerror=alert(1)>.txt",
        ):
            page.get_by_text(words).first.wait_for()
        press(page, "Put names beside the marks")
        page.get_by_text("01_with_names.csv").first.wait_for()
        assert not page.evaluate("() => window.ran") and sheet.errors() == []
        sheet.picture("class_marked")
    sheets = desk.marked_folder(work) / "01"
    assert len(list((sheets / "hand_back").iterdir())) == 3
    rows = (sheets / "marks.csv").read_text("utf-8-sig").splitlines()
    assert len(rows) == 4 and all(row.split(",")[1] in "123" for row in rows[1:])


def test_question_drawing_and_box_stand_on_the_screen_of_a_laptop_together(lab, place, week):
    """1366 by 768: with less, a student would scroll between the numbers and the box."""
    ticket = week[0].tickets(week[1])[0]
    with lab.open("notebooks/homework.ipynb", width=1366, height=768) as sheet:
        ready(sheet)
        start(sheet.page, ticket)
        panel = sheet.page.locator(".lv-panel:not(.lv-begin)").first
        panel.get_by_label("Problem", exact=True).first.select_option(index=0)
        question = panel.locator("p", has_text="wheelbase is").first.bounding_box()
        drawing = panel.locator(".lv-pic svg.lv-wide").first.bounding_box()
        box = panel.get_by_label("Your answer").first.bounding_box()
        seen = sheet.page.locator(".jp-WindowedPanel-outer").first.bounding_box()
        sheet.picture("homework_laptop")
        assert drawing["height"] > 300
        assert box["y"] + box["height"] - question["y"] < seen["height"] - 60, "and room to read"


@pytest.mark.parametrize("width, dark", [(320, False), (640, True)])
def test_nothing_is_wider_than_a_narrow_page(lab, place, week, width, dark):
    """320 px, and 1280 px at 200 %: no control of the page reaches beyond it."""
    ticket = week[0].tickets(week[1])[0]
    with lab.open("notebooks/homework.ipynb", width=max(width, 420), dark=dark) as sheet:
        ready(sheet)
        start(sheet.page, ticket)
        panel = sheet.page.locator(".lv-panel:not(.lv-begin)").first
        too_wide = panel.evaluate("""(panel) => { const edge = panel.getBoundingClientRect()
            .right + 1;
            return [...panel.querySelectorAll('input,select,button,p')].filter(e => e.offsetParent
                && e.getBoundingClientRect().right > edge)
                .map(e => e.outerHTML.slice(0, 80)) }""")
        sheet.picture(f"homework_{width}")
        assert too_wide == []
