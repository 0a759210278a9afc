"""The homework page and the instructor's desk, through their code and through their buttons."""

import html
import os
import re

import pytest
from class_files import demo_codes, numeric_kinds, ticket_of, write_class

from leverarm import exercises, panels
from leverarm.exercises.numbers import NumberKind
from leverarm.handouts.tickets import print_tickets
from leverarm.marking import (
    Assignment,
    Homework,
    files_beside,
    mark_folder,
    number_key,
    shown_code,
)
from leverarm.marking import answer_file as paper
from leverarm.marking.assignment import file_text
from leverarm.marking.codes import DEMO_KEY
from leverarm.marking.demo import right_text
from leverarm.panels import answers_kept
from leverarm.quantities import Refusal

KINDS = ["front_gain", "rear_change", "where_double", "formula_front_gain", "body_bucket"]
WEEK = Assignment("Week 3", KINDS, tries=3, hints=2, due="2031-03-14")
CODE = demo_codes(1)[0]
TICKET = ticket_of(CODE, WEEK)


def shown(control):
    return control.layout.display != "none"


def text_of(piece):
    return html.unescape(re.sub("<[^>]+>", "", piece.value))


@pytest.fixture
def home(tmp_path):
    (tmp_path / "Week_3.assignment.txt").write_text(file_text(WEEK))
    return panels.homework(tmp_path)


def opened(folder):
    """The homework of a folder with the ticket open."""
    page = panels.homework(folder)
    page.use(TICKET)
    return page


@pytest.fixture
def work(home):
    home.start(CODE, TICKET.key)
    return home


# The ticket -----------------------------------------------------------------------------------


def test_without_any_file_the_page_waits_and_says_for_what(tmp_path):
    empty = panels.homework(tmp_path)
    assert (
        empty.work is None
        and ".assignment.txt" in empty.tickets.advice.value
        and not shown(empty.tickets.boxes)
        and not shown(empty.page)
    )
    (tmp_path / "Week_3.assignment.txt").write_text(file_text(WEEK))
    empty.look()
    assert shown(empty.tickets.boxes) and empty.tickets.assignments.label == "Week 3"


def test_a_typed_ticket_is_typed_once(home, tmp_path):
    home.tickets.code.value, home.tickets.key_box.value = (
        shown_code(CODE).lower(),
        TICKET.key.lower().replace("-", " "),
    )
    home.tickets.start_button.click()
    assert (
        not home.error.value
        and home.work.ticket == TICKET
        and files_beside(tmp_path).tickets == (TICKET,)
    )
    again = panels.homework(tmp_path)
    assert again.work is None and shown(again.tickets.chosen)
    again.tickets.use_button.click()
    assert again.work.ticket == TICKET


@pytest.mark.parametrize(
    "code, key, says",
    [
        ("", "", "7 characters"),
        (
            CODE[:-1] + "3" if CODE[-1] != "3" else CODE[:-1] + "4",
            TICKET.key,
            "one character is wrong",
        ),
        (CODE, "", "16 characters"),
        (CODE, number_key(DEMO_KEY, demo_codes(2)[1], "Week 3"), "compare code"),
        (CODE, "O" * 16, "O is never used"),
    ],
)
def test_a_wrong_ticket_is_told_in_a_sentence_and_nothing_starts(home, tmp_path, code, key, says):
    home.tickets.code.value, home.tickets.key_box.value = code, key
    home.tickets.start_button.click()
    assert says in home.error.value and home.work is None and not files_beside(tmp_path).tickets


def test_a_broken_file_beside_the_notebook_is_named(tmp_path):
    (tmp_path / "<b>x.ticket.txt").write_text("{")
    broken = panels.homework(tmp_path)
    assert (
        "&lt;b&gt;x.ticket.txt" in broken.tickets.advice.value
        and "<b>x" not in broken.tickets.advice.value
    )


# Working ------------------------------------------------------------------------------------


