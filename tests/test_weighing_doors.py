"""What is let in about a machine, its scales and its readings: up to each bound and no further.

And what spoken words are taken to mean, word by word, in both directions.
"""

import math

import pytest
from hand import KG_PER_LB, numbers_in
from messy_days import A_BARE, A_BOTH, A_FRAME, FRAME, day

from leverarm import Refusal, weighing
from leverarm.uncertainty import uncertain
from leverarm.weighing import Wheels, audit_spoken, claim_cards, read_claim
from leverarm.weighing.claims import fitting
from leverarm.weighing.day import begun, weigh_day
from leverarm.weighing.day_file import days_of, machines_of
from leverarm.weighing.facts import machine, one_line, scale_facts, tire, whole_number
from leverarm.weighing.finding import noted
from leverarm.weighing.fit import SetupReadings, merged_repeats
from leverarm.weighing.readings import axle_reading, digits, wheel_readings
from leverarm.weighing.readings import weighing as row_of
from leverarm.weighing.results import base_of, results
from leverarm.weighing.scales import Scales, Session, Tilt, gathered, repeats, wheelbase_of
from leverarm.weighing.spelling import nearly_same
from leverarm.weighing.spoken import read_spoken

DOORS = {
    "wheelbase": (lambda x: machine("A", x), [0.5, 5], [0.49, 5.01]),
    "wheelbase error": (lambda x: machine("A", 1.5, wheelbase_error=x), [0, 0.2], [-0.01, 0.21]),
    "track": (lambda x: machine("A", 1.5, track=(x, 1)), [0.3, 4], [0.29, 4.1]),
    "turns": (lambda x: machine("A", 1.5, turns=(x, 9)), [0.1, 1000], [0.09, 1001]),
    "height": (lambda x: machine("A", 1.5, heights={"bare": x}), [0, 10], [-0.1, 10.1]),
    "share": (lambda x: machine("A", 1.5, rear_share_least=x), [0, 100], [-0.5, 100.5]),
    "pressure": (lambda x: tire(pressure=x), [20, 500], [19, 501]),
    "patch": (lambda x: tire(patch=(x, 0.2)), [0.01, 2], [0.009, 2.1]),
    "step": (lambda x: scale_facts(x), [0.001, 1000], [0.0009, 1001]),
    "accuracy": (lambda x: scale_facts(accuracy=x), [0, 50], [-0.5, 50.5]),
    "limit": (lambda x: scale_facts(limit=x), [0, 1000], [-1, 1001]),
    "pads": (lambda x: scale_facts(pads=x), [1, 2, 4], [3, 5, 0.5]),
    "pad height": (lambda x: scale_facts(pad_height=x), [0, 0.5], [-0.1, 0.6]),
    "off level": (lambda x: scale_facts(off_level=x), [0, 10], [-0.5, 10.5]),
    "reading": (axle_reading, [-50, 50_000], [-51, 50_001]),
    "repeat": (lambda x: row_of("bare", 600, repeat=x), [1, 999], [0, 1000, 1.5]),
    "left wheel": (lambda x: axle_reading([x, 300]), [2, 5000], [1.9, 0]),
    "right wheel": (lambda x: axle_reading([300, x]), [2, 5000], [1.9, 0]),
    "graduation": (lambda x: Scales(x), [0, 1000], [-1, 1001]),
    "stated accuracy": (lambda x: Scales(accuracy=x), [0, 50], [-1, 51]),
    "zero": (lambda x: Scales(zero=x), [0, 1000], [-1, 1001]),
    "rise": (lambda x: Tilt(x), [-1, 1], [-1.1, 1.1]),
    "height above the axles": (lambda x: Tilt(height_above_axles=x), [-1, 5], [-1.1, 5.1]),
    "wheelbase of a fit": (wheelbase_of, [0.5, 50], [0.4, 51]),
    "readings of one load": (lambda n: repeats([600] * n, "front"), [1, 1000], [0, 1001]),
    "set-ups": (
        lambda n: merged_repeats([SetupReadings((f"p{i}",), 600, 800) for i in range(n)]),
        [1, 200],
        [0, 201],
    ),
    "told weight": (
        lambda x: weighing.infer((600, None), (700, None), 1.5, weight=x, u_reading=1),
        [50_000],
        [50_001],
    ),
    "told overhang": (
        lambda x: weighing.infer((600, None), (700, None), 1.5, ahead=x, u_reading=1),
        [-20, 20],
        [-20.1, 20.1],
    ),
    "hung in a forecast": (
        lambda x: weighing.forecast((600, 800), x, 1, 1.5),
        [-50_000, 50_000],
        [-50_001, 50_001],
    ),
    "overhang in a forecast": (
        lambda x: weighing.forecast((600, 800), 10, x, 1.5),
        [-20, 20],
        [-20.1, 20.1],
    ),
    "lift": (
        lambda x: weighing.height_by_lifting((600, 800), 885, x, 2.5),
        [0.01, 2],
        [-0.1, 2.1, 0],
    ),
    "axle heights": (
        lambda x: weighing.height_by_lifting((600, 800), 885, 0.4, 2.5, axle_heights=(x, 1.5)),
        [0, 3],
        [-0.1, 3.1],
    ),
}


