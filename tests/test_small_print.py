"""Small print that a person reads: defaults, plurals, halves, what is cut short."""

import math
import re

import pytest
from hand import GRAVITY, numbers_in, on_front, on_rear

from leverarm import Attachment, Refusal, Tractor, ballast, decision, exercises, stability, weighing
from leverarm.axles import AxleLoads
from leverarm.decision import CLAIMS, Job, Tires, case, counters, decide, piece, true_number
from leverarm.exercises.expressions.grammar import Unreadable, read_formula
from leverarm.exercises.expressions.tree import formula_text
from leverarm.exercises.number_reader import clipped
from leverarm.ground import ContactPatch
from leverarm.stability import Part
from leverarm.weighing.day_file import files_at, one_day
from leverarm.weighing.setup_errors import on_grade, operator_off, pads_under, unsettled

L = 1.5
TRACTOR = Tractor("Hand-worked tractor", L, 600, 900, 0.7)


def machine(**more):
    """600 and 900 kg bare; frame 200 kg over the front axle, bucket 100 kg one wheelbase ahead."""
    sure = {"u_weight": 1, "u_ahead": 0.01}
    parts = {
        "loader": piece("loader frame", 200, 0, 0.8, **sure),
        "bucket": piece("bucket", 100, L, 0.3, **sure),
        **more,
    }
    return case("Hand-worked tractor", L, 600, 900, 0.7, u_wheelbase=0.003, u_reading=1, **parts)


# --- what is taken where nothing is told ---------------------------------------------------------


def test_a_job_that_says_nothing_is_level_once_and_takes_the_usual_minutes():
    job = Job()
    assert (job.slope_deg, job.surface, job.brakes, job.mowings) == (0, "wet grass", "rear", 1)
    assert (job.bucket_minutes, job.loader_minutes, job.ballast_minutes) == (5, 20, 10)


def test_the_usual_shares_are_a_fifth():
    """Common practice, no source: of the unladen tractor in front, of everything at the rear."""
    assert ballast.steering_need(TRACTOR, ahead=0.6).share == 20
    assert ballast.rear_need(TRACTOR, behind=0.6).share == 20


# --- plurals and whole numbers -------------------------------------------------------------------


@pytest.mark.parametrize(
    "mowings, words", [(1, "1 mowing "), (2, "2 mowings "), (10, "10 mowings ")]
)
def test_one_mowing_and_several(mowings, words):
    found = counters(decide(machine(job=Job(mowings=mowings))))
    assert any(f"You stated {words}" in one.said for one in found)
    short = next(one.said for one in found if one.title.startswith("Leave it on"))
    assert f"takes 20 minutes as you stated them: {20 / mowings:.0f} for each" in short


@pytest.mark.usefixtures("metric")
def test_limits_say_how_much_room_there_is():
    loads = AxleLoads(980, 640)
    over, under, _ = ballast.limit_checks(loads, front_axle=900, rear_axle=900)
    assert numbers_in(over.sentence(), "kg") == [980, 80]
    assert numbers_in(under.sentence(), "kg") == [640, 260]
    assert over.share == pytest.approx(100 * 980 / 900)


def test_depths_stand_in_the_units_shown():
    made = ContactPatch(0.2, 0.15, 0.8, 300, 150)
    row = decide(machine(tires=Tires(made, made))).row("front_stress_1")
    assert "0.10 m down" in row.name("kg") and "4 in down" in row.name("lb")


def test_a_tire_carries_half_of_its_axle():
    """The patch was measured under 300 kg, and with the loader off the front axle has 600."""
    made = ContactPatch(0.2, 0.15, 0.8, 300, 150)
    table = decide(machine(tires=Tires(made, made)))
    pressure = 300 * GRAVITY / (0.2 * 0.15 * 0.8) / 1000
    assert table.value("front_pressure", "loader_off") == pytest.approx(pressure)


