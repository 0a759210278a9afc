"""From a record file to the customer's page: one machine, one day, its own scales, nothing lent."""

import math
from dataclasses import replace

import pytest

from leverarm import Refusal, panels
from leverarm.decision import (
    CLAIMS,
    FrontDrive,
    Manual,
    case_from_record,
    case_of_day,
    decide,
    holds_for,
    manual_questions,
    true_number,
)
from leverarm.driveline import Drive, Mowing
from leverarm.handouts.customer_page import customer_page
from leverarm.panels import day_choice
from leverarm.panels.trainer import hand_over
from leverarm.uncertainty import plus_minus
from leverarm.weighing.day import weigh_day
from leverarm.weighing.day_file import add_rows, days_of, files_at, one_day, save_header
from leverarm.weighing.facts import machine, scale_facts, tire
from leverarm.weighing.readings import weighing
from leverarm.weighing.results import base_of, results

HEADER = "date,machine,wheelbase,state,front,rear,unit,repeat,note\n"
# Front and rear in kg, wheelbase 1.5 m.  Red: frame 200 over the front axle, bucket 100 one
# wheelbase
# ahead: 200 on the front, 100 off the rear.  Blue: bucket 60, frame 150.
RED = {"bare": (600, 900), "loader frame": (800, 900), "loader frame + bucket": (1000, 800)}
BLUE = {"bare": (500, 700), "loader frame": (650, 700), "loader frame + bucket": (770, 640)}


def revealed_bets(path):
    bets = panels.bets(path)
    bets.gate.lock_in(machine="down 100 kg", front="down 200 kg", rear="up 100 kg")
    bets.gate.reveal()
    return bets


def lines(machine, date, states, wheelbase="1.5 m", unit="kg"):
    return "".join(
        f"{date},{machine},{wheelbase},{state},{front},{rear},{unit},1,\n"
        for state, (front, rear) in states.items()
    )


@pytest.fixture
def record(tmp_path):
    """A function that writes a record file and gives its path."""

    def write(*parts):
        path = tmp_path / "day.csv"
        path.write_text(HEADER + "".join(parts), "utf-8")
        return path

    return write


@pytest.fixture
def two_tractors(record):
    return record(lines("Red", "2026-05-02", RED), lines("Blue", "2026-05-02", BLUE))


@pytest.fixture
def two_days(record):
    later = {state: (front + 40, rear + 60) for state, (front, rear) in RED.items()}
    return record(lines("Red", "2026-05-02", RED), lines("red", "2026-06-09", later))


def answered(path):
    """The days of a record in a folder, each with the answer that nothing else changed."""
    folder = path.with_name("weigh_days")
    for day in days_of(files_at(path)):
        save_header(replace(day, unchanged=True), folder)
    return folder


# --- which machine, which day
# ------------------------------------------------------------------------


def test_two_machines_are_never_averaged(two_tractors):
    with pytest.raises(Refusal, match="Red on 2026-05-02; Blue on 2026-05-02"):
        case_from_record(two_tractors)
    red, blue = (case_from_record(two_tractors, machine=name) for name in ("red", "Blue"))
    assert (red.front.value, blue.front.value) == pytest.approx((600, 500))
    assert (red.bucket.weight.value, blue.bucket.weight.value) == pytest.approx((100, 60))


def test_two_days_are_never_averaged(two_days):
    with pytest.raises(Refusal, match="Red on 2026-05-02; red on 2026-06-09"):
        case_from_record(two_days, machine="Red")
    assert case_from_record(two_days, date="2026-06-09").front.value == pytest.approx(640)
    with pytest.raises(Refusal, match="Green"):
        case_from_record(two_days, machine="Green")


def test_two_wheelbases_of_one_day_are_a_mistake(record):
    path = record(
        lines("Red", "2026-05-02", {"bare": RED["bare"]}),
        lines("Red", "2026-05-02", {"loader frame": RED["loader frame"]}, wheelbase="1.8 m"),
    )
    with pytest.raises(Refusal, match=r"line 3, column wheelbase: 1\.8 m was given; 1\.5 m"):
        case_from_record(path)