def test_a_wrong_answer_names_the_slip_keeps_the_try_and_brings_new_numbers(work):
    first = work.problem
    verdict = work.answer(first.given["W"])
    assert (
        not verdict.right and "hung weight" in work.reply.value and "Not yet." in work.reply.value
    )
    assert len(paper.read_answers(work.work.path.read_bytes()).answers) == 1
    assert (
        shown(work.again_button)
        and shown(work.solution_button)
        and not shown(work.check_button)
        and work.field.box.disabled
    )
    work.solution_button.click()
    assert right_text(first).split()[0][:4] in work.solution.value.replace("−", "-")
    work.again_button.click()
    assert (
        work.problem.given != first.given
        and work.number == 2
        and "Try 2 of 3" in work.statement.value
        and not work.solution.value
    )


def test_a_right_answer_leads_on(work):
    assert work.answer(right_text(work.problem)).right
    assert (
        "✓ Right" in work.reply.value
        and "1 of 5 right" in work.head.value
        and not shown(work.again_button)
    )
    work.next_button.click()
    assert work.name == "rear_change" and work.verdict is None


def test_what_cannot_be_read_is_no_try_and_stays_in_the_box(work):
    for typed in ("plenty", "", "277-278 kg"):
        assert not work.answer(typed).counts
        assert (
            "Not counted as a try" in work.reply.value
            and work.field.text == typed
            and shown(work.check_button)
        )
    assert not work.work.path.exists() and work.number == 1


def test_hints_go_as_far_as_the_assignment_and_are_noted(work):
    for _ in range(4):
        work.hint_button.click()
    assert work.hints.value.count("Hint") == 2 and work.hint_button.disabled
    work.answer("1 kg")
    assert paper.read_answers(work.work.path.read_bytes()).answers[0].hints == 2


def test_after_the_last_try_there_is_no_other_and_the_way_is_open(work):
    for number in range(3):
        work.answer("1 kg")
        assert shown(work.again_button) == (number < 2)
        if number < 2:
            work.again()
    assert "no try left" in dict(map(reversed, work.items.options))["front_gain"] and shown(
        work.solution_button
    )
    work.go("front_gain")
    assert work.verdict is not None and not shown(work.check_button)


def test_every_style_of_problem_can_be_answered_right(work):
    for at, item in enumerate(WEEK.items, 1):
        work.go(at)
        assert work.name == item.name and work.answer(right_text(work.problem)).right, item.name
    assert "5 of 5 right" in work.head.value
    work.next()
    assert work.verdict.right, "a problem that is done is shown as it was answered"


def test_a_reopened_page_takes_up_where_it_was(work, tmp_path):
    work.answer(right_text(work.problem))
    work.next()
    work.answer("1 kg")
    again = opened(tmp_path)
    assert (again.name, again.number) == ("rear_change", 2) and "1 of 5 right" in again.head.value
    again.items.value = "front_gain"
    assert again.verdict.right and again.field.box.disabled


def test_two_pages_on_one_ticket(work, tmp_path):
    other = opened(tmp_path)
    work.answer("1 kg")
    other.answer("2 kg")
    assert "Another window had answered this try before" in other.reply.value
    assert len(paper.read_answers(work.work.path.read_bytes()).answers) == 2
    other.again()
    assert other.number == 2


def test_nothing_typed_reaches_the_page_as_html(work):
    for typed in ("<script>alert(1)</script>", '190 <img src=x onerror="alert(1)">', "<b>190</b>"):
        work.answer(typed)
        assert not re.search(r"<(script|img|b>190)", work.reply.value)


def test_a_full_disk_is_said_and_the_answer_stays_in_the_box(work, monkeypatch):
    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    work.field.write("190 kg")
    work.check_button.click()
    assert (
        "disk is full" in work.error.value
        and work.field.text == "190 kg"
        and shown(work.check_button)
    )
    monkeypatch.undo()
    work.check_button.click()
    assert (
        not work.error.value and len(paper.read_answers(work.work.path.read_bytes()).answers) == 1
    )


def test_the_copy_to_save_is_the_file(work):
    from base64 import b64decode

    work.answer("1 kg")
    copy = re.search(r"base64,([^\"]+)", work.kept.said.value).group(1)
    assert b64decode(copy) == work.work.path.read_bytes()


