"""The board of a free body: page equals Python, it offers all and answers nothing, Python judges.

What a hand can do in the picture is held by tests of the page; here it is what Python draws,
hears, and says.
"""

import json
from dataclasses import replace

import pytest
from stage_in_page import readable, still, written_alike

from leverarm import exercises, panels
from leverarm.exercises.free_body import FreeBody, read_free_body
from leverarm.panels.board import FreeBodyBoard, board_of
from leverarm.stage.board import Board
from leverarm.stage.board_case import LAYOUTS
from leverarm.stage.case import SHEETS
from leverarm.stage.elements import Element, every_element
from leverarm.stage.recording import as_json, recorded, start_of
from leverarm.stage.sheet import DESK, PHONE, PROJECTOR

BODIES = [kind.name for kind in exercises.problems() if kind.style == "body"]


def in_sight(tree):
    """The elements that are shown."""
    if dict(tree.attributes).get("display") != "none":
        yield tree
        for one in tree.inside:
            if isinstance(one, Element):
                yield from in_sight(one)


def made(kind, seed=1):
    return exercises.make(kind, seed)


def told(board, **news):
    """What the page would tell: the state as it stands, with news."""
    state = {**board.state, **{n: v for n, v in news.items() if n not in ("did", "written")}}
    rest = {n: news[n] for n in ("did", "written") if n in news}
    board.told.value = json.dumps({"state": state, **rest, "count": board._news})


@pytest.mark.parametrize("kind", BODIES)
def test_page_and_python_write_the_same(kind, tmp_path):
    case = board_of(made(kind), (DESK, PHONE) if kind == "body_plank" else (DESK,))
    draw, inputs = Board(case), case.inputs
    _, places = written_alike(
        tmp_path, draw, inputs, 200 if kind == "body_bucket_rear" else 60, kind
    )
    assert places > 100


@pytest.mark.parametrize("kind", BODIES)
def test_the_board_offers_everything_and_answers_nothing(kind):
    problem = made(kind)
    case = board_of(problem, SHEETS)
    source = problem.source
    text = as_json({**recorded(Board(case), case.inputs), "signs": ""})
    for force in source.forces:
        assert force.words in text and force.at in text
        assert not force.inside or force.inside not in text
    for asked in source.pivots.values():
        assert asked not in text
    # What is offered stands in an order of its own; nothing of the right free body comes first.
    start = start_of(case.inputs)
    assert {start[f"at_{letter}"] for letter in case.letters} == {0.0}
    assert start["cut"] == start["pivot"] == start["ring"] == 0.0
    assert {start[f"down_{letter}"] for letter in case.letters} == {1.0}


@pytest.mark.parametrize("kind", BODIES)
@pytest.mark.parametrize("sheet", [DESK, PHONE, PROJECTOR], ids=lambda sheet: sheet.name)
def test_everything_stands_on_the_paper(kind, sheet):
    case = board_of(made(kind), (sheet,))
    state = start_of(case.inputs)
    for k, letter in enumerate(case.letters):
        state[f"at_{letter}"] = k % len(case.places) + 1
    for pivot in range(1, len(case.pivots) + 1):
        for cut in range(1, len(case.bodies) + 1):
            tree = Board(case)({**state, "pivot": pivot, "cut": cut}).tree
            for one in in_sight(tree):
                told = dict(one.attributes)
                for name, most in (
                    ("x", sheet.width),
                    ("cx", sheet.width),
                    ("cy", LAYOUTS[sheet.name].paper.height),
                ):
                    if name in told and one.tag in ("text", "circle", "ellipse"):
                        assert -1 <= float(told[name]) <= most + 1, (one, told)


# The free body of the bank, put on the board and read back: four arrows and three lengths.
@pytest.mark.parametrize("kind", BODIES)
def test_what_is_put_on_the_board_is_read_back(kind):
    problem = made(kind, 3)
    board = FreeBodyBoard(problem)
    assert not exercises.check(problem, board.text).counts
    board.write(problem.answer)
    assert board.text == problem.answer
    assert exercises.check(problem, board.text).right
    assert {*board.built.lines.splitlines()} == {*problem.answer.splitlines()}
    assert FreeBodyBoard(problem).text == ""