def test_days_are_parted_by_machine_and_date(two_days, two_tractors):
    assert [day.name for day in days_of(files_at(two_tractors))] == [
        "Blue on 2026-05-02",
        "Red on 2026-05-02",
    ]


# --- scales
# ------------------------------------------------------------------------------------------


def test_no_scales_told_no_plus_or_minus(record):
    case = case_from_record(record(lines("Red", "2026-05-02", RED)))
    for number in (case.front, case.rear, case.bucket.weight, case.loader.ahead):
        assert math.isnan(number.u)
    assert holds_for(CLAIMS[0], case) is None, "without a ± nobody can tell"


def test_repeats_alone_do_not_make_a_plus_or_minus(record):
    """The scatter of two readings says nothing about scales that read 2 percent high."""
    twice = lines("Red", "2026-05-02", RED).replace(",kg,1,", ",kg,2,")
    case = case_from_record(record(lines("Red", "2026-05-02", RED), twice))
    assert math.isnan(case.front.u)


def test_scales_told_give_a_plus_or_minus_that_grows_with_their_step(record):
    path = record(lines("Red", "2026-05-02", RED))
    fine, coarse = (
        case_of_day(replace(one_day(files_at(path)), scales=scale_facts(step, "0.5 %")))
        for step in ("1 kg", "10 kg")
    )
    # One reading of a 10 kg step: 10/sqrt(12) = 2.89; it scatters as such scales may, 10/3 = 3.33;
    # 0.5 % of 600 as a limit: 3/sqrt(3) = 1.73.
    own = 10**2 / 12 + (10 / 3) ** 2
    assert coarse.front.u == pytest.approx((own + 3**2 / 3) ** 0.5, rel=1e-6)
    assert fine.front.u < coarse.front.u


def test_two_wheels_are_two_displays_with_a_step_each(record):
    path = record(lines("Red", "2026-05-02", {**RED, "bare": ("300/300", 900)}))
    day = replace(one_day(files_at(path)), scales=scale_facts("10 kg", "0.0 %"))
    case = case_of_day(day)
    # A step of 10 and a third of it as scatter, once for the axle, once for each of two wheels.
    assert case.rear.u == pytest.approx((10**2 / 12 + (10 / 3) ** 2) ** 0.5)
    assert case.front.u == pytest.approx((2 * (10**2 / 12 + (10 / 3) ** 2)) ** 0.5)


@pytest.mark.parametrize("told, u", [(None, 0.003), ("1/8 in", 0.003175), ("0.02 m", 0.02)])
def test_a_tape_that_was_not_told_is_good_to_three_millimeters_everywhere(record, told, u):
    day = one_day(files_at(record(lines("Red", "2026-05-02", RED))))
    day = replace(
        day,
        machine=machine("Red", "1.5 m", wheelbase_error=told),
        scales=scale_facts("1 kg", "0.5 %"),
    )
    case = case_of_day(day)
    assert case.wheelbase.u == pytest.approx(u) and base_of(day).u == pytest.approx(u)
    assert results(day).ahead.u == pytest.approx(case.bucket.ahead.u, rel=0.05)


def on_pads(record, **more):
    """Somebody else's day: 3 in pads moved from axle to axle, 10 lb steps, heights told."""
    day = one_day(files_at(record(lines("Red", "2026-05-02", RED))))
    return replace(
        day,
        machine=machine("Red", "1.5 m", heights={"bare": "0.8 m", "bucket": "0.5 m"}, **more),
        scales=scale_facts(
            "10 lb", "0.5 %", placed="moved", ground="on the ground", pad_height="3 in"
        ),
    )


