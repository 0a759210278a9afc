"""Spoken claims: each one's truth evaluated with symbols, and with the numbers of a machine worked
by hand.
"""

from dataclasses import replace

import pytest
import sympy as sp

from leverarm.decision import (
    CLAIMS,
    NEVER_PROMISE,
    RED_LINES,
    Letters,
    demo_case,
    letters_of,
    true_number,
)
from leverarm.quantities import Refusal

NAMES = "W a h V v L B b A N D lead path r k"
S = Letters(*sp.symbols(NAMES, positive=True))
BY_KEY = {claim.key: claim for claim in CLAIMS}
# One wheelbase of 1.5 m; bucket 100 kg at 1.5 m, frame 200 kg at 0, ballast 300 kg 0.75 m behind
# the rear axle.
HAND = Letters(
    100.0, 1.5, 0.4, 200.0, 0.0, 1.5, 300.0, 0.75, 0.015, 300.0, 150.0, 3.0, 1000.0, 1.0, 2
)


def gap(key):
    """What the claim says more than there is."""
    return sp.simplify(BY_KEY[key].claimed(S) - BY_KEY[key].so(S))


# The truth of each claim, written here from paper and nowhere else.
SO = {
    "twice": S.W * (1 + S.a / S.L),
    "whole_loader": S.W * (1 + S.a / S.L) + S.V * (1 + S.v / S.L),
    "bucket_enough": 100 * S.V * (S.L + S.v) / (S.V * (S.L + S.v) + S.W * (S.L + S.a)),
    "ballast_fixes": S.B,
    "fluid": sp.Integer(0),
    "happy_soil": S.B,
    "four_wheel": S.path * S.lead / 100,
    "raise": sp.Integer(0),
    "heavier_stable": (S.L + (S.W * S.a + S.V * S.v) / (S.W + S.V))
    * (S.W + S.V)
    / (S.W * S.h + S.V * (S.h + S.r)),
}


@pytest.mark.parametrize("key", SO)
def test_truth_of_each_claim_in_letters(key):
    assert sp.simplify(BY_KEY[key].so(S) - SO[key]) == 0


# What the words of each claim come to, written from the words: "twice", "just as much", "no more".
SAID = {
    "twice": 2 * S.W,
    "whole_loader": 2 * (S.W + S.V),
    "bucket_enough": sp.Integer(0),
    "ballast_fixes": sp.Integer(0),
    "fluid": -S.B,
    "happy_soil": sp.Integer(0),
    "four_wheel": sp.Integer(0),
    "raise": -S.W * S.r / S.L,
    "heavier_stable": S.k * SO["heavier_stable"],
    "no_ruts": sp.Integer(0),
}


@pytest.mark.parametrize("key", SAID)
def test_what_each_claim_comes_to_in_letters(key):
    assert sp.simplify(BY_KEY[key].claimed(S) - SAID[key]) == 0


def test_there_are_eleven_and_each_says_what_to_say():
    assert len(CLAIMS) == 11 == len(BY_KEY)
    for claim in CLAIMS:
        assert claim.said.endswith(".") and claim.truth and claim.say.endswith(".")


def test_twice_holds_at_one_wheelbase_and_nowhere_else():
    assert sp.solve(gap("twice"), S.a) == [S.L]


def test_the_whole_loader_doubles_only_with_its_center_one_wheelbase_out():
    center = (S.W * S.a + S.V * S.v) / (S.W + S.V)
    assert sp.simplify(gap("whole_loader").subs(S.a, sp.solve(center - S.L, S.a)[0])) == 0
    assert sp.simplify(gap("whole_loader").subs(S.v, 0) - (S.V + S.W - S.W * S.a / S.L)) == 0


def test_what_stays_is_nothing_only_without_a_frame():
    assert sp.limit(BY_KEY["bucket_enough"].so(S), S.V, 0) == 0
    assert sp.simplify(BY_KEY["bucket_enough"].so(S)) != 0


@pytest.mark.parametrize("key, claimed", [("ballast_fixes", 0), ("happy_soil", 0), ("fluid", -S.B)])
def test_ballast_claims_miss_by_the_ballast(key, claimed):
    assert sp.simplify(BY_KEY[key].claimed(S) - claimed) == 0 and sp.simplify(gap(key) + S.B) == 0


def test_front_drive_slips_nothing_only_without_a_lead():
    assert (
        sp.solve(gap("four_wheel"), S.lead) in ([], [0])
        and sp.simplify(gap("four_wheel").subs(S.lead, 0)) == 0
    )


def test_weight_cancels_out_of_the_tipping_angle():
    truth = sp.simplify(BY_KEY["heavier_stable"].so(S))
    assert (
        S.k not in truth.free_symbols
        and sp.simplify(gap("heavier_stable") - (S.k - 1) * truth) == 0
    )


def test_pressure_rises_less_than_load():
    """With the growing print, the pressure stays below what proportion would give, for any load
    added.
    """
    claim = BY_KEY["psi"]

    def at(D):
        return {S.N: sp.Integer(300), S.A: sp.Rational(15, 1000), S.D: sp.Integer(D)}

    for D in (1, 150, 300):
        assert (
            0
            < float(sp.sympify(claim.so(S)).subs(at(D)))
            < float(sp.sympify(claim.claimed(S)).subs(at(D)))
        )
    assert float(sp.sympify(gap("psi")).subs(at(0))) == pytest.approx(0)


