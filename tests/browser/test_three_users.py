"""One whole job of each user, through the page alone: a trainer's hour, an instructor's class, a
student's lesson.
"""

import re

import pytest
from hands import PANEL, answer, choose, lock_in, predict, press, rest, reveal, write

from leverarm import (
    Attachment,
    Tractor,
    compare,
    decision,
    demo_loader,
    demo_tractor,
    driveline,
    exercises,
    statics,
    weighing,
)
from leverarm import predict as reads
from leverarm.decision.record_case import case_from_record
from leverarm.marking.demo import right_text
from leverarm.panels.tally import advice
from leverarm.quantities import show, show_number
from leverarm.uncertainty import plus_minus
from leverarm.weighing.day_file import files_at, one_day

RECORD = "trainer_record.csv"
# The machine of an invented yard, and the pieces that come off it.
YARD = Tractor("Yard tractor", "1.60 m", "640 kg", "860 kg")
FRAME, BUCKET = Attachment("frame", "230 kg", "0.12 m"), Attachment("bucket", "130 kg", "1.25 m")
BLOCK = Attachment("block", "300 kg", f"{-(YARD.wheelbase_m + 0.85)} m")
STATES = {
    "loader with empty bucket, low": (FRAME, BUCKET),
    "bucket off, if the manual allows": (FRAME,),
    "loader off": (),
    "loader off, rear ballast on": (BLOCK,),
}


def panel_of(page, code):
    """The panel under the cell that holds this code."""
    return (
        page.locator(".jp-Cell")
        .filter(has=page.locator(".jp-InputArea", has_text=code))
        .locator(PANEL)
        .first
    )


def started_at(lab, **how):
    """The start page, open and run."""
    return lab.open("notebooks/00_start_here.ipynb", **{"height": 2000, **how})


def go(sheet, link, notebook):
    """From the page in front to a notebook by its link; run it."""
    sheet.follow(
        sheet.page.locator(".jp-MarkdownOutput:visible")
        .get_by_role("link", name=link, exact=True)
        .first,
        f"notebooks/{notebook}.ipynb",
    )
    sheet.run_all()
    assert sheet.errors() == []


def says(panel, words):
    """Wait until a panel says this."""
    panel.get_by_text(words).first.wait_for()


def blank(text):
    """A text with every kind of blank made plain."""
    return re.sub(r"\s+", " ", text)


def kg(value, **how):
    """A weight as the page shows it, blanks made plain."""
    return blank(show(value, "weight", **how))


def row(panel, name):
    """What the row of this name says."""
    return blank(panel.get_by_role("row", name=re.compile(name)).first.inner_text())


def spoken(panel):
    """Everything a panel shows."""
    return blank(panel.inner_text())


def tickets_then_right(panel, problem, wrong, right):
    """Answer wrong and read which ticket it was; then answer right."""
    ticket = exercises.check(problem, wrong)
    assert (
        ticket.counts
        and not ticket.right
        and ticket.suspects
        and ticket.suspects[0].question in ticket.message
    )
    reply = panel.locator(".lv-reply")
    answer(panel, problem, wrong)
    reply.filter(has_text="Not yet. " + ticket.message).wait_for()
    answer(panel, problem, right)
    reply.filter(has_text="✓ Right.").wait_for()
    panel.get_by_role("button", name="Show the worked solution").wait_for()


def of(kind):
    """The problem an exercise box of a lesson shows first."""
    return exercises.make(kind, 1, "kg")


# The wrong turn a student takes in each exercise of lesson 02, from the numbers in its own text.
WRONG = {
    "front_gain": lambda given: given["W"],
    "rear_change": lambda given: "0 kg",
    "total_change": lambda given: "0",
    "overhang_for_factor": lambda given: given["L"],
    "factor": lambda given: "1",
}