def test_pads_under_one_axle_are_put_back_in_the_decision_as_on_the_page(record):
    day = on_pads(record)
    case, page, frame = case_of_day(day), results(day), results(day, "loader frame")
    for one, other in ((case.bucket, page), (case.loader, frame)):
        for key in ("weight", "ahead"):
            mine, printed = getattr(one, key), getattr(other, key)
            assert (mine.value, mine.u) == pytest.approx((printed.value, printed.u), rel=1e-6)
    # By hand: level, each axle carries W h pad / L^2 more than it showed; the axles' centers lie
    # 0.35 m up, half way between the usual bounds.
    h, pad = 0.8 - 0.35, 3 * 0.0254
    assert case.front.value == pytest.approx(600 + 1500 * h * pad / 1.5**2, rel=1e-3)
    flat = replace(day, scales=replace(day.scales, ground="let in"))
    assert case_of_day(flat).front.value == pytest.approx(600)


def test_a_yard_off_level_widens_the_decision_too(record):
    day = on_pads(record)
    flat = replace(day, scales=replace(day.scales, ground="let in"))
    sloping = replace(day, scales=replace(flat.scales, off_level_deg=2.0))
    assert case_of_day(sloping).front.u > 2 * case_of_day(flat).front.u
    assert case_of_day(sloping).front.value == pytest.approx(600)


def test_the_record_shows_the_numbers_of_the_page(record):
    day = on_pads(record)
    panel = panels.weigh_record(day=replace(day, unchanged=True))
    found = results(day)
    for number, kind in ((found.weight, "weight"), (found.ahead, "length")):
        assert plus_minus(number, kind, panel.system, brief=True) in panel.out.value
    assert "whole loader" in panel.out.value
    alone = replace(day, rows=tuple(replace(row, rear=None) for row in day.rows))
    told = panels.weigh_record(day=alone).out.value
    assert "not known" in told and "Only one axle was read" in told
    assert plus_minus(results(alone).front_change, "weight", panel.system, brief=True) in told


# --- nothing lent
# ------------------------------------------------------------------------------------


@pytest.mark.usefixtures("metric")
def test_what_the_record_does_not_hold_is_absent(record):
    case = case_from_record(record(lines("Red", "2026-05-02", RED)))
    assert (case.mower, case.stance, case.drive, case.arms, case.nose_m) == (None,) * 5
    assert case.tires.front is None and case.tires.rear is None and case.height_m is None
    assert all(one.answer is None for one in manual_questions(case))
    cells = {row.key: row.cells()[0] for row in decide(case).rows}
    for key, missing in (
        ("front_pressure", "contact patch of a front tire"),
        ("rear_stress_2", "contact patch of a rear tire"),
        ("scuff", "lead of the front drive"),
        ("grade", "height of the tractor, height of the loader frame, height of the bucket"),
        ("length", "farthest point of the tractor"),
    ):
        assert cells[key].startswith(f"not told: {missing}")
    assert "not read yet" in cells["front_least"]
    by_key = {claim.key: claim for claim in CLAIMS}
    for key, missing in {
        "fluid": "No ballast",
        "four_wheel": "No front drive",
        "psi": "No contact patch",
        "heavier_stable": "No height",
    }.items():
        assert true_number(by_key[key], case).startswith(missing)
    assert "200.0 kg" in true_number(by_key["twice"], case)


def everything_told(record, **more):
    """Somebody else's machine, in lb and in, with its patch, turns and ratings told."""
    day = one_day(files_at(record(lines("Gravel pit 4x4 #2", "2026-11-27", RED, "60 in"))))
    told = {
        "front_tires": tire("27x8.5-15", "20 psi", ["9 in", "6 in"], shape="0.85", load="900 lb"),
        "turns": ["13.11", "10"],
        "turns_driven": "13.5",
        "ratings": {"front": "2,000 lb", "rear": "3,000 lb"},
        **more,
    }
    return replace(
        day,
        machine=machine("Gravel pit 4x4 #2", "60 in", **told),
        scales=scale_facts("10 lb", "0.5 %"),
        unchanged=True,
        system="lb",
    )