def test_no_formula_of_ours_knows_how_wet_it_is():
    truth = sp.sympify(BY_KEY["no_ruts"].so(S))
    assert truth.free_symbols == {S.N, S.A} and BY_KEY["no_ruts"].claimed(S) == 0


@pytest.mark.parametrize(
    "key, worked",
    [
        ("twice", 200),
        ("whole_loader", 400),
        ("bucket_enough", 50),
        ("ballast_fixes", 300),
        ("fluid", 0),
        ("happy_soil", 300),
        ("four_wheel", 30),
        ("raise", 0),
    ],
)
def test_by_hand(key, worked):
    assert BY_KEY[key].so(HAND) == pytest.approx(worked)


def test_a_claim_may_be_right_for_a_machine():
    assert BY_KEY["twice"].holds(HAND) and not BY_KEY["twice"].holds(replace(HAND, a=1.2))
    assert not any(BY_KEY[key].holds(HAND) for key in BY_KEY if key != "twice")


@pytest.mark.usefixtures("metric")
def test_numbers_of_the_machine_at_hand():
    weighed = demo_case(weighed=True)
    letters = letters_of(weighed)
    # Frame and bucket 2274 lb on the front, the frame alone 1827: the bucket 447, as on the page.
    assert (
        BY_KEY["twice"].so(letters).value == pytest.approx(447 * 0.45359237, rel=1e-6)
        and BY_KEY["twice"].holds(letters) is False
    )
    for claim in CLAIMS:
        for system, unit in (("kg", "lb"), ("lb", "kg")):
            said = true_number(claim, weighed, system)
            assert f" {unit} " not in said and ("Here" in said or "Take every weight" in said)
    assert "202.8 ± " in true_number(BY_KEY["twice"], weighed)


def test_a_part_that_was_not_told_is_said_to_be_lent():
    bare = replace(demo_case(), ballast=None)
    assert true_number(BY_KEY["fluid"], bare).startswith("No ballast was told") and not true_number(
        BY_KEY["twice"], bare
    ).startswith("No ")


def test_never_promised():
    assert len(NEVER_PROMISE) == 7 and any("service department" in line for line in RED_LINES)
    assert not any("safe" in text.lower() for claim in CLAIMS for text in (claim.truth, claim.say))


SPOILED = [
    ('name = "twice"', 'name = "thrice"', "claim thrice, name"),
    ("{bucket_factor}", "{bucket_fator}", "claim twice, number"),
    ('needs = "bucket"', 'needs = "spoon"', "claim twice, needs"),
    ("said =", "sayd =", "claim twice, said"),
    ('name = "whole_loader"', 'name = "twice"', "claim twice, name"),
    ('say = "It takes', 'sai = "x"\nsay = "It takes', "claim twice"),
]


@pytest.mark.parametrize("was, becomes, where", SPOILED)
def test_a_spoiled_claim_is_refused_with_file_and_key(was, becomes, where):
    from importlib import resources

    from leverarm.data import parsed
    from leverarm.decision.claims import read_claims

    text = resources.files("leverarm.data").joinpath("claims.toml").read_text("utf-8")
    with pytest.raises(Refusal) as found:
        read_claims(parsed(text.replace(was, becomes, 1), "claims.toml"))
    assert str(found.value).startswith(f"claims.toml, {where}")


def test_a_claim_that_is_missing_is_refused():
    from leverarm.data import parsed
    from leverarm.decision.claims import read_claims

    with pytest.raises(Refusal, match="no claim twice"):
        read_claims(parsed("", "claims.toml"))


# What each claim's numbers belong to, and which way they go: -1 comes off, +1 goes on.
WAYS = {
    "twice": {"front": -1, "rear": +1, "machine": -1},
    "whole_loader": {"front": -1, "rear": +1, "machine": -1},
    "ballast_fixes": {"front": -1, "rear": +1, "machine": +1},
    "fluid": {"front": 0, "rear": +1, "machine": +1},
    "happy_soil": {"front": -1, "rear": +1, "machine": +1},
}


@pytest.mark.parametrize("scale", [1.0, 0.003])
@pytest.mark.parametrize("key", WAYS)
def test_facts_say_which_way_each_axle_goes_however_small_the_piece(key, scale):
    from leverarm.decision import behind, case, facts_of, piece

    made = case(
        "Hand-worked tractor",
        1.5,
        600,
        900,
        loader=piece("loader frame", 200 * scale, 0.3),
        bucket=piece("bucket", 100 * scale, 1.5),
        ballast=behind("ballast", 200 * scale, 0.75, 1.5),
    )
    claim = next(one for one in CLAIMS if one.key == key)
    found = {
        fact.of[0]: fact.way
        for fact in facts_of(claim, made)
        if fact.kind == "weight" and len(fact.of) == 1 and fact.of[0] != "piece"
    }
    assert found == WAYS[key]