def test_a_student_predicts_sees_and_answers_a_whole_lesson(lab):
    plot, (_, bucket) = demo_tractor(), demo_loader()
    change = compare(reads(plot), reads(plot, bucket))
    with started_at(lab) as sheet:
        go(sheet, "02", "02_more_than_its_weight")
        panel = panel_of(sheet.page, "panels.overhang(plot, bucket)")
        assert kg(plot.front_kg + change.front_kg) not in spoken(panel)
        predict(panel, {"Front scale": ("up", kg(bucket.weight_kg)), "Rear scale": ("stays", "")})
        assert kg(change.front_kg, sign=True) in row(panel, "Front scale") and kg(
            bucket.weight_kg, sign=True
        ) in row(panel, "Front scale")
        assert kg(change.rear_kg, sign=True) in row(panel, "Rear scale")
        press(panel.get_by_role("button", name="Show why"))
        says(panel, "First write one sentence")
        write(panel, "What did you see?", "The rear scale went down.")
        press(panel.get_by_role("button", name="Show why"))
        says(panel, "The front axle is the pivot.")
        write(panel, "Overhang", f"{plot.wheelbase_m} m")
        says(
            panel,
            f"{statics.amplification(plot.wheelbase_m, plot.wheelbase_m):.2f} times the weight",
        )
        for kind, turn in WRONG.items():
            problem = of(kind)
            tickets_then_right(
                panel_of(sheet.page, f'panels.exercise("{kind}")'),
                problem,
                turn(problem.given),
                right_text(problem),
            )
        sheet.picture("student_is_done")
        assert sheet.errors() == []


# A formula, a free body and a choice: what is wrong in each, made from what is right.
OTHERS = {
    "formula_front_gain": lambda problem: "W*a/L",
    "body_bucket_rear": lambda problem: problem.answer.replace("F up at front axle\n", ""),
    "both_conditions": lambda problem: next(
        letter for letter, _ in problem.options if letter != problem.answer
    ),
}


def test_a_formula_a_free_body_and_a_choice_wrong_then_right(lab):
    with lab.open("notebooks/03_derive_it.ipynb", height=2000) as sheet:
        sheet.only_notebook()
        sheet.run_all()
        assert {of(kind).style for kind in OTHERS} == {"symbol", "body", "choice"}
        for kind, turn in OTHERS.items():
            tickets_then_right(
                panel_of(sheet.page, f'panels.exercise("{kind}")'),
                of(kind),
                turn(of(kind)),
                right_text(of(kind)),
            )
        assert sheet.errors() == []


SIZE = """(panel) => Math.min(...[...panel.querySelectorAll('.lv-pic text')].map(el =>
    el.getBoundingClientRect().height))"""
FIRST, SECOND = {"A": 4, "B": 9, "C": 3, "D": 8}, {"A": 2, "B": 18, "C": 1, "D": 3}


def count_hands(page, panel, vote, hands):
    """Type how many hands went up for each letter."""
    for letter, number in hands.items():
        panel.get_by_role("spinbutton", name=f"{letter}, {vote} vote").focus()
        page.keyboard.press("ControlOrMeta+a")
        page.keyboard.type(str(number))
        page.keyboard.press("Tab")


def test_an_instructor_reads_the_plan_and_holds_the_class(lab):
    with started_at(lab, height=720) as sheet:
        page = sheet.page
        sheet.follow(
            page.get_by_role("link", name="its plan"), "lessons/02_more_than_its_weight.md"
        )
        page.get_by_role("heading", name="Lesson 02 plan: More than its weight").wait_for()
        sheet.follow(
            page.get_by_role("link", name="A4", exact=True),
            "lessons/worksheets/worksheet_02_a4.pdf",
        )
        assert (
            (lab.root / "lessons/worksheets/worksheet_02_a4.pdf").read_bytes().startswith(b"%PDF")
        )
        page.get_by_role("tab", name="02_more_than_its_weight.md").click()
        sheet.follow(
            page.get_by_role("link", name="02_more_than_its_weight"),
            "notebooks/02_more_than_its_weight.ipynb",
        )
        sheet.run_all()
        panel = panel_of(page, "panels.overhang(plot, bucket)")
        usual = panel.evaluate(SIZE)
        page.locator(".lv-begin:visible").get_by_label("Large type (projector)").press("Space")
        page.wait_for_function(
            f"([panel, usual]) => ({SIZE})(panel) > 1.3 * usual",
            arg=[panel.element_handle(), usual],
        )
        assert panel.locator(".lv-pic svg").bounding_box()["height"] < 720
        lock_in(panel, {"Front scale": ("up", "110 kg"), "Rear scale": ("down", "110 kg")})
        sheet.picture("class_has_predicted")
        reveal(panel)
        votes = panel_of(page, "panels.tally(question")
        assert (
            advice(FIRST["B"], sum(FIRST.values())),
            advice(SECOND["B"], sum(SECOND.values())),
        ) == ("discuss", "go on")
        count_hands(page, votes, "first", FIRST)
        says(votes, "each finds a neighbor")
        assert "above the front axle" not in votes.locator(".lv-say").inner_text()
        press(votes.get_by_role("button", name="Second vote"))
        count_hands(page, votes, "second", SECOND)
        says(votes, "say in a sentence why, and go on")
        press(votes.get_by_role("button", name="Show the right answer"))
        says(
            votes,
            "The right answer is B: above the front axle. "
            f"{SECOND['B']} of {sum(SECOND.values())} chose it.",
        )
        drawn = votes.locator(".lv-pic svg text").all_text_contents()
        assert [sum(text.startswith(letter) for text in drawn) for letter in FIRST] == [
            2,
            2,
            2,
            2,
        ]  # a bar of each vote
        assert all(str(number) in drawn for number in (*FIRST.values(), *SECOND.values()))
        sheet.picture("class_has_voted")
        assert sheet.errors() == []


