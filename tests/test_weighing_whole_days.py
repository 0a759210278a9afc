"""Whole weigh days worked a second time: every number of the result, and its ±, in other ways.

Loads are made here from moments about the rear axle.  Values are then worked from the printed
readings in plain arithmetic, and each ± by moving one thing at a time by its own uncertainty and
adding the squares (GUM 5.1.2 and its note on numerical steps), so no propagation of the package
judges itself.  The usual bounds (heights, pads, the tape) are typed here as DEVELOPERS.md's recipe
asks: common practice, no source.
"""

import math
import random
from itertools import product

import numpy
import pytest

from leverarm.weighing.day import weigh_day
from leverarm.weighing.facts import machine, scale_facts
from leverarm.weighing.readings import weighing
from leverarm.weighing.results import fitted, machine_and_pieces, pieces_apart, results

LB = 0.45359237
ROOT3 = math.sqrt(3)
L, U_TAPE = 1.65, 0.004
FRONT, REAR = 640.0, 860.0
PIECES = {
    "loader frame": (210.0, 0.10),
    "bucket": (118.0, 1.19),
    "ballast": (205.0, -2.55),
}
SETUPS = [
    (),
    ("loader frame",),
    ("loader frame", "bucket"),
    ("ballast",),
    ("loader frame", "bucket", "ballast"),
]


def true_loads(setup):
    """(front, rear) by moments about the rear axle."""
    front, rear = FRONT, REAR
    for weight, ahead in (PIECES[piece] for piece in setup):
        front += weight * (L + ahead) / L
        rear -= weight * ahead / L
    return front, rear


def shown(load, step, unit, off):
    return step * round((load / unit + off) / step)


