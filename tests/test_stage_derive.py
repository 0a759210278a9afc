"""Lesson 03: the question about the pivot, the free body, both answers, and one reaction solved."""

import json
import re
from fractions import Fraction
from pathlib import Path

import pytest
from stage_in_page import readable, some_states, still, written_alike

from leverarm import exercises, panels, statics
from leverarm.machine import Attachment, Tractor, demo_loader, demo_tractor
from leverarm.panels.solve_reaction import LETTERS, derived, solve_reaction
from leverarm.quantities import Refusal
from leverarm.stage.derive import PivotGuess, PivotTurned
from leverarm.stage.derive_case import PivotCase, Turning
from leverarm.stage.recording import as_json, recorded, start_of

DEMO = demo_tractor(), demo_loader()[1]
OTHER = Tractor("Ridge tractor", "1.41 m", "410 kg", "320 kg"), Attachment("forks", 190.0, 1.05)
CASES = {
    "lb": PivotCase(*DEMO, "lb"),
    "kg": PivotCase(*DEMO, "kg"),
    "other": PivotCase(*OTHER, "kg"),
}
ACTS = {"guess": PivotGuess, "turned": PivotTurned}


@pytest.mark.parametrize("which", CASES)
@pytest.mark.parametrize("act", ACTS)
def test_page_and_python_write_the_same(which, act, tmp_path):
    draw = ACTS[act](CASES[which])
    _, places = written_alike(tmp_path, draw, draw.inputs, 200, which + act)
    assert places


def test_before_the_lock_no_row_and_no_word_answers():
    draw = PivotGuess(CASES["lb"])
    data = recorded(draw, draw.inputs)
    text = as_json(data)
    for told in ("1768", "1572", "448", "188 lb", "12220", "12 220", "same answer", "drops out"):
        assert told not in text
    assert set(data["inputs"]) <= {"answer_said", "answer_known"}


# By hand, in lb and in: the bare rear 1760 x 65 = 114,400; the bucket 260 x 47 = 12,220;
# 102,180 / 65 = 1572; 3340 - 1572 = 1768.  About the rear: 260 x 112 = 29,120 and
# 1320 x 65 = 85,800, together 114,920; / 65 = 1768.
def test_numbers_worked_by_hand():
    draw = PivotTurned(CASES["lb"])
    state = {**start_of(draw.inputs), "part": 3.0}
    rear = " ".join(readable(draw, state)).replace(" ", " ")
    for told in ("12 220", "114 400", "102 180", "29 120", "85 800", "114 920", "1768", "1572"):
        assert told.replace(" ", "") in re.sub(r"(?<=\d)[\s,](?=\d{3})", "", rear), told
    front = " ".join(readable(draw, {**state, "pivot": 0.0}))
    assert "so R = " in front and "F: no arm" in front and "R: no arm" not in front
    middle = " ".join(readable(draw, {**state, "pivot": 33.0}))
    assert "Two unknowns" in middle and ": no arm" not in middle
    assert "F × 33 in − R × 32 in" in middle


@pytest.mark.parametrize("which", CASES)
def test_moments_vanish_about_every_pivot(which):
    case = CASES[which]
    for state in some_states(case.inputs, 100, seed=which):
        turning = Turning.about(case, state)
        arms = turning.arms
        if turning.lifted:
            assert turning.rear == 0
            continue
        lifts_nose = turning.front * arms["F"] + turning.tractor
        drops_nose = turning.hung + turning.rear * arms["R"]
        assert lifts_nose == pytest.approx(drops_nose, abs=1e-6)


def test_the_panel_says_where_the_formula_ends():
    case = CASES["lb"]
    draw = PivotTurned(case)
    state = {**start_of(case.inputs), "part": 3.0}
    fixed = case.fixed
    limit = statics.lifting_weight(fixed["rear"], fixed["overhang"], fixed["wheelbase"])
    assert 2433 < limit < 2435
    for weight, ended in ((2430.0, False), (2440.0, True)):
        text = still(draw, {**state, "weight": weight})
        assert ("here the formula ends" in text) == ended
        assert ("the ground cannot pull" in text.split("st-after")[0]) == ended


# --- the panel --------------------------------------------------------------------------------