@pytest.mark.parametrize("name", DOORS)
def test_a_door_of_the_yard_lets_in_up_to_its_bound(name):
    make, let_in, refused = DOORS[name]
    for value in let_in:
        assert make(value) is not None
    for value in refused:
        with pytest.raises(Refusal):
            make(value)


@pytest.mark.parametrize(
    "text, least, most, allowed",
    [
        ("", 0, 5, True),
        ("", 1, 5, False),
        ("abcde", 0, 5, True),
        ("abcdef", 0, 5, False),
        ("  ab \n c ", 0, 5, True),
        ("a\x07b", 0, 5, False),
    ],
)
def test_one_line_of_printable_letters(text, least, most, allowed):
    if allowed:
        assert one_line(text, "name", most, least) == " ".join(text.split())
    else:
        with pytest.raises(Refusal, match=f"{least} to {most} printable"):
            one_line(text, "name", most, least)


@pytest.mark.parametrize(
    "text, do", [("abcd\x07", "plain letters"), ("abcdef", "shorter"), ("abcde\x07", "shorter")]
)
def test_what_to_do_with_a_line_that_is_refused(text, do):
    with pytest.raises(Refusal, match=f"write it .*{do}"):
        one_line(text, "name", 5)


@pytest.mark.parametrize("length, allowed", [(60, True), (61, False)])
def test_names_up_to_sixty_letters(length, allowed):
    for make in (
        lambda name: machine(name, 1.5),
        lambda name: machine("A", 1.5, mower=name),
        lambda name: row_of(name, 600),
        lambda name: tire(size=name),
    ):
        if allowed:
            make("n" * length)
        else:
            with pytest.raises(Refusal, match="write it shorter"):
                make("n" * length)


def test_notes_up_to_three_hundred_letters():
    assert len(row_of("bare", 600, note="n" * 300).note) == 300
    with pytest.raises(Refusal, match="note"):
        row_of("bare", 600, note="n" * 301)
    long = noted(row_of("bare", 600, note="n" * 300), "unit").note
    assert len(long) == 300 and long.endswith("n, corrected: unit")
    assert noted(row_of("bare", 600), "unit").note == "corrected: unit"


@pytest.mark.parametrize(
    "given, most, number", [("3", 4, 3), ("", 4, 1), (" 4 ", 4, 4), ("1.0", 4, 1), (2, 2, 2)]
)
def test_whole_numbers(given, most, number):
    assert whole_number(given, "pads", most) == number


@pytest.mark.parametrize("given", ["5", "0", "-1", "1.5", "x", "1,5"])
def test_no_whole_numbers(given):
    with pytest.raises(Refusal, match="a whole number from 1 to 4"):
        whole_number(given, "pads", 4)


@pytest.mark.parametrize("given", [("1 m", ""), ("", "1 m"), ("1 m",), ("1 m", "1 m", "1 m")])
def test_a_pair_is_both_or_none(given):
    with pytest.raises(Refusal, match="both or none"):
        machine("A", 1.5, track=given)
    assert machine("A", 1.5, track=("", " ")).track_m is None
    assert machine("A", 1.5, track=(1, 1.1)).track_m == (1, 1.1)


@pytest.mark.parametrize(
    "told, known", [({}, False), ({"step": "1 kg"}, True), ({"accuracy": "1 %"}, True),
                    ({"limit": "1 kg"}, False), ({"pads": 4}, False)],
)  # fmt: skip
def test_scales_are_known_by_step_or_accuracy(told, known):
    made = scale_facts(**told)
    assert made.known is known and (made.scales is not None) is known


