"""Every kind with a number, worked from its given numbers by a formula written here from paper.

Letters as on the blackboard: W hung weight, a overhang, L wheelbase, F and R readings with 0 before
and 1 after, T weight of the tractor, x0 its center behind the front axle, h height, B ballast at b
behind the rear axle, u standard uncertainty, A a contact patch, I gauge pressure, Cf Cr rolling
circumferences.  Nothing here calls a formula of the package.
"""

import math
import statistics

import pytest
from hand import GRAVITY, KG_PER_LB, on_front, on_rear

from leverarm import exercises


def pieces(n):
    """(weight, overhang) of bucket, lift arms and frame, as far as they are given."""
    return [(n[f"W{i}"], n[f"a{i}"]) for i in (1, 2, 3) if f"W{i}" in n]


def front(n):
    return sum(on_front(*one, n["L"]) for one in pieces(n))


def bucket(n):
    return on_front(n["W1"], n["a1"], n["L"])


def five(n):
    return [n[f"r{i}"] for i in range(1, 6)]


def slope(n):
    return math.sin(math.radians(n["j"])), math.cos(math.radians(n["j"]))


def nose_down_rear(n):
    s, c = slope(n)
    return n["T"] * (c * n["x0"] - s * n["h"]) / n["L"]


def pressure(load, area, tires=2):
    return load * GRAVITY / (tires * area) / 1000


def lead_lost_in_turn(n):
    return 100 * (math.hypot(n["O"], n["L"]) / n["O"] - 1)


def gains(n):
    return n["F1"] - n["F0"], n["R1"] - n["R0"]