def test_half_of_an_odd_load_is_not_rounded():
    """The bucket off leaves 600 + 201 kg in front: 400.5 for each tire, as on the paper."""
    made = ContactPatch(0.2, 0.15, 0.8, 400.5, 150)
    frame = piece("loader frame", 201, 0, u_weight=1, u_ahead=0.01)
    table = decide(machine(tires=Tires(made, made), loader=frame))
    pressure = 400.5 * GRAVITY / (0.2 * 0.15 * 0.8) / 1000
    assert table.value("front_pressure", "bucket_off") == pytest.approx(pressure)


def test_a_claim_holds_where_only_the_last_digit_of_a_float_differs():
    """Bucket 70 kg at 1.7 m, frame 130 kg at 1.19 m: together 1.3685 m out, one wheelbase."""
    whole = next(one for one in CLAIMS if one.key == "whole_loader")
    ground_part = (300.0, 0.75, 0.015, 300.0, 150.0, 3.0, 1000.0)
    even = decision.Letters(70, 1.7, 0.4, 130, 1.19, 1.3685, *ground_part)
    assert 0 != whole.claimed(even) - whole.so(even) == pytest.approx(0, abs=1e-9)
    assert whole.holds(even) is True


@pytest.mark.usefixtures("metric")
def test_the_factor_in_a_claim_is_gain_over_weight():
    said = true_number(next(one for one in CLAIMS if one.key == "twice"), machine())
    assert "2.00 times the bucket" in said
    assert numbers_in(said, "kg") == [
        pytest.approx(on_front(100, L, L), abs=0.1),
        pytest.approx(100, abs=0.1),
    ]
    whole = true_number(next(one for one in CLAIMS if one.key == "whole_loader"), machine())
    assert "1.33 times its weight" in whole and "frame alone 1.00 times" in whole
    assert on_rear(200, 0, L) == 0


# --- bands that tie ------------------------------------------------------------------------------


def test_bands_tie_within_a_tenth_of_their_middle():
    """Stress deep down follows the load: one more percent of it ties, a third more does not."""
    made = ContactPatch(0.2, 0.15, 0.8, 300, 150)
    for bucket, tied in ((8, True), (32, True), (100, False)):
        told = machine(
            tires=Tires(made, made),
            loader=piece("loader frame", 150, 0, u_weight=1, u_ahead=0.01),
            bucket=piece("bucket", bucket, L, u_weight=1, u_ahead=0.01),
        )
        table = decide(told)
        middles = [sum(table.value("front_stress_2", key)) / 2 for key in ("on", "bucket_off")]
        near = abs(middles[0] - middles[1]) <= 0.1 * max(middles)
        assert near == tied, middles
        places = [
            {one.key for one in place} for place in decision.order(table, "front_stress_2").places
        ]
        assert ({"on", "bucket_off"} <= places[-1]) == tied


# --- what is too long ----------------------------------------------------------------------------


def test_what_was_typed_is_cut_short_where_it_is_shown():
    assert clipped("x" * 24) == "x" * 24 and clipped("x" * 25) == "x" * 24 + "..."
    assert clipped("a\x07b") == "a?b"
    for long, shown in (("q" * 12, "q" * 12 + " "), ("q" * 13, "q" * 12 + "... ")):
        with pytest.raises(Unreadable, match="not a letter") as refused:
            read_formula(long, ["W"])
        assert str(refused.value).startswith(shown)


def test_a_formula_is_read_up_to_its_bound():
    p = exercises.make("formula_front_gain", 1)
    right = "W*(1+a/L)"
    long = right + "+0" * 400
    verdict = exercises.check(p, long)
    assert verdict.case == "unread" and "characters long" in verdict.finding
    assert exercises.check(p, right + "+0").right
    # What stands before an equals sign counts too.
    assert exercises.check(p, "F" * 150 + " = " + right).right
    assert exercises.check(p, "F" * 250 + " = " + right).case == "unread"