def stamp(panel):
    """What the page is told of answers that live in this tab alone: nothing on a desktop, "" where
    none is fresh.
    """
    found = re.search(
        r'class="lv-answers" data-file="[^"]+" data-stamp="(\w*)"', panel.kept.said.value
    )
    return found and found.group(1)


def test_where_files_last_nothing_is_said_of_a_tab(work):
    work.answer("1 kg")
    assert (
        stamp(work) is None
        and "tab" not in work.kept.said.value
        and "beside this notebook" in work.kept.said.value
    )


def test_in_a_tab_every_kept_answer_has_a_stamp_of_its_own(work, tmp_path, monkeypatch):
    monkeypatch.setattr(answers_kept, "IN_BROWSER", True)
    work.redraw()
    assert stamp(work) is None and "beside this notebook" not in work.kept.said.value
    work.answer("nonsense")
    assert stamp(work) is None, "nothing is kept, so nothing can be lost"
    work.answer("1 kg")
    first = stamp(work)
    assert first and "in this tab only, until you save a copy" in work.kept.said.value
    work.again()
    assert stamp(work) == first, "no new answer, no new stamp"
    work.answer("2 kg")
    assert stamp(work) not in (first, "", None)
    later = opened(tmp_path)
    assert stamp(later) == "", "answers of an earlier visit are in a file already"
    later.next()
    later.answer("3 kg")
    assert stamp(later)


def test_the_file_is_shown_as_it_is_while_it_is_open(work):
    assert not shown(work.kept.look), "there is no file yet"
    work.answer("1 kg")
    assert shown(work.kept.look) and not shown(work.kept.held)
    work.kept.look.click()
    for typed in ("1 kg", "2 kg"):
        text = text_of(work.kept.held)
        assert shown(work.kept.held) and text == work.work.path.read_text("utf-8")
        assert typed in text
        work.again()
        work.answer("2 kg")
    work.kept.look.click()
    assert not shown(work.kept.held)


@pytest.mark.parametrize(
    "asked, typed, says",
    [
        ("a weight", "190", "is read as 190 lb"),
        ("a weight", "−12,5 kg", "is read as −12.5 kg"),
        ("a weight", "plenty", "cannot be read as a number"),
        ("a weight", "3 ft", "ft measures length"),
        ("a weight", "", ""),
        ("a length", "5 ft 5 in", "is read as 65 in"),
        ("a length", "<b>1</b>", "<b>1</b> cannot be read"),
        ("a formula", "2W", "is read as 2 × W"),
        ("a formula", "W plus a", "is not a letter"),
    ],
)
def test_how_an_answer_is_read_is_told_and_never_whether_it_is_right(asked, typed, says):
    panels.shared.set(system="lb")
    one = panels.how_read()
    one.asked.value = asked
    one.box.value = typed
    told = text_of(one.told)
    assert says in told and not one.error.value and "<b>1<" not in one.told.value
    for words in ("Right", "Not yet", "question asks for the change", "Check this step"):
        assert words not in told
    assert ("no try" in told) is bool(says and "is read as" not in says)


def test_an_example_is_read_at_a_press_and_in_the_units_shown():
    one = panels.how_read()
    for system in ("kg", "lb"):
        panels.shared.set(system=system)
        next(each for each in one.examples.children if each.description == "190").click()
        assert f"is read as 190 {system}" in text_of(one.told)
    assert all(each.description for each in one.examples.children)


