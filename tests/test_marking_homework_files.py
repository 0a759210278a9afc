"""Files a student brings along: known by what is in them, kept whole, never losing an answer."""

import pytest

from leverarm.marking import Homework, add_file, files_beside, practice_ticket
from leverarm.marking.assignment import file_text
from leverarm.panels import homework
from leverarm.quantities import Refusal


def answered(folder, *typed):
    """A homework with answers to its first item."""
    folder.mkdir(exist_ok=True)
    work = Homework(practice_ticket(), folder)
    for one in typed:
        work.check(work.items[0].name, one)
    return work


def test_a_saved_answer_file_is_taken_up_again_in_a_later_visit(tmp_path):
    first = answered(tmp_path / "monday", "1 kg", "2 kg")
    later = tmp_path / "tuesday"
    later.mkdir()
    assert "2 answers" in add_file(first.path.read_bytes(), later)
    again = Homework(practice_ticket(), later)
    item = first.items[0].name
    assert again.answers(item) == first.answers(item) and again.number(item) == 3


def test_answers_are_added_to_those_that_are_there_and_none_twice(tmp_path):
    first, here = answered(tmp_path / "a", "1 kg"), answered(tmp_path / "b", "5 kg", "6 kg")
    for _ in range(2):
        add_file(first.path.read_bytes(), here.folder)
    lines = here.path.read_text("utf-8").splitlines()
    assert len(lines) == 1 + 3
    assert here.refresh().answers(here.items[0].name)[1].typed == "5 kg"


def test_a_student_is_told_to_hand_in_both_files_where_they_answer_the_same_try(tmp_path):
    """School right, home wrong: in one file the first answer counts, so both files are wanted."""
    school, home = answered(tmp_path / "school", "2 kg"), answered(tmp_path / "home", "1 kg")
    words = add_file(school.path.read_bytes(), home.folder)
    assert (
        "1 of them is to a try that has an answer here already. Hand in the file you brought"
        in words
    )
    assert "Hand in" not in add_file(school.path.read_bytes(), school.folder)


def test_a_ticket_and_an_assignment_are_known_by_what_is_in_them(tmp_path):
    ticket = practice_ticket()
    assert "assignment" in add_file(file_text(ticket.assignment).encode(), tmp_path)
    assert files_beside(tmp_path).assignments == (ticket.assignment,)
    assert "ticket" in add_file(file_text(ticket).encode(), tmp_path)
    assert files_beside(tmp_path).tickets == (ticket,)


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"Dear",
        b"{}",
        b"\xff\xfe\x00",
        b"[" * 10**6,
        b"x" * 3_000_000,
        b'{"lever-arm answers": 99}',
    ],
)
def test_other_files_are_refused_in_one_sentence_and_leave_nothing(tmp_path, data):
    with pytest.raises(Refusal, match="a ticket, an assignment or an answer file"):
        add_file(data, tmp_path)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["../up", "a/b", "..\\\\up"])
def test_a_file_cannot_name_a_place_outside(tmp_path, name):
    work = answered(tmp_path / "a", "1 kg")
    spoiled = work.path.read_text("utf-8").replace(f'"{work.ticket.assignment.name}"', f'"{name}"')
    assert name.split("\\")[0] in spoiled
    with pytest.raises(Refusal):
        add_file(spoiled.encode(), tmp_path / "a")
    assert {path.name for path in tmp_path.iterdir()} == {"a"}


def test_the_homework_page_takes_a_file_and_goes_on(tmp_path):
    first = answered(tmp_path / "monday", "1 kg")
    later = tmp_path / "tuesday"
    later.mkdir()
    page = homework(later)
    page.tickets.take(file_text(first.ticket).encode(), first.path.read_bytes())
    assert "1 answer" in page.tickets.brought.value and page.tickets.found.tickets == (
        first.ticket,
    )
    page.use(page.tickets.found.tickets[0])
    assert page.work.answers(first.items[0].name)