# --- remarks about a right answer ----------------------------------------------------------------


def test_a_loss_told_in_words_and_a_size_told_with_a_sign_are_remarked():
    change = exercises.make("rear_change", 3, "kg")
    loss = exercises.check(change, f"{-change.answer:.5g} kg less")
    assert loss.right and "counts negative" in loss.message
    plain = exercises.check(change, f"{change.answer:.5g} kg")
    assert plain.right and "counts negative" not in plain.message
    size = exercises.make("relief_percent", 3, "kg")
    for sign, remarked in ((1, False), (-1, True)):
        verdict = exercises.check(size, f"{sign * abs(size.answer):.5g}")
        assert verdict.right
        assert ("which way" in verdict.message) == (remarked == (size.answer > 0))


def test_the_thought_behind_an_option_is_told_as_a_thought():
    kind = next(one for one in exercises.problems() if one.style == "choice")
    p = exercises.make(kind, 2)
    label, text = next(one for one in p.options if one[0] != p.answer)
    (mistake,) = exercises.check(p, label).suspects
    assert mistake.what == f"the thought that {text[0].lower()}{text[1:].rstrip('.')}"


# --- records -------------------------------------------------------------------------------------


def test_lines_that_cannot_be_read_are_counted_and_days_are_named(tmp_path):
    path, head = tmp_path / "days.csv", "date,machine,wheelbase,state,front,rear,unit,repeat,note\n"
    rows = (f"2026-05-02,{name},1.5 m,bare,600,900,kg,1,\n" for name in ("Red", "Blue"))
    path.write_text(head + "".join(rows), "utf-8")
    with pytest.raises(Refusal, match="2 are kept here") as refused:
        one_day(files_at(path))
    assert "Red" in str(refused.value) and "Blue" in str(refused.value)
    good = path.read_text("utf-8-sig")
    for wrong, more in ((1, ""), (3, "(2 more)")):
        bad = good.rstrip("\n") + "\n" + "2026-05-02,Red,1.5 m,bare,six,900,kg,1,\n" * wrong
        path.write_text(bad, "utf-8")
        with pytest.raises(Refusal, match="every line can be read") as refused:
            one_day(files_at(path), "Red")
        assert ("more)" in str(refused.value)) == bool(more) and more in str(refused.value)


# --- weighing ------------------------------------------------------------------------------------

KNOWN = {"u_reading": 1, "u_wheelbase": 0.002}


@pytest.mark.parametrize("kg, shaky", [(300, False), (25, False), (5, True), (2, True)])
def test_a_weight_within_ten_times_its_uncertainty_is_shaky(kg, shaky):
    """Four readings known to 1 kg: the weight is known to 2 kg, a tenth of 20."""
    found = weighing.infer((600, 800), (600 + 2 * kg, 800 - kg), L, **KNOWN)
    assert found.u_weight_kg == pytest.approx(2)
    assert found.shaky is shaky and ("do not" in found.sentence().lower()) is shaky


@pytest.mark.parametrize("rise, sign", [("50 mm", 1), ("-50 mm", -1)])
def test_pads_under_either_axle_are_put_back(rise, sign):
    """Higher in front the weight leans back: level, the front would have shown more."""
    front, rear = weighing.Tilt(rise, "1 mm", "0.30 m", "1 cm").leveled(600, 800, L)
    moved = 1400 * 0.3 * 0.05 / (L**2 - 0.05**2) ** 0.5 / L
    assert front.value == pytest.approx(600 + sign * moved, rel=1e-4)
    assert rear.value == pytest.approx(800 - sign * moved, rel=1e-4)


