"""Every value type of the core is frozen; every door lets in up to its bound and no further."""

import ast
import dataclasses
import importlib
import pkgutil
from pathlib import Path

import pytest

import leverarm
from leverarm import Attachment, Refusal, Tractor, ballast, driveline, stability, weighing
from leverarm.decision import Job, Manual, behind, case, piece
from leverarm.ground import ContactPatch
from leverarm.weighing import read_claim

CORE = "axles ballast decision driveline exercises ground machine stability uncertainty weighing"
FUNCTIONS = (ast.FunctionDef, ast.Lambda)


def dataclasses_of(room):
    """Every dataclass defined in a room of the package."""
    top = importlib.import_module(f"leverarm.{room}")
    paths = getattr(top, "__path__", None)
    modules = (
        [one.name for one in pkgutil.walk_packages(paths, f"leverarm.{room}.")] if paths else []
    )
    for module in map(importlib.import_module, [top.__name__, *modules]):
        for value in vars(module).values():
            own = isinstance(value, type) and value.__module__ == module.__name__
            if own and dataclasses.is_dataclass(value):
                yield value


@pytest.mark.parametrize("room", CORE.split())
def test_values_are_frozen(room):
    """A value that was checked at the door stays what it was."""
    found = list(dataclasses_of(room))
    assert found
    thawed = [one.__name__ for one in found if not one.__dataclass_params__.frozen]
    assert thawed == []


# --- doors: (make, what is just let in, what is just not) -----------------------------------------

TRACTOR = Tractor("Hand-worked tractor", 1.5, 600, 900, 0.7)
PAIR = {"before": (600, 800), "after": (700, 780)}
DAY = {**PAIR, "u_reading": 1, "u_wheelbase": 0.003}


def stance(**told):
    return stability.Stance(
        **{"front_track": 1.05, "rear_track": 1.1, "pin": 0.4, "swing": 8, **told}
    )


DOORS = {
    "weight": (lambda x: Attachment("x", x, 1), [50_000], [0, -1, 50_001]),
    "overhang": (lambda x: Attachment("x", 10, x), [20, -20], [20.1, -20.1]),
    "height": (lambda x: Attachment("x", 10, 1, x), [0, 10], [-0.1, 10.1]),
    "wheelbase": (lambda x: Tractor("x", x, 600, 900), [0.5, 5], [0.49, 5.1]),
    "share to keep": (
        lambda x: ballast.steering_need(TRACTOR, ahead=0.6, share=x),
        [0, 39],
        [-1, 100.5],
    ),
    "behind the rear axle": (
        lambda x: ballast.rear_need(TRACTOR, behind=x),
        [0, 10],
        [-0.1, 10.1],
    ),
    "slope of the job": (lambda x: Job(slope=x), [0, 40], [-0.5, 40.5]),
    "minutes": (lambda x: Job(bucket_minutes=x), [0.5, 10_000], [0, -1, 10_001]),
    "minutes for the loader": (lambda x: Job(loader_minutes=x), [0.5, 10_000], [0, 10_001]),
    "minutes for the ballast": (lambda x: Job(ballast_minutes=x), [0.5, 10_000], [0, 10_001]),
    "mowings": (lambda x: Job(mowings=x), [1, 1000], [0.5, 1001]),
    "least front share": (lambda x: Manual(front_least=x), [0, 100], [-0.5, 100.5]),
    "least rear share": (lambda x: Manual(rear_least=x), [0, 100], [-0.5, 100.5]),
    "front rating": (lambda x: Manual(front_axle=x), [0.5, 50_000], [0, 50_001]),
    "machine rating": (lambda x: Manual(machine=x), [0.5, 50_000], [0, 50_001]),
    "piece's weight": (lambda x: piece("x", x, 1), [0.5, 50_000], [0, 50_001]),
    "piece's overhang": (lambda x: piece("x", 10, x), [20, -20], [20.1, -20.1]),
    "piece's reach": (lambda x: piece("x", 10, 1, reach=x), [20, -20], [20.1, -20.1]),
    "ballast behind": (lambda x: behind("x", 10, x, 1.5), [0, 10], [-0.1, 10.1]),
    "nose": (
        lambda x: case("x", 1.5, 600, 900, loader=piece("f", 10, 0), nose=x),
        [-1, 5],
        [-1.1, 5.1],
    ),
    "front track": (lambda x: stance(front_track=x), [0.5, 5], [0, 5.1]),
    "rear track": (lambda x: stance(rear_track=x), [0.5, 5], [0, 5.1]),
    "pin": (lambda x: stance(pin=x), [0, 10], [-0.1, 10.1]),
    "swing": (lambda x: stance(swing=x), [0, 45], [-0.5, 45.5]),
    "friction": (
        lambda x: stability.holding(TRACTOR, friction=x, brakes="rear", nose="down"),
        [0.1, 3],
        [0, 3.1],
    ),
    "told weight of one axle read": (
        lambda x: weighing.infer((600, None), (700, None), 1.5, weight=x, u_reading=1),
        [50, 50_000],
        [50_001],
    ),
    "ratio": (
        lambda x: driveline.Drive(2.75 / x, 2.75, x, 1.5),
        [0.5, 3],
        [0.49, 3.1],
    ),
    "length of a contact patch": (
        lambda x: ContactPatch(x, 0.15, 0.8, 250, 150),
        [0.1, 2],
        [0, 2.1],
    ),
    "shape of a contact patch": (
        lambda x: ContactPatch(0.2, 0.15, x, 250, 150),
        [0.5, 1],
        [0.49, 1.01],
    ),
    "inflation": (lambda x: ContactPatch(0.2, 0.15, 0.8, 250, x), [10, 1000], [0, 1001]),
}