def test_scales_under_every_wheel_are_not_one_set():
    """One set moved shares its gain over both axles; one under each wheel does not."""
    for placed, shared in (("moved", True), ("every wheel", False), (None, True)):
        scales = scale_facts("1 kg", "1 %", placed=placed).scales
        gap = scales.load("front", 600.0) - scales.load("rear", 600.0)
        assert (gap.u == 0) is shared
        assert scales.load("front", 600.0).u == pytest.approx(6 / math.sqrt(3))


def test_what_one_reading_usually_scatters():
    """A third of the step, or of the limit of error where that is more."""
    assert Scales("3 kg", "0.1 %").usual_scatter(600) == pytest.approx(1)
    assert Scales("1 kg", "1 %").usual_scatter(600) == pytest.approx(2)
    assert Scales("1 kg", "1 %").usual_scatter(-600) == pytest.approx(2)


# --- readings -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "number, text",
    [(1019.0, "1019"), (602.5, "602.5"), (0.1, "0.1"), (-3.0, "-3"), (1e-05, "1e-05")],
)
def test_a_number_is_kept_with_its_digits(number, text):
    assert digits(number) == text


def test_an_axle_and_its_two_wheels():
    whole, wheels = axle_reading("829 lb", "lb"), axle_reading("400/429", "lb")
    assert not whole.wheels and wheels.wheels
    for one in (whole, wheels):
        assert one.shown == 829 and one.kg == pytest.approx(829 * KG_PER_LB)
    assert whole.given == whole.kg
    assert wheels.given == Wheels(400 * KG_PER_LB, 429 * KG_PER_LB)
    assert (str(whole), str(wheels)) == ("829 lb", "400 + 429 lb")
    assert wheel_readings(None, None) is None
    for left, right, missing in ((300, "", "right"), ("", 300, "left")):
        with pytest.raises(Refusal, match=f"front {missing} wheel"):
            axle_reading([left, right])


def test_wheels_and_totals_are_gathered():
    assert gathered([Wheels(1, 2), Wheels([3, 5], [4, 6])], "f") == Wheels([1, 3, 5], [2, 4, 6])
    assert gathered([Wheels([1, 2], [10, 20]), 7, [8, 9]], "f") == [11, 22, 7, 8, 9]
    assert gathered([], "f") == []


def test_the_mean_of_repeats_carries_its_own_scatter():
    """Readings 600, 602, 604 in steps so fine that rounding leaves nothing: s = 2, 2/sqrt(3)."""
    session = Session(Scales(0.1), None, {"front reading": [600, 602, 604]})
    load = session.reading("front", [600, 602, 604], "front reading")
    assert load.value == 602 and load.u == pytest.approx(2 / math.sqrt(3), rel=1e-3)
    assert session.dof == 2
    lone = Session(Scales(1.0), None, {"front reading": 600})
    assert lone.reading("front", 600, "front reading").u == pytest.approx(1 / math.sqrt(12))
    nothing = Session(Scales(), None, {"front reading": 600})
    assert math.isnan(nothing.reading("front", 600, "front reading").u)
    usual = Session(Scales(3.0, usual=True), None, {"front reading": 600})
    assert usual.reading("front", 600, "f").u == pytest.approx(math.hypot(1, 3 / math.sqrt(12)))


# --- days -----------------------------------------------------------------------------------------


def test_the_latest_day_of_each_machine_comes_first():
    def made(name, date):
        return weigh_day(machine(name, 1.5), date)

    days = [made("Blue", "2026-01-02"), made("red", "2026-01-01"), made("Red", "2026-03-01"),
            made("Blue", "2026-02-02")]  # fmt: skip

    class OneFile:
        def __init__(self, *own):
            self.days = own

    order = [(day.machine.key, day.date) for day in days_of([OneFile(*days)])]
    assert order == [
        ("blue", "2026-02-02"),
        ("blue", "2026-01-02"),
        ("red", "2026-03-01"),
        ("red", "2026-01-01"),
    ]
    assert [(day.machine.key, day.date) for day in machines_of(days)] == [order[0], order[2]]
    assert [(day.machine.key, day.date) for day in machines_of(days[::-1])] == [order[0], order[2]]


def test_a_new_day_takes_over_what_was_told_of_the_latest():
    old = weigh_day(machine("Red", 1.5, mower="deck"), "2026-01-01", scale_facts("1 kg"))
    new = weigh_day(machine("RED", 1.6, mower="flail"), "2026-02-01", scale_facts("2 kg"))
    other = weigh_day(machine("Blue", 1.7), "2026-03-01")
    made = begun([new, old, other], machine("red", 1.8), "2026-05-01")
    assert (made.machine.mower, made.machine.wheelbase_m, made.scales.step_kg) == ("flail", 1.8, 2)
    assert begun([new, old], machine("red", 1.8), "2026-01-01") is old
    assert begun([other], machine("red", 1.8), "2026-01-01").machine.mower == ""