def test_contact_patch_turns_and_ratings_told_with_the_machine_fill_the_decision(record, tmp_path):
    day = everything_told(record)
    add_rows(day, *day.rows, folder=tmp_path / "days")
    again = one_day(files_at(tmp_path / "days"))
    assert again.machine == day.machine, "a file keeps all of it"
    case = case_of_day(again, mowing=Mowing(1.5, 50, 2.5))
    table = decide(case)
    patch = case.tires.front
    assert patch.load_kg == pytest.approx(900 * 0.45359237)
    assert patch.inflation_kpa == pytest.approx(20 * 6.894757)
    assert "not told" not in " ".join(table.row("front_pressure").cells("lb"))
    assert "not told" in table.row("rear_pressure").cells("lb")[0], "that tire was not told"
    # Drive in 13.5, drive out 13.11 turns: a lead of 100 (13.5/13.11 - 1) = 2.97 percent.
    assert case.drive.drive.lead == pytest.approx(2.9748, abs=1e-4)
    assert table.value("scuff", "on") == pytest.approx(100)
    by_key = {claim.key: claim for claim in CLAIMS}
    assert "the lead is 3.0 %" in true_number(by_key["four_wheel"], case, "lb")
    # 2,000 lb is 907.2 kg, and the front axle carries 1,000 kg with all on.
    assert case.manual.front_axle_kg == pytest.approx(907.18, abs=0.01)
    assert "on" in table.stopped and "Front axle" in table.stopped["on"][0]
    assert any("2,000 lb" in str(one.answer) for one in manual_questions(case, "lb"))


@pytest.mark.parametrize(
    "lacks, row, says",
    [
        (
            {"front_tires": tire("", "20 psi", ["9 in", "6 in"], shape=0.85)},
            "front_pressure",
            "the load on it",
        ),
        ({"turns_driven": None}, "scuff", "lead of the front drive and how it mows"),
        ({}, "scuff", "not told: how it mows"),
    ],
)
def test_what_of_it_was_not_told_is_asked_for_by_name(record, lacks, row, says):
    case = case_of_day(everything_told(record, **lacks))
    assert says in decide(case).row(row).cells()[0]


def test_the_scuff_index_does_not_hang_on_what_turns_leave_open(record):
    """Turns tell how the circumferences compare: any two in that proportion give one index."""
    day, mowing = everything_told(record), Mowing(1.5, 50, 2.5)
    by_turns = case_of_day(day, mowing=mowing)
    taped = Drive(front=2.6 * 10 / 13.11, rear=2.6, ratio=1.35, wheelbase="60 in")
    by_tape = case_of_day(day, drive=FrontDrive(taped, mowing=mowing))
    for setup in ("on", "bucket_off", "loader_off"):
        one, other = (decide(case).value("scuff", setup) for case in (by_turns, by_tape))
        assert one == pytest.approx(other, rel=1e-9)


def test_the_manual_given_counts_before_what_the_file_says(record):
    given = Manual(front_axle="1,500 lb", rear_least=25)
    manual = case_of_day(everything_told(record, rear_share_least=30), manual=given).manual
    assert manual.front_axle_kg == given.front_axle_kg and manual.rear_least == 25
    assert manual.rear_axle_kg == pytest.approx(3000 * 0.45359237)


def test_the_decision_panel_takes_how_it_mows_for_a_weighed_machine(record, tmp_path):
    day = everything_told(record)
    add_rows(day, *day.rows, folder=tmp_path / "days")
    panel = panels.mow_or_unhook(gated=False, record=tmp_path / "days")
    panel.part.value = "Front drive"
    panel.sources.value = "record"
    assert "not told: how it mows" in panel.out.value and not panel.error.value
    panel.set(run="50 m", turn_radius="2.5 m")
    assert "not told" not in panel.out.value and "Scuff index" in panel.out.value
    wanted = decide(case_of_day(day, mowing=Mowing(1.5, 50, 2.5))).row("scuff").cells("kg")
    assert all(f">{cell}</td>" in panel.out.value for cell in wanted)


