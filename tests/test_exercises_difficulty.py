"""How hard: the same seed at three steps, ordinary numbers as before, every answer by hand."""

import json

import pytest
from test_exercises_hand import HAND

from leverarm import Refusal, exercises
from leverarm.exercises.difficulty import round_step
from leverarm.marking import Assignment, Ticket, codes
from leverarm.marking.assignment import file_text, read_assignment
from leverarm.marking.homework import Homework, problem_for
from leverarm.panels import exercise
from leverarm.problem_pictures import problem_scene

NUMERIC = [kind for kind in exercises.problems() if kind.style == "number"]
OTHERS = [kind for kind in exercises.problems() if kind.style != "number"]


def by_hand(problem):
    """The numbers of a problem, with what is told from another place turned round by hand."""
    n = dict(problem.drawn.values)
    if "d3" in n:
        n["a3"] = -n["d3"]
    if "c_r" in n:
        n["a"] = n["c_r"] - n["L"]
    return n


@pytest.mark.parametrize("system", ["kg", "lb"])
@pytest.mark.parametrize("kind", NUMERIC, ids=lambda kind: kind.name)
def test_every_step_is_right_by_hand_and_repeats(kind, system):
    for step in kind.steps:
        for seed in range(8):
            problem = exercises.make(kind, seed, system, step=step)
            assert problem == exercises.make(kind, seed, system, step=step)
            assert problem.step == step and problem.drawn.right == pytest.approx(
                HAND[problem.kind](by_hand(problem)), rel=1e-9
            )
            assert exercises.check(problem, f"{problem.answer!r} {problem.unit}", sympy=False).right
            assert problem.solution[-1].claim == pytest.approx(problem.answer, rel=1e-9)
            assert len(problem.hints) == 4 and "{" not in problem.statement


@pytest.mark.parametrize("kind", NUMERIC, ids=lambda kind: kind.name)
def test_a_seed_that_names_no_step_has_the_ordinary_problem(kind):
    plain, *others = [
        exercises.make(kind, 5, "lb", step=step) for step in ("ordinary", *kind.steps)
    ]
    assert plain == exercises.make(kind, 5, "lb")
    assert sum(one == plain for one in others) == 1


def tail(number, step):
    """How many zeros a number ends in, counted in steps of its grid."""
    count = round(number / step)
    return next(zeros for zeros in range(12) if count % 10 ** (zeros + 1) or not count)


@pytest.mark.parametrize("name", ["front_gain", "machine_weight", "loader_front", "ballast_rear"])
def test_round_numbers_are_rounder(name):
    def ends(step):
        seen = []
        for seed in range(20):
            problem = exercises.make(name, seed, "kg", step=step)
            for letter in problem.source.given:
                grid = problem.source.method.letters[letter].step("kg")
                seen.append(tail(problem.drawn.shown[letter], grid))
        return sum(seen) / len(seen)

    assert ends("easy") > ends("ordinary") + 0.5


@pytest.mark.parametrize(
    ("low", "high", "step", "wanted"),
    [  # grids worked by hand: at least four round numbers from low to high
        (100, 240, 1, 20),
        (480, 720, 1, 50),
        (1.0, 1.6, 0.01, 0.2),
        (57.1, 76.8, 0.5, 5),
        (-4, 4, 0.5, 2),
        (20, 20, 0.1, 0.1),
        (0.785, 0.96, 0.005, 0.05),
    ],
)
def test_the_grid_of_round_numbers(low, high, step, wanted):
    assert round_step(low, high, step) == pytest.approx(wanted)


@pytest.mark.parametrize("kind", NUMERIC, ids=lambda kind: kind.name)
def test_a_twist_is_one(kind):
    """Another given letter, a number that is not needed, or a length in another unit."""
    ordinary, hard = (exercises.make(kind, 3, "lb", step=step) for step in ("ordinary", "hard"))
    other = set(hard.source.given) != set(ordinary.source.given)
    more = "weighs" in hard.statement.partition(".")[0]
    assert other or more
    if more:
        assert hard.statement.split(" weighs ")[1].split()[0] not in str(hard.given)


def test_a_frame_behind_the_axle_brings_a_minus_sign():
    problem = exercises.make("loader_front", 4, "kg", step="hard")
    frame = next(line for line in problem.solution if line.left == "a3")
    assert frame.claim < 0 and frame.letters == "−d3"
    rear = exercises.make("loader_rear", 4, "kg", step="hard")
    assert next(line for line in rear.solution if line.left == "ΔR3").claim > 0
    assert "behind" in problem.statement and "d₃" in problem_scene(problem).desc


@pytest.mark.parametrize("kind", OTHERS, ids=lambda kind: kind.name)
def test_a_kind_without_numbers_has_one_step_and_says_so(kind):
    assert kind.steps == ("ordinary",)
    with pytest.raises(Refusal, match=r"ordinary for \w+ is allowed"):
        exercises.make(kind, 1, getattr(kind, "system", "") or "lb", step="hard")


@pytest.mark.parametrize("step", ["harder", "", None, 3])
def test_a_step_that_is_not_there_is_refused(step):
    with pytest.raises(Refusal, match="difficulty"):
        exercises.make("front_gain", 1, "kg", step=step)


# --- in an assignment and in the box ------------------------------------------------------------


def test_an_assignment_asks_for_steps_and_marks_them(tmp_path):
    told = Assignment("Week 9", ["front_gain:easy", "front_gain:hard", "front_gain"], system="kg")
    assert [item.name for item in told.items] == ["front_gain", "front_gain.2", "front_gain.3"]
    assert json.loads(file_text(told))["kinds"] == [
        "front_gain:easy",
        "front_gain:hard",
        "front_gain",
    ]
    assert read_assignment(file_text(told).encode()) == told
    (code,) = codes.new_codes(1)
    ticket = Ticket(code, codes.number_key(codes.new_class_key(), code, "Week 9"), told)
    work = Homework(ticket, tmp_path)
    for item, step in zip(told.items, ("easy", "hard", "ordinary"), strict=True):
        problem = work.problem(item.name)
        assert problem.step == step and problem == problem_for(ticket, item, 1)
        assert work.check(item.name, f"{problem.answer:.4f} kg").right


@pytest.mark.parametrize(
    "asked", ["front_gain:harder", "front_gain:", "which_pivot:hard", "no:easy"]
)
def test_an_assignment_refuses_a_step_that_a_kind_does_not_have(asked):
    if asked.endswith(":"):
        assert Assignment("Week 9", [asked]).items[0].step == "ordinary"
    else:
        with pytest.raises(Refusal):
            Assignment("Week 9", [asked])


def test_the_box_offers_the_steps_of_its_kind():
    box = exercise("front_gain", 2)
    before = box.problem
    box.answer("1 lb")
    box.steps.value = "easy"
    assert box.problem.step == "easy" and box.problem != before and not box.attempts
    box.set_step("ordinary")
    assert box.problem == before and box.steps.value == "ordinary"
    assert exercise("front_gain", 2, "hard").problem.step == "hard"
    assert exercise("which_pivot").steps.layout.display == "none"