def test_the_next_repeat_follows_the_highest():
    made = day(A_BARE, ("bare", 601, 800, {"repeat": 4}), A_FRAME)
    assert made.next_repeat(()) == 5
    assert made.next_repeat(("Loader FRAME",)) == 2 and made.next_repeat(("fork",)) == 1


def test_two_set_ups_that_differ_by_pieces():
    made = day(A_BARE, A_FRAME, A_BOTH)
    off, on = made.with_and_without("Bucket")
    assert (off.name, on.name) == (FRAME, "loader frame + bucket")
    off, on = made.with_and_without("bucket", "loader frame")
    assert (off.name, on.name) == ("bare", "loader frame + bucket")
    with pytest.raises(Refusal, match="differ by the fork alone"):
        made.with_and_without("fork")


@pytest.mark.parametrize(
    "one, other, same",
    [
        ("fork", "fork", False),
        ("fork", "forks", True),
        ("fork", "frok", True),
        ("fork", "rake", False),
        ("for", "fork", False),
        ("bucket", "buckte", True),
        ("bucket", "buckett", True),
        ("bucket", "bukett", False),
        ("loader frame", "loder frmae", True),
        ("loader frame", "loder fra", False),
        ("plow 1", "plow 2", False),
        ("plow 1", "plov 1", True),
        ("grapples", "grapple", True),
    ],
)
def test_names_a_slip_of_a_key_apart(one, other, same):
    """One key where the shorter has four to seven letters, two where it has eight or more."""
    assert nearly_same(one, other) is same and nearly_same(other, one) is same


# --- the fit and its test -------------------------------------------------------------------------


@pytest.mark.parametrize("way", [1, -1])
def test_set_ups_disagree_below_a_chance_of_five_percent(way):
    """Two degrees of freedom: exp(-x/2) = 0.05; what is off is left over in four, each 2 kg."""
    limit = math.sqrt(16 * 2 * math.log(20))
    for part, words in ((0.999, "The set-ups agree"), (1.001, "The set-ups disagree")):
        off = way * part * limit
        told = [((), 600, 800), (("f",), 800, 780), (("b",), 790, 720),
                (("f", "b"), 990 + off, 700)]  # fmt: skip
        fit = weighing.least_squares(told, 1.65, u_reading=2, u_wheelbase=0.003)
        test = fit.consistency
        assert test.words.startswith(words) and (test.kind, test.dof) == ("redundant", 2)
        assert test.chance == pytest.approx(math.exp(-(off**2) / 32), rel=1e-9)
        assert f"{100 * test.chance:.1f} % of weigh days" in test.words
        assert ("weigh it again" in test.words) is (part > 1)
        # Each reading is off by a quarter, known to half of 2 kg: all four alike.
        assert {
            abs(round(one.standardized, 6)) for one in fit.residuals if one.axle == "front"
        } == {round(part * limit / 4, 6)}
        assert len(fit.worst) == 4


def test_an_overhang_is_shaky_from_a_tenth():
    for kg, shaky in ((20.1, False), (19.9, True), (-20.1, False), (-19.9, True)):
        found = weighing.infer((600, 800), (600 + kg, 800), 1.65, u_reading=1, u_wheelbase=0)
        assert found.shaky is shaky
        assert ("small against its uncertainty" in found.sentence()) is shaky
        assert ("taken off" in found.sentence()) is (kg < 0)


@pytest.mark.parametrize(
    "ahead, words", [(0.5, "ahead of"), (0.0, "ahead of"), (-0.001, "behind"), (-0.5, "behind")]
)
def test_a_place_in_words(ahead, words):
    found = weighing.infer((600, 800), (600 + 100 * (1 + ahead), 800 - 100 * ahead), 1, u_reading=1)
    assert f" {words} the front axle" in found.sentence()


@pytest.mark.parametrize("gap, fits", [(3.9, True), (-3.9, True), (4.0, False), (-4.0, False)])
def test_numbers_fit_within_the_plus_or_minus_of_their_difference(gap, fits):
    """Each is known to sqrt(2) kg, the difference to 2: 1.96 times that is 3.92."""
    one, other = uncertain(100 + gap, 2**0.5, "one"), uncertain(100, 2**0.5, "other")
    assert fitting(one, other) is fits and fitting(one, uncertain(1, math.nan, "?")) is None


