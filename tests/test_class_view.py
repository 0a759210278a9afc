"""A class is led through every lesson that has a stage: nothing that comes later is on the page."""

import pytest
from test_spoilers import given_away, spoilers, whole_page

from leverarm import panels
from leverarm.data import lessons, toml_file
from leverarm.exercises.room import read_called, read_hands
from leverarm.panels.base import shared
from leverarm.panels.class_view import STAGES
from leverarm.panels.class_work import VOTE_OF
from leverarm.panels.lesson_work import keep_work
from leverarm.panels.written import demo_numbers
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
    """What a room says, or votes, or draws, at the step shown."""
    if view.step == "ask" and not view.answered:
        texts = {"hands": "12, 5, 8, 2", "numbers": "3, 4; 2", "words": "It lies outside."}
        for one in view._asked:
            hands = ", ".join(texts["hands"].split(", ")[: len(one.ways)])
            view.say(**{one.name: [hands, texts["numbers"]] if one.ways else [texts["words"]]})
    if view.step in VOTE_OF and not view.answered:
        view.vote_box.value = ", ".join(map(str, range(1, len(view._options) + 1)))
    if view.step == "board" and not view.drawn:
        view.stage.put_body(view.stage._problem.answer)


def page_of(view):
    """Everything of the view, hidden or not, as a reader or a search would find it."""
    return whole_page([], [view])


def steps_of(view):
    """The view at one step after another, until its end."""
    for _ in view.steps[:-1]:
        yield view
        at = view.at
        typed(view)
        view.go_on()
        assert not view.error.value and view.at == at + 1
    assert view.at == len(view.steps) - 1
    yield view


def comes_later(view):
    """What no step before its own may hold: the poll, its answer, the exit question and its."""
    data, numbers = toml_file(f"lesson_{view.lesson}"), demo_numbers(shared.system)
    told = {}
    if "poll" in data:
        told["vote"] = data.part("poll").text("question")
        told["answer"] = view._words.part("words").text("right").partition("{")[0]
    for step, key in (("exit", "question"), ("compare", "compare")):
        told[step] = data.part("exit").template(key, numbers).format(**numbers)
    return {step: text.lower() for step, text in told.items()}


def early(view, text, later):
    """What stands on the page before its step."""
    return [step for step, words in later if words in text and view.steps.index(step) > view.at]


@pytest.mark.parametrize("system", ["lb", "kg"])
@pytest.mark.parametrize("lesson", STAGES)
def test_no_step_holds_what_comes_later(lesson, system):
    shared.set(system=system)
    view, number, asked, told = panels.class_view(lesson), int(lesson), {}, set()
    later = comes_later(view).items()
    for _ in steps_of(view):
        text = page_of(view)
        given = given_away(text, number, system)
        # Before the last question only what an earlier one has shown is there.
        if view.step in ("ask", "board"):
            assert set(given) <= told, view.at
            asked[view.at] = given
        told.update(given)
        assert early(view, text, later) == []
    assert asked[0] == [] and told, "what answers came in its turn"
    # The way back shows each step without what came after it; one system is enough for that.
    while view.at and system == "lb":
        view.back()
        text = page_of(view) if view.step in ("ask", "board", "again", "exit") else ""
        assert early(view, text, later) == []
        if view.at in asked:
            assert given_away(text, number, system) == asked[view.at]
    if system == "lb":
        assert view.said and view.step == "ask" and view.answered
        view.go_on()
        assert view.at == 1, "what was locked in is not asked again"


@pytest.mark.parametrize("lesson", STAGES)
def test_what_is_planted_is_found(lesson):
    view = panels.class_view(lesson)
    later = comes_later(view)
    view.note.value = " it is, or ".join(later.values())
    assert early(view, page_of(view), later.items()) == list(later)
    planted = spoilers(int(lesson), "lb")
    view.note.value = " it is, or ".join(planted)
    assert given_away(page_of(view), int(lesson), "lb") == planted


def test_every_lesson_is_led_with_question_why_caution_vote_and_exit():
    assert sorted(STAGES) == [f"{number:02d}" for number in lessons()]
    for lesson in STAGES:
        steps = panels.class_view(lesson).steps
        whole = ["ask", "see", "why", "care", "try", "exit", "compare"]
        assert [step for step in whole if step in steps] == whole
        assert "vote" in steps or lesson == "01"
    with pytest.raises(Refusal, match="lesson: 99 was given; 01 to"):
        panels.class_view("99")