class Told:
    """A day as it was typed, and everything that errs in it."""

    def __init__(
        self,
        seed,
        *,
        unit,
        step,
        accuracy,
        wheels,
        repeats,
        placed,
        pads,
        slope,
        rear=True,
    ):
        rng = random.Random(seed)
        self.unit, self.step, self.gain = (
            (LB if unit == "lb" else 1.0),
            step,
            (accuracy or 0) / 100,
        )
        self.wheels, self.placed, self.rear = wheels, placed, rear
        self.pads, self.slope = pads, math.tan(math.radians(slope or 0))
        self.read = {}  # {(setup, axle, wheel): [kg, ...]}
        rows = []
        for repeat in range(1, repeats + 1):
            for setup in SETUPS:
                told = []
                for axle, load in zip(("front", "rear"), true_loads(setup)):
                    parts = [0.49 * load, 0.51 * load] if wheels else [load]
                    off = [rng.gauss(0, 1.5 * step) * (repeats > 1) for _ in parts]
                    made = [shown(part, step, self.unit, o) for part, o in zip(parts, off)]
                    told.append(made if wheels else made[0])
                    if axle == "front" or rear:
                        for place, one in enumerate(made):
                            key = setup, axle, place
                            self.read.setdefault(key, []).append(one * self.unit)
                if not rear:
                    told[1] = None
                rows.append(weighing(setup, *told, unit, repeat))
        on = {"ground": "on the ground", "pad_height": "60 mm"} if pads else {}
        self.day = weigh_day(
            machine("Hand-worked tractor", L, wheelbase_error=U_TAPE),
            "2026-05-14",
            scale_facts(
                f"{step} {unit}",
                f"{accuracy} %" if accuracy else None,
                placed=placed,
                off_level=slope,
                **on,
            ),
            rows,
            unchanged=True,
            system=unit,
        )

    def own(self):
        """{key: standard uncertainty of the mean of what was read there}."""
        step = self.step * self.unit
        many = [kgs for kgs in self.read.values() if len(kgs) > 1]
        if not many:
            return {
                key: math.hypot(max(step, abs(kgs[0]) * self.gain) / 3, step / math.sqrt(12))
                for key, kgs in self.read.items()
            }
        dof = sum(len(kgs) - 1 for kgs in many)
        s2 = sum(float(numpy.var(kgs)) * len(kgs) for kgs in many) / dof
        assert s2 > (0.75 * step) ** 2, "so much scatter that rounding leaves nothing"
        return {key: math.sqrt(s2 / len(kgs)) for key, kgs in self.read.items()}

    def errors(self):
        """{what errs: its standard uncertainty}, each around nought."""
        axles = ("front", "rear") if self.placed == "every wheel" else ("both",)
        found = {("own", *key): u for key, u in self.own().items()}
        found |= {("gain", axle): self.gain / ROOT3 for axle in axles}
        found["tape"] = U_TAPE
        # Nobody told the heights, so each lies somewhere between the usual bounds.
        if self.pads:
            found["pad"] = 0.002
            found["axles", "bare"] = (0.6 - 0.1) / 2 / ROOT3
            found |= {("axles", piece): (0.9 + 0.4) / 2 / ROOT3 for piece in PIECES}
        if self.slope:
            found["slope"] = self.slope / ROOT3
        return found

    def load(self, setup, axle, moved):
        """A load put back level, with errors {what: how far off}."""
        whose = axle if self.placed == "every wheel" else "both"
        kg = 0.0
        for place in range(2 if self.wheels else 1):
            kgs = self.read[setup, axle, place]
            kg += (sum(kgs) / len(kgs) + moved.get(("own", setup, axle, place), 0)) * (
                1 + moved.get(("gain", whose), 0)
            )
        base = L + moved.get("tape", 0)
        sign = 1 if axle == "front" else -1
        for name in ("bare", *setup):
            if self.pads:
                middle = 0.35 if name == "bare" else 0.25
                above = middle + moved.get(("axles", name), 0)
                kg += self.mass(name) * above * (0.06 + moved.get("pad", 0)) / base**2
            if self.slope:
                above = 0.75 if name == "bare" else 0.65
                kg += sign * self.mass(name) * above * moved.get("slope", 0) / base
        return kg

    def total(self, setup):
        """What all scales showed of a set-up, kg; twice the front where only that was read."""
        kgs = [sum(v) / len(v) for (s, *_), v in self.read.items() if s == setup]
        return sum(kgs) * (1 if self.rear else 2)

    def mass(self, name):
        """What a piece weighs by its own two set-ups, near enough for a correction."""
        pairs = {
            "loader frame": (("loader frame",), ()),
            "bucket": (("loader frame", "bucket"), ("loader frame",)),
            "ballast": (("ballast",), ()),
        }
        if name == "bare":
            return self.total(())
        on, off = pairs[name]
        return self.total(on) - self.total(off)

    def results(self, on, off, moved):
        """{name: number} of every number that a day's results hold."""
        fronts = [self.load(setup, "front", moved) for setup in (on, off)]
        made = {"front_with": fronts[0], "front_without": fronts[1]}
        made["front_change"] = fronts[0] - fronts[1]
        if not self.rear:
            return made
        rears = [self.load(setup, "rear", moved) for setup in (on, off)]
        base = L + moved.get("tape", 0)
        made |= {"rear_with": rears[0], "rear_without": rears[1]}
        made["rear_change"] = rears[0] - rears[1]
        made["weight"] = fronts[0] + rears[0] - fronts[1] - rears[1]
        made["ahead"] = -made["rear_change"] * base / made["weight"]
        made["factor"] = made["front_change"] / made["weight"]
        made["share_with"] = 100 * fronts[0] / (fronts[0] + rears[0])
        made["share_without"] = 100 * fronts[1] / (fronts[1] + rears[1])
        return made

    def with_u(self, work):
        """{name: (number, standard uncertainty)}: one thing moved at a time, both ways."""
        at, squares = work({}), {}
        for what, u in self.errors().items():
            if u:
                up, down = work({what: 0.05 * u}), work({what: -0.05 * u})
                for name in at:
                    squares[name] = squares.get(name, 0) + ((up[name] - down[name]) / 0.1) ** 2
        return {name: (at[name], math.sqrt(squares[name])) for name in at}


DAYS = {
    "kg, once": {"unit": "kg", "step": 1, "accuracy": 0.5, "repeats": 1},
    "kg, once, no accuracy": {"unit": "kg", "step": 5, "accuracy": None, "repeats": 1},
    "lb, once, wheels": {
        "unit": "lb",
        "step": 2,
        "accuracy": 1,
        "repeats": 1,
        "wheels": True,
    },
    "kg, three times": {"unit": "kg", "step": 1, "accuracy": 0.2, "repeats": 3},
    "lb, twice, wheels": {
        "unit": "lb",
        "step": 10,
        "accuracy": 0.5,
        "repeats": 2,
        "wheels": True,
    },
    "kg, pads": {"unit": "kg", "step": 2, "accuracy": 0.5, "repeats": 1, "pads": True},
    "lb, slope": {"unit": "lb", "step": 5, "accuracy": 0.5, "repeats": 2, "slope": 1.5},
    "kg, pads, slope, wheels": {
        "unit": "kg",
        "step": 0.5,
        "accuracy": 1,
        "repeats": 2,
        "wheels": True,
        "pads": True,
        "slope": 0.5,
    },
    "lb, four pads, slope": {
        "unit": "lb",
        "step": 5,
        "accuracy": 1,
        "repeats": 1,
        "wheels": True,
        "slope": 1,
        "placed": "every wheel",
    },
    "lb, front only": {
        "unit": "lb",
        "step": 5,
        "accuracy": 1,
        "repeats": 1,
        "rear": False,
    },
    "kg, front only, twice": {
        "unit": "kg",
        "step": 1,
        "accuracy": 1,
        "repeats": 2,
        "rear": False,
    },
}
PAIRS = {
    "loader frame": (("loader frame",), ()),
    "bucket": (("loader frame", "bucket"), ("loader frame",)),
    "ballast": (("ballast",), ()),
    "loader frame + bucket": (("loader frame", "bucket"), ()),
}