# --- spoken words ---------------------------------------------------------------------------------

FIELDS = ("piece", "axle", "of", "way", "action", "asks", "bound")


@pytest.mark.parametrize(
    "text, kind, value, told",
    [
        ("Taking the bucket off takes 200 kg off the front axle", "weight", 200,
         ("bucket", "front", "", -1, "off", "change", 0)),
        ("Bucket off puts 100 kg on the rear", "weight", 100,
         ("bucket", "rear", "", 1, "off", "change", 0)),
        ("The bucket adds 200 kg to the front", "weight", 200,
         ("bucket", "front", "", 1, "on", "change", 0)),
        ("The bucket takes 80 kg off the rear axle", "weight", 80,
         ("bucket", "rear", "", -1, "on", "change", 0)),
        ("With the ballast on the tractor is 300 kg heavier", "weight", 300,
         ("ballast", "machine", "", 1, "on", "change", 0)),
        ("twice its weight", "factor", 2, ("", "", "piece", 0, "off", "change", 0)),
        ("the scoop doubles the load on the front axle", "factor", 2,
         ("bucket", "", "front", 0, "on", "change", 0)),
        ("double the front load", "factor", 2, ("", "", "front", 0, "on", "change", 0)),
        ("a fifth of the front axle's load", "percent", 20,
         ("", "", "front", 0, "off", "change", 0)),
        ("30 percent of the total comes off the rear axle", "percent", 30,
         ("", "rear", "machine", -1, "off", "change", 0)),
        ("the loader weighs 200 kg", "weight", 200,
         ("whole loader", "", "", 0, "off", "weight", 0)),
        ("the front axle carries 59 % of the total with the bucket on", "percent", 59,
         ("bucket", "front", "machine", 0, "on", "load", 0)),
        ("more than 150 kg comes off the front", "weight", 150,
         ("", "front", "", -1, "off", "change", 1)),
        ("less than its own weight comes off the front", "factor", 1,
         ("", "front", "piece", -1, "off", "change", -1)),
        ("at most 150 kg less on the rear", "weight", 150,
         ("", "rear", "", -1, "off", "change", -1)),
        ("at least 150 kg more on the rear", "weight", 150,
         ("", "rear", "", 1, "off", "change", 1)),
        ("the loader frame weighs two hundred pounds", "weight", 200 * KG_PER_LB,
         ("loader frame", "", "", 0, "off", "weight", 0)),
        ("two hundred and fifty kg", "weight", 250, ("", "", "", 0, "off", "change", 0)),
        ("a hundred kg", "weight", 100, ("", "", "", 0, "off", "change", 0)),
        ("twenty-five kg", "weight", 25, ("", "", "", 0, "off", "change", 0)),
        ("one and a half times its weight", "factor", 1.5,
         ("", "", "piece", 0, "off", "change", 0)),
        ("2 1/2 times its weight", "factor", 2.5, ("", "", "piece", 0, "off", "change", 0)),
        ("half again its weight", "factor", 1.5, ("", "", "piece", 0, "off", "change", 0)),
        ("half as much again as it weighs", "factor", 1.5,
         ("", "", "piece", 0, "off", "change", 0)),
    ],
)  # fmt: skip
def test_what_spoken_words_are_taken_to_mean(text, kind, value, told):
    said = read_spoken(text)
    assert (said.claim.kind, said.claim.value.value) == (kind, pytest.approx(value))
    assert {name: getattr(said, name) for name in FIELDS} == dict(zip(FIELDS, told))
    assert said.text == text


DAY = day(("bare", 700, 800), (FRAME, 800, 800), (FRAME + " + bucket", 1000, 700), accuracy="0.1 %")