def test_old_answers_in_other_spelling_are_put_on_the_board():
    problem = made("body_bucket")
    board = FreeBodyBoard(problem)
    board.write(problem.answer.replace("center", "Centre").replace("W down", "w DOWN"))
    assert exercises.check(problem, board.text).right
    assert board.state["at_T"] and board.state["at_W"] and board.state["down_W"]


@pytest.mark.parametrize("text", ["nonsense", "", "Z down at moon", "W sideways"])
def test_what_the_board_cannot_show_is_kept_as_it_was_written(text):
    problem = made("body_bucket")
    board = FreeBodyBoard(problem)
    board.write(text)
    assert board.text == text
    told(board, cut=1.0)
    assert board.text == f"body: {board.case.bodies[0]}"


# What is wrong, what is ringed, and the question: never a verdict of right or wrong on a part.
def changed(problem, **change):
    right = problem.source.right()
    return replace(right, **change)


def without(right, letter):
    return tuple(arrow for arrow in right.arrows if arrow[0] != letter)


BUCKET = made("body_bucket")
RIGHT = BUCKET.source.right()
FAULTS = {
    "inside": (replace(RIGHT, arrows=(*RIGHT.arrows, ("P", "down", "pins"))), "arrow", "P"),
    "forgotten": (replace(RIGHT, arrows=without(RIGHT, "R")), "place", "rear axle"),
    "wrong way": (
        replace(RIGHT, arrows=(*without(RIGHT, "F"), ("F", "down", "front axle"))),
        "arrow",
        "F",
    ),
    "elsewhere": (
        replace(RIGHT, arrows=(*without(RIGHT, "T"), ("T", "down", "rear axle"))),
        "arrow",
        "T",
    ),
    "pivot": (replace(RIGHT, pivot="front axle"), "pivot", ""),
    "arm from another point": (replace(RIGHT, arms=(("F", "L"), ("W", "a"))), "arm", "W"),
}


@pytest.mark.parametrize("name", FAULTS)
def test_the_first_fault_is_ringed_and_asked_about(name):
    built, kind, letter = FAULTS[name]
    box = panels.exercise("body_bucket", 1)
    board = box.field.board
    board.put(built)
    box.check_button.click()
    assert board.state["ring"] == board.case.ring_at(kind, letter) > 0
    assert "data-state" in board.news.value
    reply = box.reply.value
    assert "?" in reply and "wrong" not in reply.lower() and "✓" not in reply
    told(board, cut=0.0)
    box.answer(box.problem.answer)
    assert box.verdict.right and board.state["ring"] == 0


def test_the_rest_is_counted():
    box = panels.exercise("body_bucket", 1)
    box.field.board.put(replace(RIGHT, arrows=without(RIGHT, "R"), pivot="front axle"))
    box.check_button.click()
    assert "(1 more to look at after this.)" in box.reply.value


def test_a_double_arrow_is_a_question():
    verdict = exercises.check(BUCKET, replace(RIGHT, arrows=(*RIGHT.arrows, RIGHT.arrows[0])))
    assert not verdict.right and verdict.question == "Which arrow did you draw twice?"


# What the page tells: as a mouse, a finger or a key leaves it.
def test_the_page_tells_arrows_pivot_and_arms():
    box = panels.exercise("body_plank", 2)
    board, case = box.field.board, box.field.board.case
    at = {name: case.places.index(name) + 1.0 for name in case.places}
    told(
        board,
        at_P=at["middle"],
        at_J=at["jug"],
        at_A=at["left scale"],
        at_B=at["right scale"],
        down_A=0.0,
        down_B=0.0,
        cut=case.bodies.index("plank and jug") + 1.0,
        pivot=case.pivots.index("left scale") + 1.0,
        written={"arm_P": "S/2", "arm_J": "d", "arm_B": " S ", "arm_X": "9", "arm_N": 4},
    )
    box.check_button.click()
    assert box.verdict.right, box.verdict.message