@pytest.fixture
def yard(lab):
    """Where the trainer's files go; nothing of them stays for the next test."""
    place = lab.root / "notebooks"
    yield place
    for name in (RECORD, "customer_page.pdf", "customer_page.html"):
        (place / name).unlink(missing_ok=True)


def weigh(page, panel):
    """Every state on both scales, twice, as the yard's machine would show it; the second time a
    kilogram is elsewhere.
    """
    write(panel, "Machine", YARD.name)
    write(panel, "Wheelbase", show(YARD.wheelbase_m, "length"))
    for state, pieces in STATES.items():
        loads = reads(YARD, *pieces)
        for turn in (0, 1):
            choose(panel, "State", state)
            write(panel, "Front scale", str(round(loads.front_kg) + turn))
            write(panel, "Rear scale", str(round(loads.rear_kg) - turn))
            press(panel.get_by_role("button", name="Write this weighing down"))
            panel.get_by_role("row", name=state).filter(has_text=f"{turn + 1} of 2").wait_for()


def near(number, truth):
    """A measured number whose plus or minus holds the truth it was weighed from."""
    return abs(number.value - truth) < number.expanded()


def front_drawn(panel):
    """The front reading written into the picture, in kg."""
    text = " ".join(panel.locator(".lv-pic svg").first.locator("text").all_text_contents())
    return float(re.search(r"Front (\S+) kg", re.sub(r"\s", " ", text)).group(1))


def test_a_trainer_bets_weighs_and_hands_over_the_page(lab, yard):
    truth = compare(reads(YARD, FRAME, BUCKET), reads(YARD, FRAME))
    with started_at(lab) as sheet:
        page = sheet.page
        go(sheet, "the trainer's hour", "trainer_session")
        assert page.locator(".lv-begin:visible").get_by_label("Large type (projector)").is_checked()
        bets = panel_of(page, "panels.bets(RECORD)")
        lock_in(
            bets,
            {
                "Whole machine, bucket off": ("down", kg(BUCKET.weight_kg)),
                "Front scale, bucket off": ("down", kg(2 * BUCKET.weight_kg)),
                "Rear scale, bucket off": ("stays", ""),
            },
        )
        weigh(page, panel_of(page, "panels.readings_in(RECORD)"))
        day = one_day(files_at(yard / RECORD))
        fit = weighing.least_squares(
            day.setups_by_axle, day.machine.wheelbase_m, scales=day.scales.scales
        )
        record = panel_of(page, "panels.weigh_record(RECORD)")
        press(record.get_by_role("button", name="Read the file again"))
        says(record, "8 rows, 0 that cannot be read.")
        assert near(fit.pieces["bucket"].weight, BUCKET.weight_kg) and near(
            fit.pieces["bucket"].ahead, BUCKET.ahead_m
        )
        assert blank(plus_minus(fit.pieces["bucket"].weight, "weight", brief=True)) in spoken(
            record
        )
        assert "your bet" not in spoken(bets)
        reveal(bets)
        tell_scales(bets)
        scales = weighing.Scales(graduation="1 kg", accuracy="0.5 %")
        case = case_from_record(yard / RECORD, scales=scales)
        on, off = decision.states(case)[:2]
        assert near(off.front - on.front, truth.front_kg) and near(
            off.rear - on.rear, truth.rear_kg
        )
        assert kg(-2 * BUCKET.weight_kg, sign=True) in row(bets, "front scale")
        assert blank(plus_minus(off.front - on.front, "weight", brief=True)) in row(
            bets, "front scale"
        )
        walk_through(page, panel_of(page, "panels.mow_or_unhook"))
        roll = panel_of(page, "panels.roll_out()")
        write(roll, "Front turns, drive in", "13.9")
        says(roll, show_number(driveline.RollOut(13.9, 13.11, 10, 0.05).lead.value, 1, sign=True))
        talk(page, case)
        problem = of("what_to_promise")
        tickets_then_right(
            panel_of(page, 'panels.exercise("what_to_promise")'), problem, "D", problem.answer
        )
        hand_over(sheet, yard, on)
        assert sheet.errors() == []