@pytest.mark.parametrize(
    "text, truth",
    [
        # The bucket: 200 kg off the front, 100 onto the rear, 100 off the machine.
        ("over 190 kg comes off the front", "true"),
        ("over 210 kg comes off the front", "false"),
        ("under 210 kg comes off the front", "true"),
        ("under 190 kg comes off the front", "false"),
        ("more than 90 kg goes on the rear", "true"),
        ("more than 110 kg goes on the rear", "false"),
        ("the machine loses 100 kg", "true"),
        ("the machine gains 100 kg", "false"),
        ("the front gains 200 kg", "false"),
        ("the rear gains 100 kg", "true"),
        ("the rear loses 100 kg", "false"),
        ("the bucket puts 200 kg on the front", "true"),
        ("the bucket takes 200 kg off the front", "false"),
        ("20 percent of the front axle's load comes off the front", "true"),
        ("25 percent of the front axle's load comes off the front", "false"),
        ("the bucket adds 25 percent of the front axle's load", "true"),
        ("the bucket adds 20 percent of the front axle's load", "false"),
        ("the front axle carries 1000 kg with the bucket on", "true"),
        ("the front axle carries 800 kg with the bucket on", "false"),
        ("the front axle carries 800 kg without the bucket", "true"),
        ("the rear axle carries 700 kg with the bucket on", "true"),
        ("the tractor weighs 1700 kg with the bucket on", "true"),
        ("1.25 times the front load with the bucket on", "true"),
        ("twice its weight comes off the front", "true"),
        ("once its weight goes on the rear", "true"),
        ("twice its weight goes on the rear", "false"),
    ],
)
def test_a_claim_in_both_directions(text, truth):
    found = audit_spoken(text, DAY)
    assert found.truth == truth, (found.sentences(), read_spoken(text))


@pytest.mark.parametrize(
    "text, says",
    [
        ("150 kg comes off the front", ["The change of the front axle is 200.0 ±"]),
        ("the rear loses 100 kg", ["With the bucket off, the rear axle gains load."]),
        ("the front gains 200 kg", ["With the bucket off, the front axle loses load."]),
        ("the bucket takes 200 kg off the front", ["With the bucket on, the front axle gains"]),
        ("the bucket adds 100 kg to the rear", ["With the bucket on, the rear axle loses load."]),
        ("the machine gains 100 kg", ["With the bucket off, the whole tractor loses load."]),
        ("200 kg comes off the rear axle", ["The number said is the change of the front axle."]),
        ("100 kg comes off the front axle", ["The number said is the change of the rear axle."]),
        ("the bucket weighs 200 kg", ["The number said is the change of the front axle."]),
        ("20 percent off the front",
         ["is 20.0", "of what the front axle carried with it.", "This fits.", "This does not fit.",
          "Say of what."]),
        ("200 kg", ["The change of the front axle", "This fits.", "weight of the bucket",
                    "This does not fit.", "Say on which axle."]),
    ],
)  # fmt: skip
def test_why_a_claim_is_or_is_not_so(text, says):
    why = audit_spoken(text, DAY).sentences("kg")[1]
    for words in says:
        assert words in why, why
    assert numbers_in(why, "kg") or "%" in why or "times" in why


@pytest.mark.parametrize(
    "kg, spoken",
    [(199, "200"), (201, "200"), (206, "210"), (194, "195"), (193, "195"), (52, "50"), (53, "55"),
     (49, "49"), (48, "48")],
)  # fmt: skip
def test_cards_round_numbers_as_people_speak(kg, spoken):
    """To ten from 200 up, to five from 50 up, else to one."""
    made = day((FRAME, 800, 800), (FRAME + " + bucket", 800 + kg, 790), accuracy="0.1 %")
    said = {
        card.said
        for seed in range(4)
        for card in claim_cards(made, system="kg", count=16, seed=seed)
    }
    assert f"Taking the bucket off takes {spoken} kg off the front axle." in said


def test_cards_come_in_turn_true_half_true_and_false():
    for count in (1, 2, 3, 6):
        cards = claim_cards(DAY, count=count)
        assert len(cards) == count
        assert len({card.truth for card in cards}) == min(count, 3)


@pytest.mark.parametrize(
    "text, kind, value, half",
    [
        ("155 kg", "weight", 155, 2.5),
        ("5 kg", "weight", 5, 0.5),
        ("100 kg", "weight", 100, 10),
        ("1000 kg", "weight", 1000, 100),
        ("120 kg", "weight", 120, 5),
        ("1.25 times", "factor", 1.25, 0.005),
        ("0.3 of it", "percent", 30, 3),
        ("2/3 of it", "percent", 200 / 3, 20 / 3),
        ("ten times", "factor", 10, 1),
    ],
)
def test_a_spoken_number_is_rounded_by_half_of_its_last_place(text, kind, value, half):
    claim = read_claim(text)
    assert (claim.kind, claim.value.value) == (kind, pytest.approx(value))
    assert claim.value.u * 3**0.5 == pytest.approx(half)


# --- what a day says of a piece -------------------------------------------------------------------


