"""A class is led through every lesson that has a stage: nothing that comes later is on the page."""

import pytest
from test_spoilers import FILES, given_away, whole_page

from leverarm import panels
from leverarm.data import lessons, toml_file
from leverarm.exercises.room import read_called, read_hands
from leverarm.panels.base import shared
from leverarm.panels.class_view import STAGED, STAGES
from leverarm.quantities import Refusal

KG = 0.45359237


@pytest.fixture(autouse=True)
def alone(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    before = shared.system, shared.large
    shared.set(system="lb")
    yield
    shared.set(system=before[0], large=before[1])


def typed(view):
    """What a room says, or votes, at the step shown."""
    if view.step == "ask":
        view.say(**dict.fromkeys(view.boxes, ("12, 5, 8", "30, 40; 20")))
    if view.step in ("vote", "again"):
        count = len(view._options)
        view.vote_box.value = ", ".join(map(str, range(1, count + 1)))


def page_of(view):
    """Everything of the view, hidden or not, as a reader or a search would find it."""
    return whole_page([], [view])


@pytest.mark.parametrize("lesson", STAGES)
def test_no_step_holds_what_comes_later(lesson):
    view, number, there, told = panels.class_view(lesson), int(lesson), [], set()
    assert number in FILES
    poll = toml_file(f"lesson_{lesson}").part("poll")
    right = "The right answer is" if "poll" in toml_file(f"lesson_{lesson}") else None
    exit_question = toml_file(f"lesson_{lesson}").part("exit").text("question")[:25].lower()
    while True:
        text = page_of(view)
        there.append(given_away(text, number, "lb"))
        # Before the last question only what an earlier one has shown is there.
        if view.step == "ask":
            assert set(there[-1]) <= told, view.at
        told.update(there[-1])
        if view.step in STAGED and "vote" in view.steps:
            assert poll.text("question").lower() not in text
        if right and view.step != "answer":
            assert right.lower() not in text, "no answer before the second vote is closed"
        assert (exit_question in text) == (view.step in ("exit", "compare"))
        if view.at == len(view.steps) - 1:
            break
        typed(view)
        view.go_on()
        assert not view.error.value
    # The way back shows each step without what came after it.
    while view.at:
        view.back()
        if view.step == "ask":
            assert given_away(page_of(view), number, "lb") == there[view.at]
        if view.step in ("vote", "again"):
            assert right.lower() not in page_of(view)
    assert view.said and view.step == "ask" and view.answered and there[0] == []
    assert told, "what answers came in its turn"
    view.go_on()
    assert view.at == 1, "what was locked in is not asked again"


def test_every_lesson_can_be_led_and_one_without_a_stage_has_its_vote_and_exit():
    for number in lessons():
        view = panels.class_view(f"{number:02d}")
        assert not view.error.value and view.steps
        assert ("ask" in view.steps) == (f"{number:02d}" in STAGES)
    with pytest.raises(Refusal, match="lesson: 99 was given; 01 to"):
        panels.class_view("99")


def test_the_middle_of_the_room_is_what_the_stage_hears():
    view = panels.class_view("02")
    view.say(front=("12, 5, 8", "260, 130, 520"), rear=("", "0 -50 −100 200"))
    view.go_on()
    # In order 130, 260, 520 and -100, -50, 0, 200: the middles are 260 and -25.
    assert view.stage.said["front"] / KG == pytest.approx(260)
    assert view.stage.said["rear"] / KG == pytest.approx(-25)
    assert "12 more, 5 the same, 8 less" in view.summary.value
    assert "−100, −50, 0, +200 lb" in view.summary.value


@pytest.mark.parametrize(
    ("hands", "numbers", "says"),
    [
        ("12, 5 , -3", "260", "Front, hands: 12, 5 , -3 was given; 3 whole numbers"),
        ("400, 0, 0", "260", "Front, hands: 400 hands was given; 1 to 300 hands"),
        ("12, 5", "260", "3 whole numbers, for more, the same, less"),
        ("0, 0, 0", "260", "Front, hands: 0 hands was given"),
        ("12.5, 5, 8", "260", "3 whole numbers"),
        ("", "", "Front, numbers: nothing was given; 1 to 60 numbers"),
        ("", "plenty", "Front, numbers: plenty lb was given"),
        ("", "9e99", "Front, numbers"),
        ("", "1 " * 61, "1 to 60 numbers"),
        ("", "5000", "front change"),
    ],
)
def test_strange_counts_are_refused_in_one_sentence_and_nothing_is_lost(hands, numbers, says):
    view = panels.class_view("02")
    view.say(front=(hands, numbers), rear=("3, 20, 2", "0"))
    view.attempt(view.go_on)
    assert says in view.error.value and view.at == 0 and not view.said
    assert view.boxes["rear"]["hands"].value == "3, 20, 2"
    view.say(front=("12, 5, 8", "260"))
    view.attempt(view.go_on)
    assert view.at == 1 and not view.error.value


def test_a_restart_in_the_middle_says_so_and_starts_over():
    view = panels.class_view("02")
    typed(view)
    view.go_on()
    again = panels.class_view("02")
    assert again.at == 0 and not again.said
    assert "was at step 2 when this page last ran. It starts over" in again.note.value
    assert panels.class_view("02").note.value == ""
    view.start_over()
    assert view.at == 0 and not view.said and not view.stage.locked
    assert "starts over with the question" in view.note.value


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("260, 130, -50", (260, 130, -50)),
        ("260,130,-50", (260, 130, -50)),
        ("1,320 260", (1320, 260)),
        ("−50;0", (-50, 0)),
        ("12.5,", (12.5,)),
    ],
)
def test_numbers_as_they_are_called_out(text, numbers):
    assert read_called(text, "Front", "number", "lb") == pytest.approx(numbers)
    assert read_hands("3/4 5", "Front", ("a", "b", "c")) == (3, 4, 5)