@pytest.mark.parametrize("name", DOORS)
def test_a_door_lets_in_up_to_its_bound_and_refuses_the_next(name):
    make, let_in, refused = DOORS[name]
    for value in let_in:
        make(value)
    for value in refused:
        with pytest.raises(Refusal):
            make(value)


def test_what_can_be_told_by_name_can_always_be_told_by_name():
    """No function takes an argument by its place alone, so that a call can say what it tells."""
    for path in Path(leverarm.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            by_place = node.args.posonlyargs if isinstance(node, FUNCTIONS) else []
            assert not by_place, f"{path.name}:{node.lineno}"


# --- spoken claims -------------------------------------------------------------------------------

SPOKEN = {
    "once its weight": ("factor", 1),
    "twice its weight": ("factor", 2),
    "double": ("factor", 2),
    "it doubles": ("factor", 2),
    "doubled": ("factor", 2),
    "thrice": ("factor", 3),
    "triple": ("factor", 3),
    "triples": ("factor", 3),
    "tripled": ("factor", 3),
    "one times": ("factor", 1),
    "two times": ("factor", 2),
    "three times its weight": ("factor", 3),
    "four times": ("factor", 4),
    "five times": ("factor", 5),
    "ten times": ("factor", 10),
    "a half": ("percent", 50),
    "half of it": ("percent", 50),
    "three halves": ("percent", 150),
    "a third": ("percent", 100 / 3),
    "two thirds": ("percent", 200 / 3),
    "a quarter": ("percent", 25),
    "three quarters": ("percent", 75),
    "a fifth": ("percent", 20),
    "four fifths": ("percent", 80),
    "a tenth": ("percent", 10),
    "three tenths": ("percent", 30),
    "1.7 times": ("factor", 1.7),
    "2x": ("factor", 2),
    "30 %": ("percent", 30),
    "30 per cent": ("percent", 30),
    "0.3": ("percent", 30),
    "0.3 of the front": ("percent", 30),
    "150 lb": ("weight", 150 * 0.45359237),
    "110 kg": ("weight", 110),
}


@pytest.mark.parametrize("said", SPOKEN)
def test_a_spoken_claim_is_the_number_it_says(said):
    kind, number = SPOKEN[said]
    found = read_claim(said)
    assert (found.kind, found.value.value) == (kind, pytest.approx(number))


@pytest.mark.parametrize(
    "said, half",
    [
        ("150 lb", 5),
        ("34 kg", 0.5),
        ("2 times", 0.2),
        ("25 %", 2.5),
        ("100 kg", 10),
        ("1.7x", 0.05),
    ],
)
def test_a_spoken_number_is_rounded_in_its_last_place(said, half):
    """Uniform between the limits: the standard uncertainty is the half-width over the root of 3."""
    size = 0.45359237 if "lb" in said else 1
    assert read_claim(said).value.u == pytest.approx(half * size / 3**0.5, rel=1e-6)


@pytest.mark.parametrize("said", ["", "a lot", "0 kg", "5 bananas", "-", "5"])
def test_what_is_no_claim_is_refused(said):
    with pytest.raises(Refusal, match="claim"):
        read_claim(said)


# --- what a fit leaves over ----------------------------------------------------------------------


def test_repeats_by_hand_scatter_and_standardized_residuals():
    """One set-up, three readings on each axle, each known to 2 kg: mean, and distances from it.

    Chi-squared about the mean: sum of squares over u^2; a distance has variance u^2 (1 - 1/3).
    """
    front, rear = [600.0, 603.0, 606.0], [800.0, 800.0, 806.0]
    fit = weighing.least_squares([((), front, rear)], 1.65, u_reading=2, u_wheelbase=0.003)
    assert fit.front.value == pytest.approx(603) and fit.rear.value == pytest.approx(802)
    assert fit.consistency.kind == "repeated" and fit.consistency.dof == fit.repeat_dof == 4
    assert fit.consistency.chi_squared == pytest.approx((9 + 0 + 9 + 4 + 4 + 16) / 4)
    spread = 2 * (1 - 1 / 3) ** 0.5
    assert [one.left_kg for one in fit.residuals] == pytest.approx([-3, 0, 3, -2, -2, 4])
    assert [one.standardized for one in fit.residuals] == pytest.approx(
        [x / spread for x in (-3, 0, 3, -2, -2, 4)]
    )
    assert [one.name for one in fit.worst] == ["rear reading 3 of bare"]
    # Chi-squared of 10.5 or more with 4 degrees of freedom: exp(-x/2) (1 + x/2).
    assert fit.consistency.chance == pytest.approx(2.718281828459045 ** (-5.25) * 6.25, rel=1e-6)


def test_nothing_checks_what_was_measured_once():
    fit = weighing.least_squares([((), 600, 800)], 1.65, u_reading=2, u_wheelbase=0.003)
    assert fit.consistency.kind == "none" and fit.dof == 0 and fit.worst == ()
    assert fit.consistency.chance is None