WEIGHING_DOORS = {
    "span": (lambda x: weighing.detached(70, 40, x, u_reading=1, u_span=0), [0.01, 10], [0, 10.5]),
    "pins": (
        lambda x: weighing.detached(
            70, 40, 0.9, pins_ahead=x, u_reading=1, u_span=0, u_pins_ahead=0
        ),
        [-20, 20],
        [-20.5, 20.5],
    ),
    "axle height": (lambda x: pads_under("front", 0.05, (x, 0.4)), [0.1, 3], [-0.1, 3.5]),
    "pads": (lambda x: pads_under("front", x), [0, 0.5], [-0.1, 0.6]),
    "short by": (unsettled, [0, 50], [-0.5, 50.5]),
    "grade": (on_grade, [-20, 20], [-20.5, 20.5]),
    "operator": (lambda x: operator_off(x, -1), [0, 300], [-1, 301]),
    "place on the arms": (lambda x: Part("arms", 10, x), [-5, 5], [-5.5, 5.5]),
}


@pytest.mark.parametrize("name", WEIGHING_DOORS)
def test_doors_of_the_yard(name):
    make, let_in, refused = WEIGHING_DOORS[name]
    for value in let_in:
        make(value)
    for value in refused:
        with pytest.raises(Refusal):
            make(value)


def test_brakes_are_a_bound_and_the_rest_is_known():
    bounds = {one.key: one.bound for one in weighing.everyday_errors()}
    assert bounds.pop("brakes") is True and not any(bounds.values())
    assert any("10 liters" in one.name for one in weighing.everyday_errors())


# --- a center below the tipping line -------------------------------------------------------------


def test_no_slope_takes_over_a_center_that_hangs_below_its_line():
    """Its center 5 cm up, under a line that is 0.16 m up there: the line is never crossed."""
    low = Tractor("Low", L, 600, 900, 0.05)
    tilt = stability.side_tilt(low, stance=stability.Stance(1.1, 1.2, pin=0.4, swing=8))
    assert tilt.line_height_m == pytest.approx(0.4 * 600 / 1500)
    assert (tilt.line_deg, tilt.weakest_deg, tilt.weakest_heading_deg) == (90, 90, 90)


# --- an answer to a customer ---------------------------------------------------------------------


def test_what_promises_or_leaves_out_the_manual_is_marked_as_missing():
    told = machine(ballast=piece("ballast", 300, -2.25, 0.5, u_weight=1, u_ahead=0.01))
    enough = next(one for one in CLAIMS if one.key == "bucket_enough")
    promise = decision.check_answer("I guarantee it takes 200 kg off the front.", enough, told)[-1]
    assert promise.name == "nothing promised" and promise.found is False
    silent = decision.check_answer("It takes 200 kg off the front axle.", enough, told)[-1]
    assert silent.name == "who decides" and silent.found is False
    sends = decision.check_answer(
        "It takes 200 kg off the front; the manual decides.", enough, told
    )
    assert sends[-1].name == "nothing promised" and sends[-1].found is True


def test_four_letters_of_an_option_name_it_and_three_do_not():
    seen = 0
    for kind in exercises.problems():
        if kind.style == "choice":
            p = exercises.make(kind, 1)
            starts = [text.lower()[:4] for _, text in p.options]
            for label, text in p.options:
                if starts.count(text.lower()[:4]) == 1 and text[:4].isalpha():
                    assert exercises.check(p, text[:4]).reading.startswith(label)
                    assert exercises.check(p, text[:3]).case == "unread"
                    seen += 1
    assert seen > 10


# --- formulas ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "typed, shown",
    [
        ("-(a+b)", "−(a + b)"),
        ("(-a)^2", "(−a)^2"),
        ("-a^2", "−a^2"),
        ("a*(-b)", "−a × b"),
        ("a-(-b)", "a + b"),
        ("a-(b-c)", "a − (b − c)"),
        ("a+b-c", "a + b − c"),
        ("-a*b", "−a × b"),
        ("-a+b", "−a + b"),
        ("a/(b*c)", "a/(b × c)"),
        ("(a+b)*c", "(a + b) × c"),
        ("(a+b)^2/c", "(a + b)^2/c"),
    ],
)
def test_a_formula_is_printed_so_that_it_reads_back_the_same(typed, shown):
    """A sum in a product keeps its parentheses, a minus never stands bare behind another sign."""
    (tree,) = read_formula(typed, ["a", "b", "c"])
    text = formula_text(tree)
    again = read_formula(text, ["a", "b", "c"])
    assert formula_text(again[-1]) == text
    assert "− −" not in text and "× −" not in text and "+ −" not in text
    assert text == shown