HAND = {
    # The seat is s ahead of the rear axle, or i behind the front one.
    "operator_on_seat": lambda n: n["F0"] + n["Wo"] * n.get("se", n["L"] - n.get("i", 0)) / n["L"],
    "weight_seat_empty": lambda n: n["F1_empty"] + n["R1_empty"] + n["Wo"] - n["F0"] - n["R0"],
    "machine_weight": lambda n: n["F0"] + n["R0"],
    "pounds": lambda n: n["W"] / KG_PER_LB,
    "kilograms": lambda n: n["W"] * KG_PER_LB,
    "newtons": lambda n: n["W"] * GRAVITY,
    "moment_about_front": lambda n: n["W"] * n["a"],
    "moment_about_rear": lambda n: n["W"] * (n["a"] + n["L"]),
    "plank_left": lambda n: n["P"] / 2 + n["J"] * (n["S"] - n["d"]) / n["S"],
    "plank_right": lambda n: n["P"] / 2 + n["J"] * n["d"] / n["S"],
    "jug_place": lambda n: n["S"] * n["jug_on_right"] / n["J"],
    "front_share": lambda n: 100 * n["F0"] / (n["F0"] + n["R0"]),
    "center_of_gravity": lambda n: n["L"] * n["R0"] / (n["F0"] + n["R0"]),
    "front_reading": lambda n: n["T"] * (n["L"] - n["x0"]) / n["L"],
    "rear_reading": lambda n: n["T"] * n["x0"] / n["L"],
    "front_gain": lambda n: on_front(n["W"], n["a"], n["L"]),
    "front_gain_among_readings": lambda n: on_front(n["W"], n["a"], n["L"]),
    "rear_change": lambda n: on_rear(n["W"], n["a"], n["L"]),
    "total_change": lambda n: n["W"],
    "factor": lambda n: (n["L"] + n["a"]) / n["L"],
    "overhang_for_factor": lambda n: (n["k"] - 1) * n["L"],
    "new_front_reading": lambda n: n["F0"] + on_front(n["W"], n["a"], n["L"]),
    "new_rear_reading": lambda n: n["R0"] + on_rear(n["W"], n["a"], n["L"]),
    "front_when_off": lambda n: -on_front(n["W"], n["a"], n["L"]),
    "rear_when_off": lambda n: -on_rear(n["W"], n["a"], n["L"]),
    "between_front": lambda n: on_front(n["W"], -n["i"], n["L"]),
    "between_rear": lambda n: on_rear(n["W"], -n["i"], n["L"]),
    "inches_and_meters": lambda n: on_front(n["W"], n["a_in"], n["L"]),
    "feet_and_inches": lambda n: on_front(n["W"], n["a_ft"], n["L"]),
    "millimeters_and_meters": lambda n: on_front(n["W"], n["a_mm"], n["L"]),
    "lifting_weight": lambda n: n["R0"] * n["L"] / n["a"],
    "lifting_weight_in_all": lambda n: n["R0"] * n["L"] / n["a"],
    "weight_still_to_add": lambda n: n["R0"] * n["L"] / n["a"] - n["W"],
    "two_pieces": front,
    "loader_front": front,
    "loader_rear": lambda n: sum(on_rear(*one, n["L"]) for one in pieces(n)),
    "loader_factor": lambda n: front(n) / sum(one[0] for one in pieces(n)),
    "loader_overhang": lambda n: sum(w * a for w, a in pieces(n)) / sum(w for w, _ in pieces(n)),
    "bucket_share": lambda n: 100 * bucket(n) / front(n),
    "bucket_off_reading": lambda n: n["F0"] + front(n) - bucket(n),
    "percent_change": lambda n: 100 * on_front(n["W"], n["a"], n["L"]) / n["F0"],
    "rear_percent": lambda n: 100 * on_rear(n["W"], n["a"], n["L"]) / n["R0"],
    "whole_percent": lambda n: 100 * n["W"] / (n["F0"] + n["R0"]),
    "front_share_after": lambda n: (
        100 * (n["F0"] + on_front(n["W"], n["a"], n["L"])) / (n["F0"] + n["R0"] + n["W"])
    ),
    "relief_percent": lambda n: (
        100 * on_front(n["W"], n["a"], n["L"]) / (n["F0"] + on_front(n["W"], n["a"], n["L"]))
    ),
    "weight_from_readings": lambda n: sum(gains(n)),
    "overhang_from_readings": lambda n: -n["L"] * gains(n)[1] / sum(gains(n)),
    "factor_from_readings": lambda n: gains(n)[0] / sum(gains(n)),
    "mean_reading": lambda n: statistics.mean(five(n)),
    "scatter": lambda n: statistics.stdev(five(n)),
    "mean_uncertainty": lambda n: statistics.stdev(five(n)) / math.sqrt(5),
    "total_uncertainty": lambda n: math.hypot(n["u"], n["u"]),
    "weight_uncertainty": lambda n: math.hypot(*[n["u"]] * 4),
    "expanded_uncertainty": lambda n: 2 * math.hypot(*[n["u"]] * 4),
    "from_certificate": lambda n: n["U"] / 2,
    "from_limits": lambda n: n["h2"] / math.sqrt(3),
    "overhang_on_arc": lambda n: n["r"] * math.cos(math.radians(n["o"])) - n["p"],
    # R0 - W a/L = 0.2 (T0 + W)
    "load_that_keeps_a_fifth": lambda n: (
        (n["R0"] - 0.2 * (n["F0"] + n["R0"])) / (n["a"] / n["L"] + 0.2)
    ),
    "slope_degrees": lambda n: math.degrees(math.atan2(n["G"], 100)),
    "front_nose_down": lambda n: n["T"] * slope(n)[1] - nose_down_rear(n),
    "rear_nose_down": nose_down_rear,
    "brake_push": lambda n: n["T"] * slope(n)[0],
    "friction_needed": lambda n: n["T"] * slope(n)[0] / nose_down_rear(n),
    "braking_transfer": lambda n: n["y"] * n["T"] * n["h"] / n["L"],
    "sideways_ratio": lambda n: n["t"] / 2 / n["h"],
    "sideways_angle": lambda n: math.degrees(math.atan2(n["t"] / 2, n["h"])),
    "ballast_front": lambda n: on_front(n["B"], -n["L"] - n["b"], n["L"]),
    "ballast_rear": lambda n: on_rear(n["B"], -n["L"] - n["b"], n["L"]),
    "ballast_total": lambda n: n["B"],
    "ballast_front_reading": lambda n: n["F0"] + on_front(n["B"], -n["L"] - n["b"], n["L"]),
    "ballast_rear_reading": lambda n: n["R0"] + on_rear(n["B"], -n["L"] - n["b"], n["L"]),
    "bucket_or_ballast": lambda n: on_front(n["B"], -n["L"] - n["b"], n["L"]),
    "bucket_and_ballast": lambda n: (
        on_rear(n["W"], n["a"], n["L"]) + on_rear(n["B"], -n["L"] - n["b"], n["L"])
    ),
    "canceling_ballast": lambda n: n["W"] * (n["L"] + n["a"]) / n["b"],
    "front_weights": lambda n: (
        (0.2 * (n["F0"] + n["R0"]) - n["F0"] - on_front(n["Bm"], -n["L"] - n["bm"], n["L"]))
        * n["L"]
        / (n["L"] + n["w"])
    ),
    "front_pressure": lambda n: pressure(n["F1"], n["A"]),
    "patch_area": lambda n: n["c"] * n["l"] * n["v"],
    "pressure_from_patch": lambda n: pressure(n["F0"], n["c"] * n["l"] * n["v"]),
    "patch_needed": lambda n: n["F0"] / 2 * GRAVITY / (1000 * n["N"]),
    "carcass": lambda n: n["I"] + n["K"],
    # The patch grows by the part q of the load's growth: A (1 + q (F1/F0 - 1)).
    "pressure_growth": lambda n: (
        100 * (n["F1"] / n["F0"] / (1 + n["q"] * (n["F1"] / n["F0"] - 1)) - 1)
    ),
    "pressure_after": lambda n: pressure(n["F1"], n["A"] * (1 + n["q"] * (n["F1"] / n["F0"] - 1))),
    "patch_radius": lambda n: math.sqrt(n["A"] / math.pi),
    # Froehlich under the center of a circle, factor 4: p (1 - cos^4 of the angle to its edge).
    "stress_at_depth": lambda n: n["N"] * under_center(n),
    "stress_share": lambda n: 100 * under_center(n),
    "inflation": lambda n: n["I"] * (n["Q1"] / n["Q0"]) ** (1 / 0.8),
    "psi": lambda n: n["I"] * 1000 / (KG_PER_LB * GRAVITY / 0.0254**2),
    "rolling": lambda n: n["s"] / n["nt"],
    "turns_ratio": lambda n: n["n1"] / n["nr"],
    "lead": lambda n: 100 * (n["g1"] * n["Cf"] / n["Cr"] - 1),
    "lead_from_roll_out": lambda n: 100 * (n["turns_drive_in"] / n["n0"] - 1),
    "front_circumference": lambda n: n["Cr"] * (1 + n["e"] / 100) / n["g1"],
    "turn_path": lambda n: math.hypot(n["O"], n["L"]) / n["O"],
    "turn_mismatch": lambda n: n["e"] - lead_lost_in_turn(n),
    "slip_distance": lambda n: n["D"] * n["e"] / 100,
    "wear_index": lambda n: 100 * n["F1"] / n["F0"] * n["e1"] / n["e0"],
    "loader_off_relief": lambda n: 100 * front(n) / (n["F0"] + front(n)),
    "bucket_off_relief": lambda n: 100 * bucket(n) / (n["F0"] + front(n)),
    "what_stays": lambda n: 100 * (front(n) - bucket(n)) / front(n),
    "tire_gain": lambda n: front(n) / 2,
}