@pytest.mark.parametrize(
    "message",
    [
        "{",
        '{"state": []}',
        '{"state": {"at_P": "1"}}',
        '{"state": {"at_P": 1e99}}',
        '{"state": {}, "written": {"arm_P": "x"}}',
    ],
)
def test_a_forged_message_is_refused_in_words_and_nothing_is_lost(message):
    board = FreeBodyBoard(made("body_plank"))
    board.write(made("body_plank").answer)
    before = board.text
    board.told.value = message
    assert "run the cell again" in board.error.value
    assert board.state["at_P"] > 0 and read_free_body(board.text).arrows
    assert before.splitlines()[0] == board.text.splitlines()[0]


def test_a_forged_arm_makes_no_line_of_its_own():
    board = FreeBodyBoard(made("body_plank"))
    told(board, written={"arm_P": "S/2\npivot: middle", "arm_J": "d" * 5000})
    assert [line for line in board.text.splitlines() if "pivot" in line] == [
        "arm P: S/2 pivot: middle"
    ]
    assert max(map(len, board.typed.values())) == 120


def test_units_and_large_type_keep_what_is_on_the_board():
    from leverarm.panels.base import shared

    box = panels.exercise("body_bucket", 1)
    box.field.write(box.problem.answer)
    before, system = box.field.text, shared.system
    try:
        shared.set(large=True)
        shared.set(system="kg" if system == "lb" else "lb")
        assert box.field.text == before
        assert "st-projector" in box.field.board.picture.value
    finally:
        shared.set(system=system, large=False)


def test_a_locked_board_takes_no_change():
    board = FreeBodyBoard(BUCKET)
    board.write(BUCKET.answer)
    open_text = board.picture.value
    board.lock(True)
    locked = board.picture.value
    assert "data-carry" in open_text and "data-carry=&quot;pivot" not in locked
    tree = Board(replace(board.case, locked=True))(board.state).tree
    for one in every_element(tree):
        if one.tag in ("input", "select", "button"):
            assert dict(one.attributes)["disabled"] == "disabled"
        if one.tag == "g":
            assert "data-carry" not in dict(one.attributes)
    board.lock(False)
    assert board.picture.value == open_text


# The picture, its words and its lists agree.
@pytest.mark.parametrize("kind", ["body_bucket", "body_bucket_rear"])
def test_four_arrows_and_three_lengths_in_picture_and_words(kind):
    problem = made(kind)
    board = FreeBodyBoard(problem)
    board.write(problem.answer)
    case = replace(board.case, sheets=(DESK,))
    tree = Board(case)(board.state).tree
    arrows = [
        one
        for one in every_element(tree)
        if one.tag == "g"
        and dict(one.attributes).get("data-carry", "").startswith("at_")
        and dict(one.attributes)["display"] == "inline"
    ]
    assert len(arrows) == 4 == len(problem.source.right().arrows)
    words = " ".join(readable(Board(case), board.state))
    assert words.count(" down at ") >= 2 and words.count(" up at ") >= 2
    (name,) = {
        dict(one.attributes)["aria-label"] for one in every_element(tree) if one.tag == "svg"
    }
    assert "Given lengths: a, x, L." in name
    assert name.count(" at ") == 4 and name.count("not drawn") == 2
    letters = [one.words for one in every_element(tree) if one.tag == "text"]
    assert all(letters.count(letter) == 1 for letter in ("a", "x", "L"))
    assert still(Board(case), board.state).count("no arm") >= 1


def test_a_board_needs_a_free_body():
    with pytest.raises(TypeError, match="front_gain is not a free body"):
        board_of(made("front_gain"), SHEETS)
    assert FreeBody() == read_free_body("body: x").__class__()