def test_a_class_derives_a_reaction_and_the_board_waits_for_a_right_drawing():
    view = panels.class_view("03")
    typed(view)
    view.go_on()
    assert view.step == "board" and not view.stage.solved
    view.go_on()
    assert view.step == "board", "nothing was drawn"
    view.stage.put_body("body: tractor\npivot: front axle")
    view.go_on()
    assert view.step == "board" and "Look again." in view.stage._reply
    typed(view)
    view.go_on()
    assert view.step == "see" and "pivot: rear axle" in view.drawn
    view.back()
    assert view.answered and view.stage.drawing == view.drawn and not view.stage.solved
    # What is right at the picture's own button turns the page too.
    view.start_over()
    typed(view)
    view.go_on()
    typed(view)
    view.stage.check()
    view._follow_board()
    assert view.step == "see"
    while view.step != "solve":
        view.go_on()
    view.solving.solve("R", "front axle", "(T*x - W*a)/L", "-W*a/L", W="a", T="x", F="0", R="L")
    assert view.solving.done


def test_a_class_weighs_again_and_the_band_comes_last():
    view, days = panels.class_view("06"), {}
    for _ in steps_of(view):
        days[view.step] = view.stage.days
    assert (days["ask"], days["weigh"], days["more"], days["band"]) == (0, 0, 1, 11)
    view = panels.class_view("06")
    view.say(off=("8, 9, 3", "3, 0, 12"))
    view.go_on()
    assert "0, 3, 12 lb" in view.summary.value or view.stage.said["off"] / KG == pytest.approx(3)


def test_a_claim_is_sorted_by_most_hands_and_a_reason():
    view = panels.class_view("07")
    view.say(pile=("3, 2, 12, 3",))
    view.attempt(view.go_on)
    assert view.at == 0 and "Because: nothing was given; a reason of 1 to 160" in view.error.value
    view.say(reason=("<b>of</b> what?",))
    view.attempt(view.go_on)
    assert (view.stage.pile, view.stage.reason) == ("incomplete", "<b>of</b> what?")
    assert "&lt;b&gt;of&lt;/b&gt; what?" in view.summary.value and not view.error.value


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


def test_a_page_opened_again_begins_with_the_question_and_can_go_on_where_the_class_was():
    view = panels.class_view("03")
    for _ in steps_of(view):
        if view.step == "again":
            break
    again = panels.class_view("03")
    assert again.at == 0 and not again.said and "was at step 9 when this page" in again.note.value
    assert again.resume_button.description == "Go on at step 9"
    again.resume()
    assert (again.step, again.said, again.votes) == ("again", view.said, view.votes)
    assert again.drawn == view.drawn and "goes on where it was" in again.note.value
    typed(again)
    again.go_on()
    again.back()
    while again.at:
        again.back()
    # Who begins anew, or came to the end, is asked from the start.
    again.start_over()
    assert again.at == 0 and not again.said and not again.stage.locked
    assert "starts over with the question" in again.note.value
    assert panels.class_view("03").note.value == ""
    for _ in steps_of(again):
        pass
    assert panels.class_view("03").note.value == ""


@pytest.mark.parametrize(
    "spoiled",
    [
        {"at": True},
        {"at": 99},
        {"at": 3, "said": []},
        {"said": [{"front": {"hands": [1, 2]}}]},
        {"said": [{"front": {"hands": [1e9, 2, 3], "numbers": [1], "words": ""}, "rear": 0}]},
        {"said": "front"},
    ],
)
def test_a_spoiled_file_offers_nothing_and_stops_nobody(spoiled):
    view = panels.class_view("02")
    typed(view)
    view.go_on()
    keep_work("class 02", spoiled)
    again = panels.class_view("02")
    assert again.note.value == "" and not again.error.value
    again.resume()
    assert again.at == 0


def test_the_lesson_chosen_last_is_there_again():
    first = panels.class_lesson()
    first.lesson.value = "10"
    assert first.view.lesson == "10" and panels.class_lesson().view.lesson == "10"
    keep_work("class", {"lesson": "../02"})
    assert panels.class_lesson().view.lesson == "02"


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