def test_roots_of_squares_are_compared_in_fractions():
    """sqrt(4/9) is 2/3 to the last digit; sqrt(2) is not a fraction."""
    p = exercises.make("formula_front_gain", 1)
    exact = exercises.check(p, "W*(1+a/L)*sqrt(4/9)*3/2")
    assert exact.right and "exactly" in exact.message
    assert exercises.check(p, "W*(1+a/L)*sqrt(2)*sqrt(2)/2").right
    assert not exercises.check(p, "W*(1+a/L)*sqrt(4/9)").right


def test_no_finding_says_the_same_thing_twice():
    """Two suspects may have the same words; never more than two are named."""
    for name in ("loader_front", "front_share_after", "bucket_share"):
        p = exercises.make(name, 3)
        for part in (0.31, 0.5, 0.62, 0.9, 1.4, 2):
            finding = exercises.check(p, f"{p.answer * part:.3g}").finding
            parts = finding.rstrip(".").split(" can be ")[-1].split("; or ")
            assert len(set(parts)) == len(parts) <= 2, finding


# --- at the very bound ---------------------------------------------------------------------------


def test_friction_that_is_just_enough_holds():
    grip = stability.brake(TRACTOR, grade_deg=-5).grips[-1]
    assert grip.slides(grip.demanded) is False
    assert (
        grip.slides(grip.demanded * 0.999) is True and grip.slides(grip.demanded * 1.001) is False
    )


def test_uphill_the_braked_rear_is_pressed_down_harder():
    """Nose uphill: tan = mu k / (1 - mu h/L), with mu 0.7 and a center as high as half the base."""
    high = Tractor("High", L, 600, 900, 0.75)
    held = stability.holding(high, friction=0.7, brakes="rear", nose="up")
    tangent = 0.7 * 0.6 / (1 - 0.7 * 0.5)
    tips = (600 / 1500 * L) / 0.75
    assert tangent < tips
    assert math.tan(math.radians(held.slides_deg)) == pytest.approx(tangent)


def test_a_center_past_a_line_it_is_level_with_tips_at_once():
    """Its center 5 cm up and 0.5 m to the downhill side, beyond the line and below it."""
    low = Tractor("Low", L, 600, 900, 0.05)
    stance = stability.Stance(1.1, 1.2, pin=0.4, swing=8)
    assert stability.side_tilt(low, stance=stance, aside=0.5).line_deg == -90
    assert stability.side_tilt(low, stance=stance, aside=0.3).line_deg == 90


def test_a_weight_of_just_ten_times_its_uncertainty_is_believed():
    found = weighing.infer((600, 800), (640, 780), L, **KNOWN)
    assert found.u_weight_kg == 2 and found.weight_kg == 20 and found.shaky is False


def test_set_ups_agree_or_disagree():
    """Bare, frame, bucket, and both: four set-ups for three unknowns on each axle."""
    day = [((), 600, 800), (("f",), 800, 780), (("b",), 790, 720), (("f", "b"), 990, 700)]
    for off, words in ((0, "The set-ups agree"), (40, "The set-ups disagree")):
        told = [*day[:3], (day[3][0], 990 + off, 700)]
        fit = weighing.least_squares(told, 1.65, u_reading=2, u_wheelbase=0.003)
        assert fit.consistency.words.startswith(words)
        assert (fit.consistency.chance >= 0.05) is (off == 0)
        # What is left over splits evenly over four readings, each known to 2 kg: off^2 / (4 x 4).
        assert fit.consistency.chi_squared == pytest.approx(off**2 / 16, abs=1e-9)