def under_center(n):
    """Part of the surface pressure that is left at depth z under the middle of a round patch."""
    square = n["A"] / math.pi
    return 1 - (n["z"] / math.hypot(n["z"], math.sqrt(square))) ** 4


NUMBERS = [kind.name for kind in exercises.problems() if kind.style == "number"]


def test_every_kind_with_a_number_is_worked_here():
    missing = sorted(set(NUMBERS) - set(HAND))
    assert not missing, f"work {missing} in HAND, from the given numbers and with + - * / alone"
    assert sorted(HAND) == sorted(NUMBERS)


@pytest.mark.parametrize("name", HAND)
def test_the_answer_is_the_one_worked_by_hand(name):
    for seed in range(6):
        for system in ("kg", "lb"):
            p = exercises.make(name, seed, system)
            assert HAND[p.kind](p.drawn.values) == pytest.approx(p.drawn.right, rel=1e-9), (
                p.statement
            )


@pytest.mark.parametrize("name", HAND)
def test_the_answer_stands_in_the_unit_that_is_asked(name):
    """A tenth of the unit's size is never right; the answer in another unit of its kind is."""
    sizes = {"kg": 1, "lb": KG_PER_LB, "m": 1, "in": 0.0254, "cm2": 1e-4, "in2": 0.0254**2}
    sizes |= {"cm": 0.01, "kPa": 1, "psi": KG_PER_LB * GRAVITY / 0.0254**2 / 1000}
    for system in ("kg", "lb"):
        p = exercises.make(name, 1, system)
        if p.unit in sizes and name not in ("pounds", "kilograms", "psi"):
            assert p.answer * sizes[p.unit] == pytest.approx(p.drawn.right, rel=1e-9)
        assert exercises.check(p, f"{p.answer:.6g} {p.unit}").right
        assert not exercises.check(p, f"{p.answer / 10:.6g} {p.unit}").right