def told(name, seed=7):
    usual = {"wheels": False, "placed": "moved", "pads": False, "slope": None}
    return Told(seed, **{**usual, **DAYS[name]})


@pytest.mark.parametrize("name, piece", list(product(DAYS, PAIRS)))
def test_every_number_of_a_day_and_its_uncertainty(name, piece):
    one = told(name)
    found = results(one.day, piece)
    expected = one.with_u(lambda moved: one.results(*PAIRS[piece], moved))
    for what, (number, u) in expected.items():
        got = getattr(found, what)
        assert got.value == pytest.approx(number, rel=1e-9), what
        assert got.u == pytest.approx(u, rel=2e-3), what
    if not one.rear:
        left_out = "rear_with rear_without rear_change weight ahead factor share_with share_without"
        assert all(getattr(found, what) is None for what in left_out.split())
        assert found.front_only
    on, off = (" + ".join(setup) or "bare" for setup in PAIRS[piece])
    assert (found.with_it, found.without) == (on, off)


@pytest.mark.parametrize("name", [name for name in DAYS if "front only" not in name])
def test_the_machine_and_its_pieces_are_those_of_the_results(name):
    one = told(name)
    made = machine_and_pieces(one.day)
    bare = one.with_u(lambda moved: {a: one.load((), a, moved) for a in ("front", "rear")})
    for axle, got in (("front", made.front), ("rear", made.rear)):
        assert (got.value, got.u) == pytest.approx(bare[axle], rel=2e-3)
    assert set(made.pieces) == set(PIECES)
    for piece, got in made.pieces.items():
        expected = one.with_u(lambda moved, piece=piece: one.results(*PAIRS[piece], moved))
        assert (got.weight_kg, got.u_weight_kg) == pytest.approx(expected["weight"], rel=2e-3)
        assert (got.ahead_m, got.u_ahead_m) == pytest.approx(expected["ahead"], rel=2e-3)


@pytest.mark.parametrize("given", ["weight", "ahead"])
@pytest.mark.parametrize("piece", ["bucket", "ballast"])
@pytest.mark.parametrize("name", ["lb, front only", "kg, front only, twice"])
def test_what_was_told_beside_the_front_alone(name, piece, given):
    """Told: W and its u, or a and its u.  Then W = dF/(1 + a/L), and a = L(dF/W - 1)."""
    one, (weight, ahead) = told(name), PIECES[piece]
    number, u = (weight, 2.5) if given == "weight" else (ahead, 0.02)
    found = results(one.day, piece, **{given: number, f"u_{given}": u})

    def work(moved):
        change = one.results(*PAIRS[piece], moved)["front_change"]
        base, off = L + moved.get("tape", 0), number + moved.get("told", 0)
        W = off if given == "weight" else change / (1 + off / base)
        return {"weight": W, "ahead": base * (change / W - 1), "factor": change / W}

    errors = {**one.errors(), "told": u}
    one.errors = lambda: errors
    for what, (value, u_value) in one.with_u(work).items():
        got = getattr(found, what)
        assert (got.value, got.u) == pytest.approx((value, u_value), rel=2e-3), what
    assert found.given == given and found.rear_change is None