def test_results_by_hand():
    found = results(DAY)
    values = {
        name: getattr(found, name).value
        for name in ("front_with", "rear_with", "front_without", "rear_without", "front_change",
                     "rear_change", "weight", "ahead", "factor", "share_with", "share_without")
    }  # fmt: skip
    assert values == pytest.approx(
        {"front_with": 1000, "rear_with": 700, "front_without": 800, "rear_without": 800,
         "front_change": 200, "rear_change": -100, "weight": 100, "ahead": 1.65, "factor": 2,
         "share_with": 100 * 1000 / 1700, "share_without": 50}
    )  # fmt: skip
    assert (found.with_it, found.without) == (FRAME + " + bucket", FRAME)
    assert found.has_plus_minus and not found.front_only and found.given == ""


@pytest.mark.parametrize(
    "told, weight, ahead",
    [
        ({"weight": 100}, 100, 1.65),
        ({"ahead": 1.65}, 100, 1.65),
        ({"ahead": 0.825}, 400 / 3, 0.825),
    ],
)
def test_what_was_told_beside_the_front_alone(told, weight, ahead):
    front = day((FRAME, 800, None), (FRAME + " + bucket", 1000, None))
    found = results(front, **told)
    assert (found.weight.value, found.ahead.value) == pytest.approx((weight, ahead))
    assert found.given == next(iter(told)) and found.front_only
    assert results(front).weight is None and results(front).factor is None
    for too_much in ({"weight": 100, "ahead": 1.65},):
        with pytest.raises(Refusal, match="leave one out"):
            results(front, **too_much)
    with pytest.raises(Refusal, match="leave one out"):
        results(DAY, **told)


def test_pads_under_one_axle_are_put_back_by_the_middle_of_what_was_not_told():
    """Bare center 0.1 to 0.6 m above the axles, bucket -0.4 to 0.9 m, pads 2 to 8 cm."""
    rows = [("bare", 700, 800), ("bucket", 900, 700)]
    plain, tilted = (
        results(weigh_day(machine("A", 1.5), "2026-01-01",
                          scale_facts("1 kg", placed=placed, ground=ground),
                          [row_of(*row) for row in rows]))
        for placed, ground in (("every wheel", None), ("moved", "on the ground"))
    )  # fmt: skip
    bare, hung = 1500 * 0.35, 1500 * 0.35 + 100 * 0.25
    for name, moment in (("front_without", bare), ("front_with", hung),
                         ("rear_without", bare), ("rear_with", hung)):  # fmt: skip
        put_back = moment * 0.05 / 1.5**2
        assert getattr(tilted, name).value == pytest.approx(getattr(plain, name).value + put_back)
    assert tilted.front_change.u > plain.front_change.u
    assert any("stood on the pads" in note for note in tilted.notes)
    assert not any("stood on the pads" in note for note in plain.notes)


def test_of_several_pairs_the_barest_that_was_read_on_both_axles():
    frame, forks = (FRAME, 800, 800), ("forks", 720, 790)
    with_frame = (FRAME + " + bucket", 1000, 700)
    bare_front, bucket_front = ("bare", 700, None), ("bucket", 900, None)
    found = results(day(bare_front, bucket_front, frame, with_frame))
    assert found.without == FRAME and not found.front_only
    found = results(day(("bare", 700, 800), ("bucket", 900, 700), frame, with_frame))
    assert found.without == "bare"
    assert results(day(bare_front, bucket_front, forks)).front_only
    both = results(day(("bare", 700, 800), with_frame), "loader frame + bucket")
    assert (both.front_change.value, both.rear_change.value) == (300, -100)


@pytest.mark.parametrize("error, u", [(None, 0.003), ("1 cm", 0.01), (0, 0.0)])
def test_a_tape_that_was_not_told_may_be_three_millimeters_off(error, u):
    made = day(A_BARE, A_BOTH, error=error)
    assert base_of(made).u == pytest.approx(u) and base_of(made).value == 1.65


def tilted(**about):
    """Bare 700 and 800 kg, the bucket 100 kg one wheelbase of 1.5 m ahead; heights told or not."""
    heights = about.pop("heights", {})
    told = machine("A", 1.5, heights=heights, wheelbase_error=0)
    rows = [row_of("bare", 700, 800), row_of("bucket", 900, 700)]
    return results(weigh_day(told, "2026-01-01", scale_facts("0.001 kg", **about), rows))


