"""Progress of a code over the weeks, and old problems that come back after a week and a month."""

import json
from datetime import date, timedelta

import pytest
from class_files import answer_text, right, ticket_of

from leverarm import panels
from leverarm.marking import Assignment, Desk
from leverarm.marking.answer_file import Answer, line
from leverarm.marking.assignment import file_text, read_assignment
from leverarm.marking.codes import shown_code
from leverarm.marking.homework import given_text, problem_for
from leverarm.quantities import Refusal

TODAY = date(2131, 3, 31)
WEEKS = {
    "Week 1": (35, ["machine_weight", "front_share"]),
    "Week 4": (8, ["front_gain", "rear_change"]),
    "Week 5": (1, ["new_front_reading"]),
}


def hand_in(desk, assignment, good):
    """Six files; good[i] students are right at the first try of problem i, the others later."""
    for at, code in enumerate(desk.codes[:6]):
        ticket, rows = ticket_of(code, assignment, desk.class_key), []
        for item, number in zip(assignment.items, good, strict=True):
            for turn in (1, 2):
                problem = problem_for(ticket, item, turn)
                typed = right(problem) if turn == 2 or at < number else "1.234"
                rows.append(line(Answer(item.name, turn, given_text(problem), typed)))
        path = desk.came_back_folder(assignment) / f"{ticket.stem}.answers.txt"
        path.write_text(answer_text(ticket, rows))


@pytest.fixture
def desk(tmp_path):
    made = Desk(tmp_path / "class")
    made.start(7)
    for name, (ago, kinds) in WEEKS.items():
        work = Assignment(name, kinds, system="lb")
        made.write_assignment(work, TODAY - timedelta(ago))
        hand_in(made, work, [2, 5][: len(kinds)])
        made.mark(name)
    return made


def test_a_code_is_followed_over_the_weeks(desk):
    assert desk.progress.of(desk.codes[0]) == [
        ("Week 1", "2131-02-24", "22"),
        ("Week 4", "2131-03-23", "22"),
        ("Week 5", "2131-03-30", "2"),
    ]
    assert [row[2] for row in desk.progress.of(desk.codes[5])] == ["11", "11", "1"]
    assert [row[2] for row in desk.progress.of(desk.codes[6])] == ["", "", ""]


def test_marking_again_changes_nothing_and_the_day_stays(desk):
    before = desk.progress.path.read_bytes()
    desk.mark("Week 4")
    desk.write_assignment(desk.assignment("Week 4"))
    assert desk.progress.path.read_bytes() == before


def test_it_lies_with_the_keys_and_on_no_page_of_the_class(desk):
    assert desk.progress.path.parent == desk.private
    for path in (*desk.folder.glob("marked/*/*/*.html"), *desk.folder.glob("hand_out/**/*")):
        assert not path.is_file() or b"lever-arm progress" not in path.read_bytes()


@pytest.mark.parametrize(
    "spoiled",
    [b"", b"{", b"[]", b'{"lever-arm progress": 2}', b"\xff" * 40, b"[" * 5000,
     b'{"lever-arm progress": 1, "assignments": {"Week 1": {"set": "soon"}}}',
     b'{"lever-arm progress": 1, "assignments": {"Week 1": 3}}'],
)  # fmt: skip
def test_a_spoiled_file_is_kept_aside_and_marking_goes_on(desk, spoiled):
    desk.progress.path.write_bytes(spoiled)
    desk.mark("Week 4")
    aside = desk.progress.path.with_name("progress.json.damaged")
    assert aside.read_bytes() == spoiled
    assert [row[0] for row in desk.progress.of(desk.codes[0])] == ["Week 4"]


# Old problems -------------------------------------------------------------------------------------


def test_one_is_of_a_week_ago_and_one_of_a_month_ago_the_hardest_of_each(desk):
    found = desk.progress.old_problems(TODAY)
    assert [(one.kind, one.assignment, one.days, one.first, one.answered) for one in found] == [
        ("front_gain", "Week 4", 8, 2, 6),
        ("machine_weight", "Week 1", 35, 2, 6),
    ]


def test_what_the_new_set_has_already_is_not_asked_twice(desk):
    found = desk.progress.old_problems(TODAY, ["front_gain", "machine_weight"])
    assert [one.kind for one in found] == ["rear_change", "front_share"]


def test_early_in_the_year_both_are_of_the_last_weeks_or_there_is_none(desk):
    early = desk.progress.old_problems(date(2131, 3, 5))  # only week 1, nine days ago
    assert [(one.kind, one.assignment) for one in early] == [
        ("machine_weight", "Week 1"),
        ("front_share", "Week 1"),
    ]
    assert desk.progress.old_problems(date(2131, 2, 26)) == ()


def test_the_assignment_file_carries_which_and_marking_works_them_out_again(desk):
    work = desk.mixed(Assignment("Week 6", ["where_double"], system="lb"), TODAY)
    desk.write_assignment(work, TODAY)
    again = read_assignment(file_text(work).encode())
    assert again == work and [item.old for item in again.items] == ["", "Week 4", "Week 1"]
    hand_in(desk, work, [6, 6, 3])
    result, sheets = desk.mark("Week 6")
    assert [row.first for row in result.items] == [6, 6, 3]
    assert "again, from Week 4" in (sheets / "teach_tomorrow.html").read_text("utf-8")
    # Written once more, after codes were added, it keeps the problems that it has.
    same = desk.mixed(Assignment("Week 6", ["where_double"], system="lb"), TODAY + timedelta(9))
    assert same == work


def test_an_old_problem_has_new_numbers(desk):
    work = desk.mixed(Assignment("Week 6", ["where_double"], system="lb"), TODAY)
    code = desk.codes[0]
    new = problem_for(ticket_of(code, work, desk.class_key), work.items[1], 1)
    old = desk.assignment("Week 4")
    before = problem_for(ticket_of(code, old, desk.class_key), old.items[0], 1)
    assert new.kind == before.kind and new.given != before.given


def test_a_file_of_before_has_none_and_its_text_is_unchanged():
    plain = Assignment("Week 1", ["front_gain"])
    assert '"old"' not in file_text(plain) and read_assignment(file_text(plain).encode()) == plain


@pytest.mark.parametrize("old", [3, ["front_gain"], {"rear_change": "Week 1"}, {"front_gain": 3}])
def test_a_file_whose_old_problems_cannot_be_is_refused(old):
    record = json.loads(file_text(Assignment("Week 1", ["front_gain"]))) | {"old": old}
    with pytest.raises(Refusal):
        read_assignment(json.dumps(record).encode())


# The panels ---------------------------------------------------------------------------------------


def test_the_panels_mix_in_and_show_a_code_and_clear_it(desk):
    page = panels.desk(desk.folder)
    page.choose.choose("where_double")
    page.choose.mix.value = True
    assert "nothing to mix in yet" in page.choose.old.value  # these weeks lie in the future
    page.progress.code.value = shown_code(desk.codes[0])
    page.progress.show_button.click()
    assert "Week 4" in page.progress.shown.value
    page.progress.clear_button.click()
    assert page.progress.shown.value == "" and page.progress.code.value == ""
    page.progress.code.value = "K7MP-TDX"
    page.progress.show_button.click()
    assert "code" in page.progress.error.value
