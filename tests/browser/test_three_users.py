"""One whole job of each user, through the page alone: a trainer's hour, an instructor's class, a
student's lesson.
"""

import re
import shutil
from dataclasses import dataclass

import pytest
from hands import (
    PANEL,
    answer,
    choose,
    lock_in,
    predict,
    press,
    read_why,
    rest,
    reveal,
    say_on_stage,
    write,
)

from leverarm import (
    Attachment,
    Tractor,
    compare,
    decision,
    driveline,
    exercises,
)
from leverarm import predict as reads
from leverarm.marking.demo import right_text
from leverarm.panels.spoken import SAID
from leverarm.panels.tally import after_the_vote
from leverarm.quantities import show, show_number
from leverarm.uncertainty import plus_minus
from leverarm.weighing.day_file import files_at, one_day
from leverarm.weighing.results import results

RECORD = "weigh_days"
LB, INCH = 0.45359237, 0.0254  # kg, m; both exact by definition


@dataclass(frozen=True)
class Yard:
    """An invented machine of an invented yard in pounds and inches, the pieces that come off it,
    and the day and the scales it is weighed with.
    """

    name: str
    wheelbase: float
    bare: tuple[float, float]
    frame: tuple[float, float]
    bucket: tuple[float, float]
    ballast: tuple[float, float]
    date: str
    step: int

    @property
    def tractor(self):
        front, rear = self.bare
        return Tractor(self.name, self.wheelbase * INCH, front * LB, rear * LB)

    def piece(self, name):
        weight, ahead = getattr(self, name)
        return Attachment(name, weight * LB, ahead * INCH)

    @property
    def states(self):
        frame, bucket, ballast = map(self.piece, ("frame", "bucket", "ballast"))
        return {
            "loader with empty bucket, low": (frame, bucket),
            "bucket off, if the manual allows": (frame,),
            "loader off": (),
            "loader off, rear ballast on": (ballast,),
        }


YARDS = (
    Yard("Ridge tractor", 63, (1180, 1560), (420, 7), (245, 46), (480, -97), "2026-05-14", 2),
    Yard("Creek tractor", 70, (1410, 1905), (520, 8), (300, 51), (560, -106), "2026-05-21", 5),
)