@pytest.mark.parametrize("weight, lifts", [(100, False), (2000, True)])
def test_a_forecast_says_when_the_rear_lifts(weight, lifts):
    told = {"u_weight": 1, "u_ahead": 0.01, **KNOWN}
    said = weighing.forecast((600, 900), weight, 1.5, L, **told).sentence()
    assert ("the rear lifts" in said) is lifts


def test_a_comma_is_unclear_as_long_as_both_readings_make_sense():
    p = exercises.make("machine_weight", 1, "kg")
    assert exercises.check(p, "60,000 kg").case == "unclear"
    assert exercises.check(p, "61,000 kg").case == "wrong"


def test_what_the_bank_allows_is_what_is_drawn():
    for kind in exercises.problems():
        if kind.style == "number":
            for seed in range(40):
                right = exercises.make(kind, seed, "kg").drawn.right
                assert kind.low <= abs(right) <= kind.high, (kind.name, seed)


def test_a_minus_before_a_plain_answer_is_called_that():
    plain, change = (exercises.make(name, 2, "kg") for name in ("machine_weight", "front_gain"))
    for p, words in ((plain, "other sign"), (change, "other sign")):
        told = [one.what for one in exercises.check(p, f"{-p.answer:.6g}").suspects]
        assert any(words in one for one in told), told


def test_a_wrong_drawing_is_told_which_force_is_asked():
    for name in ("body_bucket", "body_bucket_rear", "body_ballast", "body_tractor"):
        p = exercises.make(name, 1)
        (letter,) = re.findall(r"gives the \w+ reaction (\w)", p.statement)
        wrong = "\n".join(str(p.answer).splitlines()[:2])
        assert f"gives {letter} in one equation" in exercises.check(p, wrong).goal


def test_the_load_for_a_share_may_be_asked_by_name():
    loader = stability.Loader(
        -0.5, 1.3, 2, 0.3, 2.6, arms=Part("arms", 100, 1), bucket=Part("bucket", 80, 0.4)
    )
    found = stability.load_for_share(TRACTOR, loader, angle_deg=0, share=0)
    # Level arms: the rear keeps 900 less what arms and bucket take, over the arm of the load.
    rear = 900 + on_rear(100, 0.5, L) + on_rear(80, 1.9, L)
    assert found == pytest.approx(rear * L / 1.5)


def test_a_center_below_the_axle_line_leans_the_other_way():
    """20 cm below the line joining the axle centers: what leans is on the other side of it."""
    front, rear = weighing.Tilt("50 mm", "1 mm", "-0.2 m", "1 cm").leveled(600, 800, L)
    moved = 1400 * 0.2 * 0.05 / (L**2 - 0.05**2) ** 0.5 / L
    assert front.value == pytest.approx(600 - moved, rel=1e-4)
    assert rear.value == pytest.approx(800 + moved, rel=1e-4)


def test_a_piece_that_lies_on_the_ground_counts_with_no_height():
    """A plate of 300 kg on the ground over the front axle lowers the center of everything."""
    plate = Attachment("plate", 300, 0, 0)
    front, rear = pads_under("front", "5 cm", (0.4, 0.4)).shift(TRACTOR, (plate,))
    lean = math.tan(math.asin(0.05 / L))
    height = 1500 * 0.7 / 1800
    assert rear == pytest.approx(1800 * (height - 0.4) * lean / L, rel=1e-6)
    assert front == pytest.approx(-rear)


def test_a_claim_is_read_up_to_two_hundred_letters():
    said = "well, " * 33
    claim = (said + "150 lb").rjust(200, "w")[-200:]
    assert len(claim) == 200 and weighing.read_claim(claim).kind == "weight"
    with pytest.raises(Refusal, match="claim"):
        weighing.read_claim("w" + claim)