def test_the_least_rear_share_told_with_the_machine_counts(record):
    day = one_day(files_at(record(lines("Red", "2026-05-02", RED))))
    told = replace(day, machine=replace(day.machine, rear_share_least=46.0))
    # Without the ballast nobody weighed: rear 800 of 1,800 kg with all on is 44.4 %, 900 of 1,700
    # without the bucket 52.9 %.
    assert list(decide(case_of_day(told)).stopped) == ["on"]
    assert case_of_day(told, manual=Manual(rear_least=30)).manual.rear_least == 30
    assert case_of_day(told, manual=Manual(front_least=25)).manual.rear_least == 46
    assert not decide(case_of_day(day)).stopped, "what was not told stops nothing"


def test_the_decision_panel_lends_nothing_to_a_record(record):
    path = answered(record(lines("Red", "2026-05-02", RED)))
    panel = panels.mow_or_unhook(gated=False, record=path)
    panel.part.value = "everything"
    panel.part.value = "everything"
    panel.sources.value = "record"
    case = panel.case
    assert (case.mower, case.stance, case.drive, case.arms, case.height_m) == (None,) * 5
    assert case.manual.front_least is None and case.manual.rear_least is None
    panel.part.value = "everything"
    assert not panel.error.value and "not told: contact patch of a front tire" in panel.out.value
    assert "nothing is borrowed" in panel.whose.value
    panel.place.value = "nowhere.csv"
    assert "no readings" in panel.error.value


# --- what cannot be read
# -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    "line", ["2026-05-02,Red,1.5 m,bare,six hundred,900,kg,1,\n", "2026-05-02,Red\n"]
)
def test_a_line_that_cannot_be_read_is_not_left_out_in_silence(record, line):
    path = record(lines("Red", "2026-05-02", RED), line)
    with pytest.raises(Refusal, match="line 5"):
        case_from_record(path)
    page = hand_over(customer_page, path)
    with pytest.raises(Refusal, match="line 5"):
        page.write(path.parent)
    assert not list(path.parent.glob("*.html"))
    assert "line 5" in page.day_choice.note.value and "line 5" in revealed_bets(path).error.value


def test_another_file_is_not_taken_for_a_record(tmp_path):
    path = tmp_path / "day.csv"
    path.write_text("name,price\nbucket,100\n", "utf-8")
    with pytest.raises(Refusal, match="this is no weigh day"):
        hand_over(customer_page, path).write(tmp_path)
    with pytest.raises(Refusal, match="no readings"):
        case_from_record(tmp_path / "nowhere.csv")


# --- the panels
# --------------------------------------------------------------------------------------


def written(page, folder):
    return page.write(folder).read_text("utf-8")


@pytest.mark.usefixtures("metric")
def test_the_trainer_chooses_machine_and_day(two_tractors):
    page = hand_over(customer_page, answered(two_tractors))
    choice = page.day_choice
    assert choice.machines.layout.display == "" and len(choice.machines.options) == 3
    with pytest.raises(Refusal, match="Choose the machine and day"):
        page.write(two_tractors.parent)
    choice.machines.value = "blue"
    page.fields["dealer"].value = "Valley Yard"
    text = written(page, two_tractors.parent)
    assert "Blue" in text and "Red" not in text and "Valley Yard" in text
    # 770 less 650 kg: 120 off the front, 60 of it the bucket.
    assert (
        "<b>120\u00a0kg off the front axle</b>: <b>2.0\u00a0times</b>" in text
        and "May 2, 2026" in text
    )
    assert (
        "±" not in text.split("No ±")[0] and page.path.name == "customer_page_blue_2026-05-02.html"
    )
    page.piece.value = "loader frame"
    assert "<b>150\u00a0kg off the front axle</b>" in written(page, two_tractors.parent)