def panel_of(page, line):
    """The panel under the cell that says this in the line it shows when folded."""
    return (
        page.locator(".jp-Cell")
        .filter(has=page.locator(".jp-Cell-inputWrapper", has_text=line))
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
    return exercises.make(kind, 1, "lb")


# The wrong turn a student takes in each exercise of lesson 02, from the numbers in its own text.
# A folded cell shows its first line alone.
WRONG = {
    "rear_change": ("What the rear does", lambda given: "0 lb"),
    "front_gain": ("What the front does", lambda given: given["W"]),
    "total_change": ("Both together", lambda given: "0"),
    "overhang_for_factor": ("Which overhang", lambda given: given["L"]),
}


def test_a_student_predicts_sees_and_answers_a_whole_lesson(lab):
    # Worked by hand: 260 lb x 47 in / 65 in = 188 lb off the rear, 260 + 188 = 448 lb on the front.
    with started_at(lab) as sheet:
        go(sheet, "02", "02_the_tractor")
        page = sheet.page
        stage = page.locator(".st-here:visible").first
        assert "448" not in stage.inner_text()
        say_on_stage(stage, {"front_said": "+260", "rear_said": "0"})
        picture = stage.locator("svg:visible")
        says(picture, "+448 lb")
        says(picture, "−188 lb")
        press(stage.get_by_role("button", name="Show why"))
        says(stage, "First write one sentence")
        read_why(stage, "The rear scale went down.")
        says(stage, "The front gained more than the bucket weighs")
        box = stage.locator("input[type=text][data-moves=overhang]")
        box.fill("65")
        box.press("Enter")
        says(picture, "+520 lb")
        for kind, (line, turn) in WRONG.items():
            problem = of(kind)
            tickets_then_right(
                panel_of(page, line),
                problem,
                turn(problem.given),
                right_text(problem),
            )
        panel = panel_of(page, "Exit question")
        write(panel, "Your sentence", "The front loses more than the bucket weighs.")
        press(panel.get_by_role("button", name="Compare"))
        says(panel, "To compare with yours")
        sheet.picture("student_is_done")
        assert sheet.errors() == []


# The line that a folded cell still shows.
LINES = {
    "formula_front_gain": "The front in letters",
    "body_bucket_rear": "Another free body",
    "both_conditions": "Two conditions",
}
# The way through the picture of lesson 03: test_stage_derive.py goes it by hand.
OPEN_PIVOTS = """stage.lock_in(answer='stay')
stage.draw_body(panels.exercise('body_bucket', 1).problem.answer)
stage.explain('It stays.')
stage.free()"""
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
        sheet.ask(OPEN_PIVOTS)
        assert {of(kind).style for kind in OTHERS} == {"symbol", "body", "choice"}
        for kind, turn in OTHERS.items():
            tickets_then_right(
                panel_of(sheet.page, LINES[kind]),
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
        sheet.follow(page.get_by_role("link", name="its plan"), "lessons/02_the_tractor.md")
        page.get_by_role("heading", name=re.compile("Lesson 02 plan: What will each")).wait_for()
        sheet.follow(
            page.get_by_role("link", name="kg", exact=True),
            "lessons/worksheets/worksheet_02_kg_a4.pdf",
        )
        assert (
            (lab.root / "lessons/worksheets/worksheet_02_kg_a4.pdf")
            .read_bytes()
            .startswith(b"%PDF")
        )
        page.get_by_role("tab", name="02_the_tractor.md").click()
        sheet.follow(
            page.get_by_role("link", name="02_the_tractor"),
            "notebooks/02_the_tractor.ipynb",
        )
        sheet.run_all()
        sheet.only_notebook()
        page.locator(".lv-begin:visible").get_by_label("Large type (projector)").press("Space")
        page.locator(".st-projector:visible").first.wait_for()
        stage = page.locator(".st-here:visible").first
        size = "el => el.getBoundingClientRect().height"
        assert stage.locator("svg:visible").evaluate(size) <= 620
        least = (
            "svg => Math.min(...[...svg.querySelectorAll('text')].filter("
            "el => el.textContent.trim() && el.getClientRects().length).map("
            "el => el.getBoundingClientRect().height))"
        )
        assert stage.locator("svg:visible").evaluate(least) >= 15
        say_on_stage(stage, {"front_said": "+260", "rear_said": "-260"})
        sheet.picture("class_has_predicted")
        read_why(stage, "The front gained more.")
        votes = panel_of(page, "Show of hands")
        assert (
            after_the_vote(FIRST["B"], sum(FIRST.values())),
            after_the_vote(SECOND["B"], sum(SECOND.values())),
        ) == ("discuss", "go on")
        count_hands(page, votes, "first", FIRST)
        says(votes, "do not say which letter it is")
        assert "above the front axle" not in votes.locator(".lv-say").inner_text()
        press(votes.get_by_role("button", name="Second vote"))
        count_hands(page, votes, "second", SECOND)
        press(votes.get_by_role("button", name="Show the right answer"))
        says(votes, "say in a sentence why, and go on")
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
def place(lab):
    """Where the trainer's files go; nothing of them stays for the next test."""
    found = lab.root / "notebooks"
    yield found
    shutil.rmtree(found / RECORD, ignore_errors=True)
    for page in found.glob("customer_page_*"):
        page.unlink()


def tell(page, yard):
    """The machine, its day and its scales, told once."""
    panel = panel_of(page, "# Your machine and its scales")
    write(panel, "Name of the machine", yard.name)
    write(panel, "Wheelbase", f"{yard.wheelbase}")
    write(panel, "Tape good to ±", "1/8 in")
    write(panel, "Day", yard.date)
    write(panel, "Smallest step of the scales", f"{yard.step}")
    write(panel, "Accuracy, ± percent", "0.5")
    pick(panel, "The scales", "move from axle to axle")
    press(panel.get_by_role("button", name="Keep this machine and day"))
    says(panel, f"{yard.name} on {yard.date} is kept in")


def pick(panel, label, name):
    """Choose from a named list."""
    panel.get_by_role("combobox", name=label, exact=True).select_option(label=name)
    rest(panel.page)


def weigh(page, yard):
    """Every set-up twice, as the yard's machine would show it: the axles first, then wheel by
    wheel, one step elsewhere.
    """
    panel, step = panel_of(page, "# Readings"), yard.step
    says(panel, f"{yard.name} on {yard.date}")
    for state, pieces in yard.states.items():
        loads = reads(yard.tractor, *pieces)
        front, rear = (round(kg / LB / step) * step for kg in (loads.front_kg, loads.rear_kg))
        choose(panel, "Set-up", state)
        write(panel, "Front axle", f"{front}")
        write(panel, "Rear axle", f"{rear:,}")
        write_down(panel, state, 1)
        left = front // 2 // step * step
        write(panel, "Front left wheel", f"{left}")
        write(panel, "Front right wheel", f"{front + step - left}")
        write(panel, "Rear axle", f"{rear - step}")
        write_down(panel, state, 2)
        assert f"{front}" not in spoken(panel), "a reading is on the screen before bets are opened"
    pick(panel, "Fuel, operator and mower the same in all set-ups?", "yes")
    press(panel.get_by_role("button", name="Write this weighing down"))
    says(panel, "is already written as row 8")


def write_down(panel, state, turn):
    press(panel.get_by_role("button", name="Write this weighing down"))
    panel.get_by_role("row", name=state).filter(has_text=f"{turn} of 2").wait_for()


def near(number, truth):
    """A measured number whose plus or minus holds the truth it was weighed from."""
    return abs(number.value - truth) < number.expanded()


def front_drawn(panel, setup):
    """The front reading of a set-up as the picture tells it, in lb."""
    told = [one.get_attribute("aria-label") or "" for one in panel.locator("svg:visible").all()]
    found = re.search(rf"(?:^|\n|[.] ){setup}: front (\S+) lb", "\n".join(told))
    assert found, told
    return float(re.sub(r"[\s,]", "", found[1]))


def bet(bets, yard):
    """Three bets of the room: twice the bucket in front, nothing at the rear."""
    bucket, _ = yard.bucket
    lock_in(
        bets,
        {
            "Whole machine, bucket off": ("down", f"{bucket}"),
            "Front scale, bucket off": ("down", f"{2 * bucket} lb"),
            "Rear scale, bucket off": ("stays", ""),
        },
    )


def test_a_trainer_weighs_two_machines_on_two_days_and_hands_over_a_page_of_each(lab, place):
    with started_at(lab) as sheet:
        page = sheet.page
        go(sheet, "the trainer's hour", "trainer_session")
        begin = page.locator(".lv-begin:visible")
        assert begin.get_by_label("Large type (projector)").is_checked()
        choose(begin, "Units", "pounds, inches, psi")
        bets = panel_of(page, "# Three bets")
        for yard in YARDS:
            tell(page, yard)
            bet(bets, yard)
            weigh(page, yard)
            day = one_day(files_at(place / RECORD), yard.name, yard.date)
            assert "your bet" not in spoken(bets)
            says(
                panel_of(page, "# The record, and what all set-ups say"),
                "kept back until the bets are opened",
            )
            reveal(bets)
            says_of_record(page, day, yard)
            assert says_of_bets(bets, day, yard)
            talk(page, decision.case_of_day(day), yard)
            hand_over(sheet, place, yard)
        walk_through(panel_of(page, "# Mow or unhook"), YARDS[-1])
        roll = panel_of(page, "# Roll-out")
        write(roll, "Front turns, drive in", "13.9")
        says(roll, show_number(driveline.RollOut(13.9, 13.11, 10, 0.05).lead.value, 1, sign=True))
        problem = of("what_to_promise")
        tickets_then_right(panel_of(page, "# Exit question"), problem, "D", problem.answer)
        first_again(page, bets)
        assert sheet.errors() == []


def says_of_record(page, day, yard):
    """What the record panel makes of all set-ups: the machine that was told, and no other."""
    found, bucket = results(day, "bucket"), yard.piece("bucket")
    assert near(found.weight, bucket.weight_kg) and near(found.ahead, bucket.ahead_m)
    record = panel_of(page, "# The record, and what all set-ups say")
    says(record, f"{yard.name} on {yard.date}: 8 rows.")
    told = row(record, "^bucket")
    for number in (found.front_change, found.weight):
        assert blank(plus_minus(number, "weight", "lb", brief=True)) in told


def says_of_bets(bets, day, yard):
    """The bets beside what the scales say."""
    truth = compare(
        reads(yard.tractor, *yard.states["loader with empty bucket, low"]),
        reads(yard.tractor, yard.piece("frame")),
    )
    on, off = decision.setups(decision.case_of_day(day))[:2]
    assert near(off.front - on.front, truth.front_kg) and near(off.rear - on.rear, truth.rear_kg)
    told = row(bets, "front scale")
    return lb(-2 * yard.bucket[0] * LB, sign=True) in told and (
        blank(plus_minus(off.front - on.front, "weight", "lb", brief=True)) in told
    )


def lb(value, **how):
    """A weight in pounds as the page shows it."""
    return kg(value, system="lb", **how)


def walk_through(panel, yard):
    """The four set-ups of the yard's machine, side by side."""
    choose(panel, "Numbers from", "the weigh-day record")
    choose(panel, "Change", "mower")
    choose(panel, "Mower", "none, or weighed with it")
    predict(panel)
    frame, bucket, ballast = map(yard.piece, ("frame", "bucket", "ballast"))
    drawn = {}
    for name, pieces in {
        "Bucket and loader on": (frame, bucket, ballast),
        "Bucket off": (frame, ballast),
        "Loader off": (ballast,),
        "Loader off, ballast off": (),
    }.items():
        drawn[name] = front_drawn(panel, name)
        assert abs(drawn[name] - reads(yard.tractor, *pieces).front_kg / LB) < 2 * yard.step
    assert drawn["Loader off, ballast off"] > drawn["Loader off"]


def talk(page, case, yard):
    """A claim judged, then an answer to a customer: too much promised first, this machine's numbers
    then.
    """
    cards, play, claim = (
        panel_of(page, "# Claims, one by one"),
        panel_of(page, "# Role play"),
        decision.CLAIMS[0],
    )
    pick(cards, "Claims", SAID)
    choose(cards, "For this machine it is", "false")
    press(cards.get_by_role("button", name="Lock in and show"))
    says(cards, decision.true_number(claim, case, "lb"))
    bucket, ahead = yard.bucket
    relief = bucket * (1 + ahead / yard.wheelbase)
    for text, good in (
        ("It takes twice its weight off, no ruts, I guarantee it.", False),
        (
            (
                f"On this machine about {relief:.0f} lb comes off the front axle. "
                f"The machine itself loses {bucket} lb."
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
    assert "→" not in play.locator("ul.lv-lines").inner_text()


def hand_over(sheet, place, yard):
    """The page in pounds, written, and opened as the customer would; nothing of another machine."""
    panel = panel_of(sheet.page, "# The page to hand over")
    write(panel, "Dealer", "Fernhollow <Yard>")
    press(panel.get_by_role("button", name="Write the page"))
    stem = f"customer_page_{yard.name.casefold().replace(' ', '-')}_{yard.date}"
    says(panel, f"Written: {stem}.html")
    sheet.picture(f"trainer_{yard.date}")
    handed = sheet.page.context.new_page()
    handed.goto((place / f"{stem}.html").as_uri())
    words = blank(handed.inner_text("body"))
    assert "Fernhollow <Yard>" in words and yard.name in words and "EXAMPLE" not in words
    assert not [other.name for other in YARDS if other is not yard and other.name in words]
    bucket, ahead = yard.bucket
    off = bucket * (1 + ahead / yard.wheelbase)
    shown = [float(one.replace(",", "")) for one in re.findall(r"([\d,]+) lb", words)]
    assert any(abs(one - off) < 2 * yard.step for one in shown), (off, words)
    handed.screenshot(path=str(sheet.picture(f"customer_{yard.date}")), full_page=True)
    handed.close()


def first_again(page, bets):
    """Back to the first machine: its readings stay kept back until it is bet on again."""
    yard = YARDS[0]
    record = panel_of(page, "# The record, and what all set-ups say")
    pick(record, "Machine", yard.name)
    says(record, "8 rows written down. The readings are kept back")
    says(bets, f"Predict anew for {yard.name} on {yard.date}.")
    assert "your bet" not in spoken(bets)