@pytest.mark.parametrize("name", ["kg, once", "lb, twice, wheels", "kg, three times"])
def test_all_set_ups_together_are_numpy_s_least_squares(name):
    """Weighted by 1/u; the leftovers, the degrees of freedom and chi-squared as well."""
    one = told(name)
    fit = fitted(one.day)
    own = one.own()
    columns = numpy.array(
        [[1.0, *(piece in setup for piece in PIECES)] for setup in SETUPS], dtype=float
    )
    solved, chi = {}, 0.0
    for axle in ("front", "rear"):
        places = range(2 if one.wheels else 1)
        read = [one.read[setup, axle, place] for setup in SETUPS for place in places]
        sums = numpy.array(read).reshape(len(SETUPS), len(places), -1).sum(axis=1)
        us = numpy.array(
            [math.hypot(*(own[setup, axle, place] for place in places)) for setup in SETUPS]
        )
        x, *_ = numpy.linalg.lstsq(columns / us[:, None], sums.mean(axis=1) / us, rcond=None)
        solved[axle] = x
        shown_by = [r for r in fit.residuals if r.axle == axle]
        fits = numpy.repeat(columns @ x, sums.shape[1])
        assert [r.left_kg for r in shown_by] == pytest.approx(list(sums.flatten() - fits), abs=1e-6)
        chi += float((((sums.mean(axis=1) - columns @ x) / us) ** 2).sum())
    assert fit.front.value == pytest.approx(solved["front"][0])
    assert fit.rear.value == pytest.approx(solved["rear"][0])
    for i, piece in enumerate(PIECES, 1):
        front, rear = solved["front"][i], solved["rear"][i]
        got = fit.pieces[piece]
        assert got.weight_kg == pytest.approx(front + rear)
        assert got.ahead_m == pytest.approx(-rear * L / (front + rear))
    repeats = len(next(iter(one.read.values()))) - 1
    assert (fit.redundant_dof, fit.repeat_dof) == (2, 10 * repeats)
    assert fit.dof == 2 + 10 * repeats
    # What repeats differ among themselves is judged too, by the scatter of one reading.
    test = fit.consistency
    if repeats == 0:
        assert test.chi_squared == pytest.approx(chi, rel=1e-6)


def test_pieces_that_came_apart():
    """By hand: each by itself, both of the loader, the loader what the
    frame alone lacks of everything, and all three.
    """
    assert pieces_apart(told("kg, once").day) == (
        "loader frame",
        "bucket",
        "ballast",
        "loader frame + bucket",
        "bucket + ballast",
        "loader frame + bucket + ballast",
    )


def test_a_machine_whose_frame_never_came_off_counts_it_as_part_of_the_whole():
    """Pads under one axle, heights not told: of the whole, 5 to 30 percent hangs as high as a
    piece may, and the rest is as high as a bare tractor may be.
    """
    loads = {
        ("loader frame",): (869.0, 841.0),
        ("loader frame", "bucket"): (1072.0, 756.0),
    }
    day = weigh_day(
        machine("Hand-worked tractor", L, wheelbase_error=U_TAPE),
        "2026-05-14",
        scale_facts("1 kg", "0.5 %", placed="moved", ground="on the ground"),
        [weighing(setup, *both, "kg") for setup, both in loads.items()],
    )
    found = results(day, "bucket")

    def work(moved):
        off, on = loads.values()
        base = L + moved.get("tape", 0)
        kgs = {}
        for setup, both in (("off", off), ("on", on)):
            bare, piece = 0.35 + moved.get("bare", 0), 0.25 + moved.get("frame", 0)
            part = 0.175 + moved.get("part", 0)
            lifted = sum(off) * (bare + part * (piece - bare))
            if setup == "on":
                lifted += (sum(on) - sum(off)) * (0.25 + moved.get("bucket", 0))
            moves = lifted * (0.05 + moved.get("pad", 0)) / base**2
            for axle, kg in zip(("front", "rear"), both):
                own = moved.get((setup, axle), 0)
                kgs[setup, axle] = (kg + own) * (1 + moved.get("gain", 0)) + moves
        fronts = kgs["on", "front"] - kgs["off", "front"]
        rears = kgs["on", "rear"] - kgs["off", "rear"]
        return {
            "front_with": kgs["on", "front"],
            "rear_without": kgs["off", "rear"],
            "front_change": fronts,
            "rear_change": rears,
            "weight": fronts + rears,
            "ahead": -rears * base / (fronts + rears),
        }

    us = {
        "tape": U_TAPE,
        "gain": 0.005 / ROOT3,
        "bare": 0.25 / ROOT3,
        "frame": 0.65 / ROOT3,
        "bucket": 0.65 / ROOT3,
        "part": 0.125 / ROOT3,
        "pad": 0.03 / ROOT3,
    }
    us |= {
        (setup, axle): math.hypot(max(1, 0.005 * kg) / 3, 1 / math.sqrt(12))
        for setup, both in zip(("off", "on"), loads.values())
        for axle, kg in zip(("front", "rear"), both)
    }
    at = work({})
    for what, number in at.items():
        parts = [
            (work({one: 0.05 * u})[what] - work({one: -0.05 * u})[what]) / 0.1
            for one, u in us.items()
        ]
        got = getattr(found, what)
        assert got.value == pytest.approx(number, rel=1e-9), what
        assert got.u == pytest.approx(math.hypot(*parts), rel=2e-3), what