def test_a_day_on_which_nobody_said_what_stayed_the_same_makes_no_page(record):
    page = hand_over(customer_page, record(lines("Red", "2026-05-02", RED)))
    with pytest.raises(Refusal, match="waits for your answer: were fuel, operator and mower"):
        page.write(page.day_choice.path.parent)
    assert not list(page.day_choice.path.parent.glob("*.html"))


@pytest.mark.usefixtures("metric")
def test_bets_and_cards_ask_too(two_days):
    two_days = answered(two_days)
    bets, cards = revealed_bets(two_days), panels.claim_cards(two_days)
    assert "Choose the machine and day" in bets.error.value
    bets.day_choice.choose("Red", "2026-06-09")
    assert not bets.error.value and "−200.0 kg" in bets.out.value
    # Chosen once, followed by every panel of the place; a change in one reaches the others.
    assert cards.day_choice.case().front.value == pytest.approx(640)
    play = panels.role_play(two_days)
    play.day_choice.days.value = "2026-05-02"
    assert cards.day_choice.case().front.value == pytest.approx(600)
    with pytest.raises(Refusal, match="bets: still shut"):
        play.answer("200 kg comes off the front axle.")
    bets.gate.lock_in(machine="down 100 kg", front="down 200 kg", rear="up 100 kg")
    bets.gate.reveal()
    assert play.answer("200 kg comes off the front axle.")[1].found
    play.day_choice.days.value = ""
    assert "Choose the machine and day" in bets.error.value
    with pytest.raises(Refusal, match="Choose the machine and day"):
        play.answer("200 kg comes off the front axle.")


def test_without_a_record_the_page_is_the_demo_machine_and_says_so(tmp_path):
    page = hand_over(customer_page, tmp_path / "none.csv")
    text = written(page, tmp_path)
    assert "EXAMPLE: invented numbers" in text and "Plot tractor" in text
    assert page.path.name == "customer_page_example.html"
    page.fields["dealer"].value = "Valley Yard"
    with pytest.raises(Refusal, match="dealer"):
        page.write(tmp_path)


@pytest.mark.usefixtures("metric")
def test_a_front_axle_alone_and_what_the_bucket_weighs_make_a_page(record):
    front = {setup: (reading[0], "") for setup, reading in RED.items()}
    page = hand_over(customer_page, answered(record(lines("Red", "2026-05-02", front))))
    folder = page.day_choice.path.parent
    assert "2.0\u00a0times" not in written(page, folder)
    page.told["weight"].value = "100"
    assert "<b>2.0\u00a0times</b> what the bucket weighs" in written(page, folder)


@pytest.mark.usefixtures("metric")
def test_the_page_is_offered_for_everything_that_came_off_the_front(two_tractors):
    page = hand_over(customer_page, answered(two_tractors))
    page.day_choice.choose("Blue", "2026-05-02")
    offered = [label for label, _ in page.piece.options]
    assert offered == ["the loader frame", "the bucket", "the whole loader"]
    assert page.piece.value == "bucket"
    page.piece.value = "loader frame + bucket"
    # Blue: 770 less 500 kg on the front axle.
    assert "Taking the whole loader off took <b>270\u00a0kg" in written(page, two_tractors.parent)


@pytest.mark.usefixtures("metric")
def test_what_loads_the_rear_is_not_offered_for_the_page(record):
    """Somebody else's day: forks for a bucket, and ballast that takes load off the front."""
    forks = {
        "bare": (600, 900),
        "loader frame": (800, 910),
        "loader frame + pallet forks": (1000, 805),
        "loader frame + pallet forks + weight box": (900, 1205),
    }
    page = hand_over(customer_page, answered(record(lines("Red", "2026-05-02", forks))))
    offered = [piece for _, piece in page.piece.options]
    assert offered[:2] == ["loader frame", "pallet forks"] and "weight box" not in offered
    page.piece.value = "pallet forks"
    text = written(page, page.day_choice.path.parent)
    assert "Taking the pallet forks off took <b>200\u00a0kg" in text