def test_told_heights_and_pads_are_put_back_with_their_errors():
    """Pads of 5 cm known to 2 mm; heights known to 5 cm; axle centers 25 to 45 cm up."""
    heights = {"bare": 0.8, "bucket": 0.5}
    about = {"placed": "moved", "ground": "on the ground", "pad_height": 0.05}
    found = tilted(heights=heights, **about)
    bare, hung = 1500 * (0.8 - 0.35), 100 * (0.5 - 0.35)
    scale = 0.05 / 1.5**2
    assert found.front_without.value == pytest.approx(700 + bare * scale)
    assert found.rear_with.value == pytest.approx(700 + (bare + hung) * scale)
    parts = {
        "pad": bare / 1.5**2 * 0.002,
        "height": 1500 * scale * 0.05,
        "axles": 1500 * scale * 0.1 / math.sqrt(3),
    }
    assert found.front_without.u == pytest.approx(math.hypot(*parts.values()), rel=1e-3)
    # What the bare machine's tilt moved cancels in the change; the bucket's own stays.
    change = {
        "pad": hung / 1.5**2 * 0.002,
        "height": 100 * scale * 0.05,
        "axles": 100 * scale * 0.1 / math.sqrt(3),
    }
    assert found.front_change.value == pytest.approx(200 + hung * scale)
    assert found.front_change.u == pytest.approx(math.hypot(*change.values()), rel=1e-2)


def test_a_yard_off_level_moves_the_axles_against_each_other():
    """Up to 2 degrees either way: nothing on average, W h tan/L as a limit; the total stays."""
    flat, sloped = (tilted(heights={"bare": 0.8, "bucket": 0.5}, off_level=x) for x in (0, 2))
    assert sloped.front_without.value == flat.front_without.value == 700
    moved = 1500 * 0.8 * math.tan(math.radians(2)) / 1.5 / math.sqrt(3)
    assert sloped.front_without.u == pytest.approx(moved, rel=1e-3)
    together = sloped.front_without + sloped.rear_without
    assert together.u == pytest.approx((flat.front_without + flat.rear_without).u, abs=1e-9)
    assert flat.front_without.u < 0.001 < sloped.front_change.u


@pytest.mark.parametrize(
    "step, accuracy, rows, notes",
    [
        (None, None, 1, ["were not told"]),
        ("1 kg", "0.1 %", 1, ["read once", "may be wider"]),
        ("1 kg", "1 %", 1, ["read once"]),  # a third of 1 percent is more than half a step
        (None, "1 %", 1, ["read once"]),
        ("1 kg", "0.1 %", 2, []),
    ],
)
def test_what_stands_beside_a_plus_or_minus(step, accuracy, rows, notes):
    once = [("bare", 700, 800), ("bucket", 900, 700)]
    again = [("bare", 701, 801), ("bucket", 901, 699)]
    made = day(*once, *(again if rows == 2 else []), step=step, accuracy=accuracy)
    found = results(made).notes
    assert len(found) == len(notes) and all(one in note for one, note in zip(notes, found))


@pytest.mark.parametrize(
    "text, axle",
    [
        ("200 kg comes off the front axle of this tractor", "front"),
        ("on this machine the rear axle gains 100 kg", "rear"),
    ],
)
def test_the_longest_phrase_that_fits_counts(text, axle):
    assert read_spoken(text).axle == axle


def test_twice_a_load_is_said_of_the_whole_load_and_twice_a_weight_of_the_change():
    """1,000 kg with the bucket, 800 without: 0.8 of the load, and 2.0 times the 100 kg bucket."""
    why = audit_spoken("doubles", DAY).sentences("kg")[1]
    assert "The change of the front axle is 2.00" in why
    assert "What the front axle carried without it is 0.80" in why


@pytest.mark.parametrize("times, truth", [("0.59", "true"), ("0.5", "false"), ("59", "false")])
def test_a_load_told_as_a_factor_of_the_total(times, truth):
    """1,000 of 1,700 kg stand on the front axle."""
    said = f"the front axle carries {times} times the total weight with the bucket on"
    assert audit_spoken(said, DAY).truth == truth


def test_degrees_of_freedom_of_set_ups_and_of_repeats_add_up():
    """Four set-ups for three unknowns on each axle, and one reading repeated on each."""
    told = [((), [600, 601], [800, 801]), (("f",), 800, 780), (("b",), 790, 720),
            (("f", "b"), 990, 700)]  # fmt: skip
    fit = weighing.least_squares(told, 1.65, u_reading=2, u_wheelbase=0.003)
    assert (fit.redundant_dof, fit.repeat_dof, fit.dof) == (2, 2, 4)