def test_practice_leaves_nothing_beside_the_notebook(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    one = panels.practice()
    one.answer("1 kg")
    assert list(tmp_path.iterdir()) == [] and "are gone" in one.kept.said.value


# The desk -----------------------------------------------------------------------------------


@pytest.fixture
def desk(tmp_path):
    return panels.desk(tmp_path / "my_class", print_tickets=print_tickets)


def named_controls(widget):
    """Every control under a widget by the name that is read aloud."""
    found = [getattr(widget, "description", "")]
    return [
        *filter(None, found),
        *(name for one in getattr(widget, "children", ()) for name in named_controls(one)),
    ]


def test_every_control_of_the_choice_has_a_name_of_its_own(desk):
    desk.choose.choose("front_gain", "rear_change", "total_change")
    desk.choose.lesson.value = 2
    names = named_controls(desk.choose.widget)
    assert "What the front gains" in names and "How hard: What the front gains" in names
    assert len(set(names)) == len(names)


def test_nothing_is_written_before_a_button_is_pressed(desk, tmp_path):
    assert list(tmp_path.iterdir()) == [] and desk.marks.mark_button.disabled
    assert "no class key yet" in desk.codes.said.value and not shown(desk.codes.add_button)


def test_a_whole_round(desk, tmp_path):
    desk.codes.students.value = "6"
    desk.codes.make_button.click()
    assert "6 codes" in desk.codes.said.value and not shown(desk.codes.make_button)
    desk.choose.lesson.value = 2
    for box in desk.choose.boxes.children:
        box.value = box.description in ("What the front gains", "What the rear does")
    desk.choose.look_button.click()
    assert (
        desk.choose.chosen == ("front_gain", "rear_change")
        and desk.choose.sample.value.count("Answer:") == 2
    )
    desk.choose.name.value, desk.choose.due.value = "Week 3", "2031-03-14"
    desk.choose.write_button.click()
    assert not desk.choose.error.value and "Written for 6 codes" in desk.choose.written.value
    week = desk.desk.assignment("Week 3")
    made = (desk.desk.hand_out_folder(week) / "Week_3_tickets.html").read_text("utf-8")
    assert made.startswith("<!DOCTYPE html>") and made.count("<article>") == len(
        desk.desk.tickets(week)
    )
    for ticket in desk.desk.tickets(week)[:5]:
        student = Homework(ticket, desk.desk.came_back_folder(week))
        student.check("front_gain", student.problem("front_gain").given["W"])
        student.check("rear_change", right_text(student.problem("rear_change")))
    desk.marks.mark_button.click()
    assert (
        not desk.marks.error.value
        and "5 of 5 gave the hung weight" in desk.marks.shown.text
        and "<svg" in desk.marks.shown.text
    )
    assert desk.marks.result.handed_in == 5 and "re-teach lesson 02" in desk.marks.shown.text
    assert desk.names.join().is_file()


def test_mistakes_at_the_desk_are_told_in_the_panel(desk):
    desk.codes.students.value = "many"
    desk.codes.make_button.click()
    assert "how many" in desk.codes.error.value
    desk.choose.write_button.click()
    assert "name" in desk.choose.error.value
    with pytest.raises(Refusal):
        desk.choose.choose("nothing")
    desk.codes.start(3)
    desk.choose.choose("front_gain").write(Assignment("Week 3", ["front_gain"]))
    desk.marks.came.value = "date"
    desk.marks.mark_button.click()
    assert "that date" in desk.marks.error.value
    desk.marks.date.value = "soon"
    desk.marks.mark_button.click()
    assert "2031-03-14" in desk.marks.error.value
    desk.marks.came.value = "files"
    desk.marks.place.value = "nowhere"
    desk.marks.mark_button.click()
    assert "folder or a zip file" in desk.marks.error.value and not shown(desk.marks.bar)
    desk.names.roster.value = "nowhere.csv"
    assert not desk.names.path


def test_a_hostile_file_does_no_harm_at_the_desk(desk):
    desk.codes.start(1)
    desk.choose.write(Assignment("Week 3", ["front_gain"]))
    week = desk.desk.assignment("Week 3")
    (desk.desk.came_back_folder(week) / "<img src=x onerror=alert(1)>.txt").write_text("<script>")
    desk.marks.mark()
    assert "<img" not in desk.marks.shown.text and "&lt;img" in desk.marks.shown.text


@pytest.mark.parametrize("name, size", [("A4", "8.27in 11.69in"), ("Letter", "8.5in 11in")])
def test_tickets_are_four_a_page_and_the_same_bytes_every_time(name, size, tmp_path):
    handed = [ticket_of(code, WEEK) for code in demo_codes(5)]
    first, again = (
        print_tickets(handed, tmp_path / f"{n}.html", name).read_bytes() for n in range(2)
    )
    assert first == again and f"@page{{size:{size}}}" in first.decode()
    pages = first.decode().split('class="page"')[1:]
    assert [page.count("<article>") for page in pages] == [4, 1]
    for ticket in handed:
        assert f"<dd>{ticket.key}</dd>" in first.decode()


def test_a_long_name_is_set_smaller_and_another_paper_or_ending_is_refused(tmp_path):
    work = Assignment("Week 3 of the machine behind the shed 4", ["front_gain"])
    ticket = ticket_of(demo_codes(1)[0], work)
    made = print_tickets([ticket], tmp_path / "x.html").read_text("utf-8")
    assert f'<h2 class="long">{work.name}</h2>' in made
    for path, size in (("x.html", "foolscap"), ("x.pdf", "A4")):
        with pytest.raises(Refusal):
            print_tickets([ticket], tmp_path / path, size)


def test_every_problem_can_be_chosen(desk):
    desk.choose.choose(*(kind.name for kind in exercises.problems()[:100]))
    assert len(desk.choose.chosen) == 100


# The same wrong turn twice --------------------------------------------------------------------


def with_lever_upside_down(problem):
    """W L/(L + a), in the numbers as shown, to three digits."""
    at = problem.drawn.shown
    return f"{at['W'] * at['L'] / (at['L'] + at['a']):.3g}"


@pytest.mark.parametrize("again", [True, False])
def test_one_wrong_turn_at_two_tries_is_told_for_both(tmp_path, again):
    """Each try has its own numbers; the desk, which reads the file alone, finds the same."""
    work = Homework(TICKET, tmp_path)
    one, two = (work.problem("front_gain", number) for number in (1, 2))
    first = with_lever_upside_down(one) if again else f"{1.9 * one.answer:.3g}"
    second = with_lever_upside_down(two)
    alone = exercises.check(two, second)
    work.check("front_gain", first)
    told = work.check("front_gain", second)
    assert told.finding.startswith("The same again: ") is again
    assert (told.finding == alone.finding) is not again
    if again:
        assert f"{first} {one.unit} and {second} {two.unit} are both" in told.finding
    assert Homework(TICKET, tmp_path).verdict("front_gain", 2).finding == told.finding
    students = []
    mark_folder(tmp_path, DEMO_KEY, assignment=WEEK, each=students.append)
    checks = students[0].work["front_gain"]
    assert [one.verdict.finding for one in checks][1] == told.finding
    assert not checks[0].verdict.finding.startswith("The same again")


def test_each_try_is_checked_once_however_often_it_was_wrong(tmp_path, monkeypatch):
    """Two wrong tries and a right one of each problem: three checks, and the same replies."""
    checks = []
    check = NumberKind.check

    def counted(kind, problem, typed, *more):
        checks.append(typed)
        return check(kind, problem, typed, *more)

    monkeypatch.setattr(NumberKind, "check", counted)
    week = write_class(tmp_path, 3, 4, tries=3, kinds=numeric_kinds()[20:24])
    mark_folder(tmp_path, DEMO_KEY, assignment=week)
    assert len(checks) == 3 * 4 * 3


def test_a_second_wrong_try_is_read_with_the_first_at_home_and_when_marked(tmp_path):
    """The hung weight alone, twice, with other numbers: "The same again" in both places."""
    work = Homework(ticket_of(demo_codes(1)[0], Assignment("Week 3", ["front_gain"])), tmp_path)
    for _ in range(2):
        said = work.check("front_gain", work.problem("front_gain").given["W"])
    assert said.finding.startswith("The same again")
    assert Homework(work.ticket, tmp_path).verdict("front_gain", 2) == said
    marked = []
    mark_folder(tmp_path, DEMO_KEY, assignment=work.ticket.assignment, each=marked.append)
    (checked,) = (one for one in marked[0].work["front_gain"] if one.answer.number == 2)
    assert checked.verdict == said