def tell_scales(panel):
    """What the yard's scales can read, told in one panel."""
    write(panel, "Scales' smallest step", "1 kg")
    write(panel, "Scales' accuracy", "0.5 %")


def walk_through(page, panel):
    """The four states of the yard's machine, drawn one after another."""
    choose(panel, "Numbers from", "the weigh-day record")
    choose(panel, "Change", "mower")
    choose(panel, "Mower", "none, or weighed with it")
    predict(panel)
    drawn = {}
    for name, pieces in {
        "all on": (FRAME, BUCKET, BLOCK),
        "bucket off": (FRAME, BLOCK),
        "loader off": (BLOCK,),
        "ballast off too": (),
    }.items():
        choose(panel, "Draw", name)
        rest(page)
        drawn[name] = front_drawn(panel)
        assert abs(drawn[name] - reads(YARD, *pieces).front_kg) < 3
    assert drawn["ballast off too"] > drawn["loader off"]


def talk(page, case):
    """A claim judged, then an answer to a customer: too much promised first, this machine's numbers
    then.
    """
    cards, play, claim = (
        panel_of(page, "panels.claim_cards(RECORD)"),
        panel_of(page, "panels.role_play(RECORD)"),
        decision.CLAIMS[0],
    )
    tell_scales(cards)
    choose(cards, "For this machine it", "does not hold")
    press(cards.get_by_role("button", name="Lock in and show"))
    says(cards, decision.true_number(claim, case))
    relief, lost = (
        compare(reads(YARD, FRAME), reads(YARD, FRAME, BUCKET)).front_kg,
        BUCKET.weight_kg,
    )
    for text, good in (
        ("It takes twice its weight off, no ruts, I guarantee it.", False),
        (
            (
                f"On this machine about {relief:.0f} kg comes off the front axle. "
                f"The machine itself loses {lost:.0f} kg."
            ),
            True,
        ),
    ):
        points = decision.check_answer(text, claim, case)
        assert all(point.found for point in points) is good
        write(play, "You answer", text)
        press(play.get_by_role("button", name="Hold it against the readings"))
        for point in points:
            says(play, f"{'✓' if point.found else '→'} {point.said}")
    assert "→" not in spoken(play)


def hand_over(sheet, yard, on):
    """The page in pounds, written, and opened as the customer would."""
    page, panel = sheet.page, panel_of(sheet.page, "panels.hand_over")
    choose(page.locator(".lv-begin:visible"), "Units", "pounds, inches")
    write(panel, "Dealer", "Fernhollow <Yard>")
    press(panel.get_by_role("button", name="Write the page"))
    says(panel, "Written: customer_page_")
    sheet.picture("trainer_is_done")
    (made,) = yard.glob("customer_page_*.html")
    handed = page.context.new_page()
    handed.goto(made.as_uri())
    words = blank(handed.inner_text("body"))
    drawn = blank(" ".join(handed.locator("svg").first.locator("text").all_text_contents()))
    assert "Fernhollow <Yard>" in words and YARD.name in words
    assert f"{on.front.value / 0.45359237:,.0f}" in drawn and " kg" not in drawn
    handed.screenshot(path=str(sheet.picture("customer_page")), full_page=True)
    handed.close()