@pytest.fixture
def stage(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return panels.pivot_stage(lesson="03")


def press(stage, what, **news):
    written = {name.removeprefix("w_"): v for name, v in news.items() if name.startswith("w_")}
    state = {**stage.state, **{n: v for n, v in news.items() if not n.startswith("w_")}}
    stage._count = getattr(stage, "_count", 0) + 1
    stage.told.value = json.dumps(
        {"state": state, "did": what, "written": written, "count": stage._count}
    )


def test_the_whole_way_through_the_page(stage):
    assert not stage.explained
    press(stage, "locked", answer_said=1.0, answer_known=0.0)
    assert "no prediction" in stage.error.value or "prediction" in stage.error.value
    press(stage, "locked", answer_said=1.0, answer_known=1.0)
    assert stage.locked and stage.said == {"answer": 1.0} and not stage.explained
    press(stage, "checked")
    assert "Which body will you cut free?" in stage.news.value
    case = stage.board
    at = {name: case.places.index(name) + 1.0 for name in case.places}
    right = {
        "at_W": at["bucket"],
        "at_T": at["center of gravity"],
        "at_F": at["front axle"],
        "at_R": at["rear axle"],
        "down_F": 0.0,
        "down_R": 0.0,
        "cut": case.bodies.index("tractor and bucket") + 1.0,
        "pivot": case.pivots.index("midpoint") + 1.0,
    }
    arms = {"w_arm_W": "a+L", "w_arm_F": "L", "w_arm_T": "L - x"}
    press(stage, "checked", **right, **arms)
    assert "no arm?" in stage.news.value and not stage.solved
    assert stage.state["ring"] == case.ring_at("pivot", "")
    right["pivot"] = case.pivots.index("rear axle") + 1.0
    press(stage, "checked", **right, **arms)
    assert stage.solved and not stage.explained
    press(stage, "explained", part=2.0, w_seen="It stays.")
    assert stage.explained and stage.seen == "It stays."
    again = panels.pivot_stage(lesson="03")
    assert again.solved and again.explained and again.said == {"answer": 1.0}
    again.again()
    assert not (again.solved or again.locked or again.explained)


def test_hints_come_one_at_a_time_and_then_the_drawing_may_be_shown(stage):
    stage.lock_in(answer="stay")
    hints = exercises.make("body_bucket", "lesson 03").hints
    for hint in hints:
        assert "Show the drawing" not in stage._shown_html
        press(stage, "checked", cut=1.0)
        press(stage, "hint")
        assert hint.split(".")[0][:30] in stage.news.value + stage._shown_html
    assert "Show the drawing" in stage._shown_html
    press(stage, "shown")
    assert stage.solved


def test_nothing_is_skipped_from_code(stage):
    with pytest.raises(Refusal, match="lock in"):
        stage.draw_body("body: tractor")
    with pytest.raises(Refusal):
        stage.lock_in(answer="twice")
    stage.lock_in(answer="shrink")
    with pytest.raises(Refusal, match="draw it first"):
        stage.explain("It stays.")
    stage.draw_body(exercises.make("body_bucket", 1).answer)
    stage.explain("It stays.")
    assert stage.explained


# --- one reaction solved by the reader ----------------------------------------------------------

ARMS = {"F": {"W": "a+L", "T": "L-x", "F": "L", "R": "0"}, "R": {"W": "a", "T": "x", "R": "L"}}
PIVOT = {"F": "rear axle", "R": "front axle"}
RIGHT = {
    "F": ["(W*(a+L)+T*(L-x))/L", "F = W + W a/L + T - T x/L", "T(1 - x/L) + W(1 + a/L)"],
    "R": ["(T*x - W*a)/L", "R = T x/L - a W/L", "-(a/L)W + x T/L"],
}
CHANGE = {"F": ["W*(1 + a/L)", "W + W a/L"], "R": ["-W*a/L", "R-R0 = -a/L*W"]}


@pytest.mark.parametrize("letter", RIGHT)
def test_any_form_of_the_right_formula_counts(letter):
    for formula in RIGHT[letter]:
        for change in CHANGE[letter]:
            mine = solve_reaction()
            mine.solve(letter, PIVOT[letter], formula, change, **ARMS[letter])
            assert mine.done and mine.explained, (formula, change, mine.reply.value)
            assert "every tractor" in mine.reply.value and "Below zero" in mine.below.value


@pytest.mark.parametrize(
    ("pivot", "arms", "formula", "asks"),
    [
        ("midpoint", ARMS["R"], "", "no arm?"),
        ("rear axle", ARMS["R"], "", "Which unknown should drop out?"),
        ("front axle", {**ARMS["R"], "W": "a + L"}, "", "The arm starts at the pivot."),
        ("front axle", {**ARMS["R"], "T": ""}, "", "no arm for the weight of the tractor"),
        ("front axle", ARMS["R"], "T*x - W*a", "still a moment?"),
        ("front axle", ARMS["R"], "(W*(a+L)+T*(L-x))/L", "Which reaction"),
        ("front axle", ARMS["R"], "T*x/L + W*a/L", "what turns against it"),
        ("front axle", ARMS["R"], "", "Nothing was typed"),
        ("front axle", ARMS["R"], "__import__('os')", ""),
        ("front axle", ARMS["R"], "9^9^9^9^9", ""),
    ],
)
def test_what_does_not_hold_is_asked_about(pivot, arms, formula, asks):
    mine = solve_reaction()
    mine.solve("R", pivot, formula, **arms)
    assert not (mine.solved or mine.done) and asks in mine.reply.value and mine.reply.value
    assert "wrong" not in mine.reply.value.lower()


def test_the_change_is_asked_once_the_reaction_is_right():
    mine = solve_reaction()
    mine.solve("R", "front axle", RIGHT["R"][0], **ARMS["R"])
    assert mine.solved and not mine.done
    mine.solve("R", "front axle", RIGHT["R"][0], "W*a/L", **ARMS["R"])
    assert not mine.done and "Which terms are left?" in mine.reply.value


def test_what_was_solved_is_kept_and_spoiled_files_do_no_harm(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    solve_reaction("03").solve("R", "front axle", RIGHT["R"][0], CHANGE["R"][0], **ARMS["R"])
    assert solve_reaction("03").done
    kept = json.loads((tmp_path / "my_lessons.json").read_text("utf-8"))
    kept["03"] |= {"solve_unknown": "Z", "solve_pivot": 4, "solve_result": ["x"]}
    (tmp_path / "my_lessons.json").write_text(json.dumps(kept), "utf-8")
    assert not solve_reaction("03").done


# The reaction of the bank against the package's own reactions, at made-up lengths and weights.
@pytest.mark.parametrize(("kind", "at"), [("body_bucket", 0), ("body_bucket_rear", 1)])
def test_the_formula_of_a_free_body_is_the_reaction(kind, at):
    from leverarm.exercises.expressions.equivalence import exact_value
    from leverarm.exercises.expressions.grammar import read_formula

    values = dict(zip(LETTERS, map(Fraction, (260, 3080, 47, 37, 65)), strict=True))
    formula = exercises.make(kind, 1).source.reaction()
    (tree,) = read_formula(formula, LETTERS)
    weights = [(260, 47), (3080, -37)]
    wanted = sum((Fraction(w) * (1 + Fraction(a, 65)) for w, a in weights), Fraction())
    if at:
        wanted = sum((Fraction(-w) * Fraction(a, 65) for w, a in weights), Fraction())
    assert exact_value(tree, values) == wanted


def test_the_visible_derivation_waits_for_the_reader_and_shows_every_step():
    mine = panels.after_why(solved := solve_reaction(), derived, statics.derive())
    assert mine.panel is None and "math" not in "".join(str(c) for c in mine.place.children)
    solved.solve("F", "rear axle", RIGHT["F"][0], CHANGE["F"][0], **ARMS["F"])
    assert mine.panel is not None
    assert mine.panel.steps.value.count("<math>") >= 6


def test_a_shut_panel_lets_the_next_one_wait_for_it(stage):
    mine = panels.after_why(stage, solve_reaction)
    shown = panels.after_why(mine, derived, statics.derive())
    assert not mine.explained
    stage.lock_in(answer="stay")
    stage.draw_body(exercises.make("body_bucket", 1).answer)
    stage.explain("It stays.")
    assert mine.panel is not None and shown.panel is None
    mine.panel.solve("F", "rear axle", RIGHT["F"][0], CHANGE["F"][0], **ARMS["F"])
    assert shown.panel is not None and mine.explained


# --- picture, words and text agree -----------------------------------------------------------


def test_picture_words_and_text_tell_four_arrows_and_three_lengths(stage):
    source = exercises.make("body_bucket", 1).source
    assert len(source.right().arrows) == 4 and len(stage.board.lengths) == 3
    path = Path(__file__).resolve().parents[1] / "notebooks" / "03_derive_it.ipynb"
    book = "".join("".join(cell["source"]) for cell in json.loads(path.read_text("utf-8"))["cells"])
    assert "four arrows (W, T, F, R) and three given lengths (a, x, L)" in book
    picture = still(PivotTurned(CASES["lb"]), start_of(CASES["lb"].inputs))
    assert "with four arrows: W down" in picture and "T down" in picture
    assert len(re.findall(r'font-weight="bold">[WTFR]</text>', picture)) >= 4
    assert {"W", "T", "F", "R"} == set(re.findall(r">([WTFR])</text>", picture))