@pytest.mark.usefixtures("metric")
def test_a_page_asks_for_the_plus_or_minus_of_a_told_weight(record):
    front = {setup: (reading[0], "") for setup, reading in RED.items()}
    path = answered(record(lines("Red", "2026-05-02", front)))
    page = hand_over(customer_page, path)
    page.told["weight"].value, page.told["weight_error"].value = "100", "2 kg"
    page.set(system="kg")
    day = one_day(files_at(path))
    assert "told, not weighed" in written(page, path.parent), day.name
    page.told["weight"].value = ""
    with pytest.raises(Refusal, match="tell both"):
        page.write(path.parent)


def test_a_page_reads_its_record_once(record, monkeypatch):
    path = answered(record(lines("Red", "2026-05-02", RED)))
    page, bets = hand_over(customer_page, path), revealed_bets(path)
    read, calls = day_choice.files_at, []
    monkeypatch.setattr(day_choice, "files_at", lambda place: calls.append(place) or read(place))
    page.write(path.parent)
    assert len(calls) == 1
    bets.redraw()
    assert len(calls) == 2


def test_cards_of_a_days_own_numbers_ask_for_the_scales_that_were_not_told(record):
    cards = panels.claim_cards(answered(record(lines("Red", "2026-05-02", RED))))
    assert "tell the step or the accuracy of the scales" in cards.error.value and not cards.cards
    with pytest.raises(Refusal, match="no card"):
        cards.lock_in("true")
    cards.about.value = "what people say of loaders"
    assert not cards.error.value and len(cards.cards) == len(CLAIMS)


def test_a_card_and_a_reply_read_the_record_once(record, monkeypatch):
    path = answered(record(lines("Red", "2026-05-02", RED)))
    cards, play = panels.claim_cards(path), panels.role_play(path)
    cards.about.value = "what people say of loaders"
    cards.lock_in("true")
    read, calls = day_choice.files_at, []
    monkeypatch.setattr(day_choice, "files_at", lambda place: calls.append(place) or read(place))
    cards.redraw()
    assert len(calls) == 1
    play.answer("About 190 kg comes off the front axle.")
    assert len(calls) == 2


@pytest.mark.parametrize("pads", [{}, {"placed": "moved", "ground": "on the ground"}])
def test_page_and_decision_have_one_number_for_the_bucket_also_where_setups_check_each_other(pads):
    """Five set-ups that do not quite add up, each twice, scales on pads or not: value and ±."""
    told = machine("Ridge tractor", "65 in", wheelbase_error="1/8 in")
    read = (
        ("bare", 1322, 1765),
        ("loader frame", 1830, 1717),
        ("loader frame + bucket", 2274, 1526),
        ("ballast", 1041, 2569),
        ("loader frame + bucket + ballast", 1999, 2323),
    )
    rows = [
        weighing(setup, front + 2 * again, rear - again, "lb", again + 1)
        for setup, front, rear in read
        for again in (0, 1)
    ]
    day = weigh_day(told, "2026-05-14", scale_facts("1 lb", "0.5 %", **pads), rows)
    page, made = results(day, "bucket"), case_of_day(replace(day, unchanged=True))
    on, off = decide(replace(made, ballast=None)).setups[:2]
    for one, other in (
        (page.front_change, on.front - off.front),
        (page.rear_change, on.rear - off.rear),
        (page.weight, made.bucket.weight),
        (page.ahead, made.bucket.ahead),
        (page.front_with, on.front),
        (page.front_without, off.front),
        (page.rear_with, on.rear),
    ):
        assert other.value == pytest.approx(one.value, rel=1e-9)
        assert other.u == pytest.approx(one.u, rel=1e-6)
