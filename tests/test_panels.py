"""Panels: what was told, what is shown, what is refused; the gate; exercises; the show of hands."""

import itertools
import re
import shutil
import subprocess
import sys
from functools import partial
from pathlib import Path
from types import MappingProxyType, SimpleNamespace

import pytest
from worked import worked_tractor

from leverarm import Refusal, exercises, panels, show
from leverarm.panels import Number, Panel, exercise, html, shared, tally
from leverarm.panels.begin import Begin
from leverarm.panels.gate import GateQuestion, predicted, split_prediction
from leverarm.panels.page import __file__ as page_file
from leverarm.panels.page import page_rules, style_and_script
from leverarm.panels.tally import after_the_vote
from leverarm.scene import formula_rules, page_style

KG_PER_LB = 0.45359237  # the international pound, exact
# A panel with a picture, a gate and numbers: the loader of a machine worked out by hand.
raised = partial(panels.arms_up, worked_tractor())


@pytest.fixture(autouse=True)
def in_kilograms(metric, tmp_path, monkeypatch):
    """Expected words are in kilograms; what a control of the units keeps goes to a new folder."""
    monkeypatch.chdir(tmp_path)


def words(markup):
    """What a page shows, without its tags."""
    return " ".join(re.sub(r"<style.*?</style>|<[^>]+>", " ", markup).split())


# --- a quantity to type or to slide ---------------------------------------------------------------


@pytest.mark.parametrize(
    "typed, kg",
    [
        ("243 lb", 243 * KG_PER_LB),
        ("12,5", 12.5),
        ("12.5 kg", 12.5),
        ("1 234", 1234),
        ("0.2 t", 200),
        ("  150  ", 150),
    ],
)
def test_a_box_reads_what_people_type(typed, kg):
    heard = []
    number = Number("Weight", "weight", 110, 1, 2000, on_change=heard.append)
    number.box.value = typed
    assert (
        number.value == pytest.approx(kg) and heard == [number.value] and not number.message.value
    )
    assert number.slider.value == pytest.approx(kg)


@pytest.mark.parametrize(
    "typed, part",
    [
        ("3 m", "is a unit of length"),
        ("", "type only a number"),
        ("twelve", "type only a number"),
        ("0", "from 1 kg"),
        ("-5 kg", "from 1 kg"),
        ("2001", "1 kg to 2,000 kg"),
        ("nan", "type only a number"),
        ("1e999 kg", "weight"),
        ("<b>9</b>", "type only a number"),
        ("__import__('os')", "type only a number"),
    ],
)
def test_what_cannot_be_read_is_refused_beside_the_box_and_the_last_good_value_stays(typed, part):
    heard = []
    number = Number("Weight", "weight", 110, 1, 2000, on_change=heard.append)
    number.box.value = typed
    assert (
        number.value == 110
        and not heard
        and part in number.message.value
        and "Still used: 110.0 kg" in number.message.value
    )
    assert "<b>" not in number.message.value
    number.slider.value = 200
    assert number.value == 200 and not number.message.value and number.box.value == "200.0 kg"


def test_switching_units_changes_what_is_shown_and_never_the_state():
    number = Number("Weight", "weight", "100.04 kg", 1, 2000)
    for _ in range(50):
        number.use("lb")
        assert number.box.value == "221 lb" and number.slider.value == pytest.approx(
            100.04 / KG_PER_LB
        )
        number.use("kg")
    assert number.value == 100.04 and number.box.value == "100.0 kg"


def test_a_bare_number_is_meant_in_the_unit_shown():
    number = Number("Weight", "weight", 110, 1, 2000)
    number.use("lb")
    number.box.value = "300"
    assert number.value == pytest.approx(300 * KG_PER_LB) and number.box.value == "300 lb"


@pytest.mark.parametrize(
    "kind, value, low, high",
    [
        ("weight", 110, 1, 2000),
        ("length", 1.2, -2, 3),
        ("angle", 5, -20, 20),
        ("pressure", 120, 50, 400),
    ],
)
@pytest.mark.parametrize("system", ["kg", "lb"])
def test_a_slider_reaches_both_bounds_and_never_passes_them(kind, value, low, high, system):
    number = Number("It", kind, value, low, high)
    number.use(system)
    for end, bound in ((number.slider.min, low), (number.slider.max, high)):
        number.slider.value = end
        assert number.value == pytest.approx(bound) and low <= number.value <= high
    steps = (number.slider.max - number.slider.min) / number.slider.step
    assert steps == pytest.approx(round(steps), abs=1e-6)


def test_box_first_slider_second_both_named():
    number = Number("Overhang", "length", 1.2, -2, 3)
    assert number.widget.children[:2] == (number.box, number.slider)
    assert (
        number.box.description == "Overhang"
        and number.box.style.description_width == "initial"
        and not number.slider.readout
    )


# --- a panel as such ------------------------------------------------------------------------------


class Fragile(Panel):
    def build(self):
        self.numbers = {"weight": Number("Weight", "weight", 110, 1, 2000, on_change=self.redraw)}
        self.out = html()
        return [self.numbers["weight"].widget, self.out]

    def draw(self):
        if self.values["weight"] > 1000:
            raise ZeroDivisionError("<i>boom</i>")
        self.out.value = f"{self.values['weight']:.0f}"


def test_what_goes_wrong_is_shown_and_the_panel_goes_on():
    panel = Fragile()
    panel.numbers["weight"].slider.value = 1500
    assert "ZeroDivisionError" in panel.error.value and "<i>" not in panel.error.value
    panel.numbers["weight"].slider.value = 150
    assert panel.error.value == "" and panel.out.value == "150"


def test_set_takes_all_or_nothing():
    panel = raised().set(load="110 kg")
    for told in (
        {"load": "200 kg", "height": "9 m"},
        {"load": "200 kg", "color": 3},
        {"load": "200 kg", "system": "stone"},
        {"load": float("nan")},
        {"front": "0 kg"},
        {"rear": "2 m"},
    ):
        with pytest.raises(Refusal):
            panel.set(**told)
        assert panel.values["load"] == 110 and panel.system == "kg"


def test_panels_of_a_notebook_share_units_and_type_size():
    one, other = raised(), raised()
    one.set(system="lb")
    assert other.numbers["load"].box.value == "600 lb" and "600 lb" in other.out.value
    other.set(system="kg")
    assert one.numbers["load"].box.value == "272.2 kg"
    shared.set(large=True)
    assert (
        "lv-big" in one.widget._dom_classes
        and "lv-large" in one.out.value
        and "lv-narrow" not in one.out.value
    )
    shared.set(large=False)
    assert "lv-big" not in one.widget._dom_classes


def test_ids_of_two_panels_with_the_same_picture_differ():
    ids = [set(re.findall(r'id="([^"]+)"', raised().out.value)) for _ in range(2)]
    assert len(ids[0]) > 4 and not ids[0] & ids[1]


def test_a_panel_shown_nowhere_waits_until_it_is_seen_again():
    panel, drawn = raised(), []
    panel.out.observe(lambda change: drawn.append(1), "value")
    panel.widget._view_count = 1
    panel.widget._view_count = 0
    shared.set(system="lb")
    assert not drawn and "kg" in panel.out.value
    panel.widget._view_count = 1
    assert drawn and "600 lb" in panel.out.value and panel.numbers["load"].box.value == "600 lb"


def test_one_panel_that_fails_does_not_stop_the_others(monkeypatch):
    broken, good = Fragile(), raised()
    monkeypatch.setattr(broken, "follow_shared", lambda: 1 / 0)
    shared.set(system="lb")
    assert "ZeroDivisionError" in broken.error.value and "600 lb" in good.out.value


def test_a_notebook_loads_only_the_panels_it_asks_for():
    code = (
        "import sys; from leverarm.panels import begin, arms_up; "
        "import leverarm.panels.tally, leverarm.panels as p; "
        "print(sorted(m for m in sys.modules if m.startswith(('leverarm.exercises', "
        "'leverarm.marking', 'numpy', 'sympy', 'matplotlib'))), "
        "callable(p.tally), callable(p.arms_up))"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.split() == ["[]", "True", "True"]


@pytest.mark.parametrize("name", panels.__all__)
def test_every_name_the_package_gives_is_there(name):
    assert callable(getattr(panels, name)) or name == "shared"


# --- a picture and its numbers ------------------------------------------------------------------


def test_the_slider_moves_the_picture():
    panel = raised()
    before = panel.out.value
    panel.numbers["height"].slider.value = 1.0
    assert panel.out.value != before and panel.numbers["height"].box.value == "1.00 m"


def test_one_move_sends_one_picture_and_one_box():
    panel = raised()
    sent = []
    for part in (
        panel.out,
        panel.error,
        *(w for n in panel.numbers.values() for w in (n.box, n.slider, n.message)),
    ):
        part.observe(lambda change: sent.append(change["owner"]), "value")
    panel.numbers["height"].slider.value = 1.0
    assert [owner for owner in sent if owner is not panel.numbers["height"].slider] == [
        panel.numbers["height"].box,
        panel.out,
    ]


def test_a_lifted_rear_is_explained_in_the_unit_shown():
    panel = raised().set(load="1000 kg", rear="500 kg")
    told = panel.lift_point.loads.lift.weight_kg
    for system in ("kg", "lb"):
        text = words(panel.set(system=system).out.value)
        assert f"reached {show(told, 'weight', system)}" in text
        assert "The rear axle carries nothing." in text
        assert "these equations no longer hold" in text


# --- predict before reveal ------------------------------------------------------------------------


def answers(panel):
    """What the panel prints once it is revealed: readings and their changes."""
    low, here = panel.lowest.loads, panel.lift_point.loads
    front = here.front_kg - low.front_kg
    kilograms = (here.front_kg, here.rear_kg, front, -front)
    return [show(kg, "weight") for kg in kilograms]


def test_nothing_is_shown_until_both_axles_are_predicted():
    panel = raised(gated=True)
    assert all(part in words(raised().out.value) for part in answers(panel)[:2])
    assert panel.hidden and not any(part in words(panel.out.value) for part in answers(panel))
    panel.gate.directions["front"].value, panel.gate.amounts["front"].value = "up", "110 kg"
    panel.gate.lock_button.click()
    assert panel.gate.state == "open" and "Rear scale" in panel.gate.error.value and panel.hidden
    with pytest.raises(Refusal):
        panel.gate.reveal()


def test_locked_in_then_frozen_then_revealed_beside_the_prediction():
    panel = raised(gated=True)
    panel.gate.lock_in(front="up 110 kg", rear="stays")
    assert panel.gate.state == "locked" and panel.hidden and panel.numbers["load"].slider.disabled
    assert not any(part in words(panel.out.value) for part in answers(panel))
    panel.gate.reveal_button.click()
    text, (front, rear, gain, loss) = words(panel.out.value), answers(panel)
    assert not panel.hidden and not panel.numbers["load"].slider.disabled
    assert "you said" in text
    assert f"+{gain} +110.0 kg {front}" in text and f"{loss} 0.0 kg {rear}" in text
    assert "front scale up 110.0 kg; rear scale stays the same" in panel.gate.prediction_line.value


def test_other_numbers_drop_the_prediction_and_one_click_brings_them_back():
    panel = raised(gated=True)
    high = panel.values["height"]
    panel.gate.lock_in(front="up 190 kg", rear="down 80 kg")
    panel.gate.reveal()
    panel.numbers["height"].slider.value = 1.0
    assert "you said" not in panel.out.value and panel.back_button.layout.display == ""
    panel.back_button.click()
    assert panel.values["height"] == high and "you said" in panel.out.value
    assert panel.back_button.layout.display == "none"
    panel.gate.again_button.click()
    assert panel.hidden and panel.gate.predictions == {} and panel.gate.amounts["front"].value == ""


def test_why_comes_after_the_readers_own_sentence():
    panel = raised(gated=True)
    panel.gate.lock_in(front="up 190 kg", rear="down 80 kg")
    panel.gate.reveal()
    panel.gate.explain_button.click()
    assert "lever" not in panel.gate.explained.value and "First write" in panel.gate.explained.value
    panel.gate.seen.value = "The front gained more than the bucket weighs."
    panel.gate.explain_button.click()
    assert "lever" in panel.gate.explained.value


@pytest.mark.parametrize(
    "direction, amount, system, kg",
    [
        ("up", "190 kg", "kg", 190),
        ("down", "80", "kg", -80),
        ("down", "176", "lb", -176 * KG_PER_LB),
        ("stays", "", "kg", 0),
        ("stays", "0", "kg", 0),
    ],
)
def test_a_prediction_has_a_sign_and_a_number(direction, amount, system, kg):
    assert predicted(
        GateQuestion("rear", "Rear scale"), direction, amount, system
    ) == pytest.approx(kg)


@pytest.mark.parametrize(
    "direction, amount",
    [
        (None, "80 kg"),
        ("up", ""),
        ("up", "0"),
        ("stays", "5 kg"),
        ("down", "-5 kg"),
        ("up", "3 m"),
        ("down", "lots"),
        ("sideways", "3"),
    ],
)
def test_half_a_prediction_is_refused(direction, amount):
    with pytest.raises(Refusal):
        predicted(GateQuestion("rear", "Rear scale"), direction, amount, "kg")


@pytest.mark.parametrize(
    "told", [{"front": "up 5 kg"}, {"front": "up", "rear": "down 3 kg"}, {"middle": "up 3 kg"}]
)
def test_half_a_prediction_in_code_is_refused(told):
    gate = raised(gated=True).gate
    with pytest.raises(Refusal):
        gate.lock_in(**told)
    assert gate.state == "open"


@pytest.mark.parametrize(
    "text, parts",
    [
        ("up 190 kg", ("up", "190 kg")),
        ("Down 80", ("down", "80")),
        ("−80 kg", ("down", "80 kg")),
        ("+3", ("up", "3")),
    ],
)
def test_predictions_told_in_code(text, parts):
    assert split_prediction(text) == parts


# --- exercises: against a stand-in, then against every kind of the bank
# ----------------------------


class StandIn:
    """The interface the box is built against, with one known slip."""

    PRINCIPLES = MappingProxyType({"forces": "forces add up", "rear": "moments about the rear"})

    def make(self, kind, seed, system=None, step="ordinary"):
        line = SimpleNamespace(
            principle="rear",
            tag="moments about the rear",
            words="Why.",
            left="x",
            letters="a + b",
            numbers="1 + 2",
            result="3 kg",
            text="x = 1 + 2 = 3 kg",
            unit="kg",
            kind="weight",
            equation=False,
        )
        return SimpleNamespace(
            kind=kind,
            seed=seed,
            system=system,
            title="A <sum>",
            statement=f"Add {seed} & <b>.",
            unit="kg",
            answer=3.0,
            style="number",
            source=None,
            hints=("one", "two"),
            hints_at=lambda step: ("one", "two"),
            solution=(line, line),
        )

    def check(self, problem, text, before=()):
        return SimpleNamespace(
            right=text == "3 kg", message=f"You gave {text}.", counts=text != "", case="", step=None
        )


@pytest.fixture
def stand_in(monkeypatch):
    made = StandIn()
    for name in ("make", "check", "PRINCIPLES"):
        monkeypatch.setattr(exercises, name, getattr(made, name))
    return made


def test_an_exercise_replies_in_words_and_escapes_them(stand_in):
    box = exercise("sum", 7)
    assert "Add 7 &amp; &lt;b&gt;." in box.statement.value
    box.field.box.value = "<i>4</i>"
    box.check_button.click()
    assert (
        "Not yet." in box.reply.value and "&lt;i&gt;4" in box.reply.value and len(box.attempts) == 1
    )
    assert (
        box.answer("3 kg").right and "✓ Right." in box.reply.value and "lv-say" in box.reply.value
    )


def test_hints_come_one_rung_at_a_time_and_the_solution_last(stand_in):
    box = exercise("sum", 7)
    assert box.solution_button.layout.display == "none"
    box.hint_button.click()
    assert "one" in box.hints.value and "two" not in box.hints.value
    box.hint_button.click()
    assert (
        "two" in box.hints.value
        and box.hint_button.disabled
        and box.solution_button.layout.display == "none"
    )
    box.answer("5 kg")
    assert box.solution_button.layout.display == ""
    box.solution_button.click()
    said = re.sub(r"</?span[^>]*>", "", box.solution.value)
    assert "<i>x</i> = <i>a</i> + <i>b</i> = 1 + 2 = 3 kg" in said


def test_a_title_that_asks_gets_no_second_stop():
    box = exercise("percent_of_what", 1)
    assert "Percent of what?</b> The" in box.statement.value


def test_new_numbers_start_afresh(stand_in):
    box = exercise("sum", 7)
    box.hint(), box.answer("5 kg"), box.show_solution()
    box.new_button.click()
    assert (
        "Add 7/1" in box.statement.value
        and not box.attempts
        and not box.hints.value
        and not box.solution.value
        and not box.reply.value
    )
    assert box.field.text == ""


def test_what_cannot_be_read_is_no_attempt(stand_in):
    box = exercise("sum", 7)
    box.check_button.click()
    assert box.attempts == [] and "Not yet" not in box.reply.value and "You gave" in box.reply.value


def test_enter_in_the_answer_box_checks(stand_in):
    box = exercise("sum", 7)
    box.field.box.value = "3 kg"
    box.field.box._handle_custom_msg({"event": "submit"}, [])
    assert box.verdict.right


def right_text(problem):
    return problem.answer if problem.style != "number" else f"{problem.answer:.8g} {problem.unit}"


# One kind of each style in each lesson; the bank's own tests go through all of them.
SAMPLE = list({(kind.style, kind.lesson): kind.name for kind in exercises.problems()}.values())


@pytest.mark.parametrize("kind", SAMPLE)
def test_every_style_of_the_bank_can_be_answered_in_its_box(kind):
    box = exercise(kind, 5)
    assert not box.error.value and box.problem.statement[:20].split()[0] in words(
        box.statement.value
    )
    assert box.answer(right_text(box.problem)).right, box.reply.value
    assert box.field.text.strip()
    for _ in box.problem.hints:
        box.hint()
    box.show_solution()
    assert box.hints.value.count("Hint") == len(box.problem.hints) and box.solution.value.count(
        "<li>"
    ) == len(box.problem.solution)


def test_the_box_names_a_slip_of_the_real_bank():
    box = exercise("front_gain", 7)
    weight = box.problem.given["W"]
    assert "hung weight alone" in box.answer(weight).message and "hung weight alone" in words(
        box.reply.value
    )


def test_other_units_remake_a_problem_nobody_has_answered():
    box = exercise("front_gain", 7)
    shared.set(system="lb")
    assert box.problem.system == "lb" and " lb" in box.statement.value
    box.answer("5 lb")
    shared.set(system="kg")
    assert box.problem.system == "lb" and len(box.attempts) == 1


# --- a show of hands ------------------------------------------------------------------------------

OPTIONS = ("less than its weight", "its weight", "more than its weight")


@pytest.mark.parametrize(
    "right, total, what",
    [
        (0, 10, "re-teach"),
        (34, 100, "re-teach"),
        (35, 100, "discuss"),
        (70, 100, "discuss"),
        (71, 100, "go on"),
        (5, 5, "go on"),
    ],
)
def test_advice_after_a_vote(right, total, what):
    assert after_the_vote(right, total) == what


def test_votes_advice_and_before_after():
    hands = tally("Front change?", OPTIONS, "c")
    assert "Type the number of hands" in hands.out.value and "<svg" not in hands.out.value
    hands.count(A=5, B=6, C=9)
    text = words(hands.out.value)
    assert "finds a neighbor" in text and "The right answer" not in text and "9 of 20" not in text
    hands.count("second", A=1, B=2, C=17)
    assert "First vote: A 5, B 6, C 9. Second vote: A 1, B 2, C 17" in hands.out.value
    hands.show_button.click()
    assert "say in a sentence why, and go on" in words(hands.out.value)
    assert (
        "17 of 20 chose it" in hands.out.value and "C</b>: more than its weight" in hands.out.value
    )


def test_a_show_of_hands_is_the_same_whichever_letter_is_right_until_it_is_shown():
    """Few, some and most hands for one letter: the page and every name in it tell nothing of it."""
    first, second = {"A": 1, "B": 2, "C": 17}, {"A": 9, "B": 10, "C": 1}

    def shown(right, *calls):
        hands = tally("Front change?", OPTIONS, right)
        for call in calls:
            call(hands)
        return re.sub(re.escape(hands.key), "", hands.out.value)

    steps = [
        lambda hands: hands.count(**first),
        lambda hands: hands.vote_again(),
        lambda hands: hands.count("second", **second),
    ]
    for n in range(len(steps) + 1):
        assert len({shown(right, *steps[:n]) for right in "ABC"}) == 1
    closed = [*steps, lambda hands: hands.show_right()]
    assert len({shown(right, *closed) for right in "ABC"}) == 3


@pytest.mark.parametrize("counts", [{"A": -1}, {"A": 2.5}, {"E": 1}, {"A": 501}])
def test_counts_that_cannot_be_are_refused(counts):
    hands = tally("?", OPTIONS, "C")
    with pytest.raises(Refusal):
        hands.count(B=3, **counts)
    assert hands.first == {"A": 0, "B": 0, "C": 0}
    with pytest.raises(Refusal):
        tally("?", OPTIONS, "D")


# --- the set-up cell ------------------------------------------------------------------------------


def test_begin_answers_each_time_it_is_asked():
    top = Begin()
    before = top.alive.value
    top.beat.click()
    assert top.alive.value != before and "Python is running." in top.alive.value


def test_begin_switches_units_and_type_for_all_panels():
    top, panel = Begin(), raised()
    top.unit_choice.units.value = "lb"
    assert panel.system == "lb"
    top.large.value = True
    assert panel.large
    panels.begin(system="kg", large=False)
    assert panel.system == "kg" and not panel.large


def test_the_page_script_loads_nothing():
    page = style_and_script()
    assert (
        "http" not in page.replace("http://www.w3.org/1999/xhtml", "")
        and "import(" not in page
        and "fetch(" not in page
    )
    assert "data-lm-suppress-shortcuts" in page and "aria-label" in page


@pytest.mark.skipif(not shutil.which("node"), reason="no Node.js on this computer")
def test_the_page_script_is_well_formed(tmp_path):
    script = tmp_path / "page.js"
    script.write_bytes(Path(page_file).with_suffix(".js").read_bytes())
    told = subprocess.run(["node", "--check", script], capture_output=True, text=True)
    assert told.returncode == 0, told.stderr


def test_the_style_sheet_is_rules_in_braces_and_nothing_else():
    text = re.sub(
        r"/\*.*?\*/", "", Path(page_file).with_suffix(".css").read_text("utf-8"), flags=re.S
    )
    opens, value = r"@(container|media) \([^{}]+\) \{|[^{};@]+[,{]", r"[^{};]+[,;]"
    line = re.compile(rf"({opens}|\}}|[\w-]+: {value}|linear-gradient{value}|)")
    depth = 0
    for written in text.splitlines():
        assert line.fullmatch(written.strip()), written
        depth += written.count("{") - written.count("}")
        assert 0 <= depth <= 2, written
    assert depth == 0 and text.count("(") == text.count(")")
    # On one line it says the same: no rule and no declaration is lost.
    joined = page_rules().removeprefix(page_style() + formula_rules())
    assert joined.count("{") == text.count("{") and joined.count(";") == text.count(";")
    assert "/*" not in joined and "\n" not in joined


def test_a_slider_tells_the_page_its_range_before_its_value(monkeypatch):
    """A value told first is pressed into the old range by the page, and comes back as if somebody
    had slid there.
    """
    number, told = Number("Overhang", "length", 1.2, -2, 3), []
    monkeypatch.setattr(
        number.slider, "_send", lambda message, buffers=None: told.append(list(message["state"]))
    )
    for names in itertools.permutations(("max", "min", "step", "value")):
        number.slider.send_state(names)
    assert told == [["max", "min", "step", "value"]] * 24
    told.clear()
    number.use("lb")
    assert told == [["max", "min", "step", "value"]]


def test_a_change_of_units_draws_every_panel_once(monkeypatch):
    """One that follows must not tell everybody again."""
    made, drawn = [raised() for _ in range(4)], []
    monkeypatch.setattr(type(made[0]), "draw", lambda panel: drawn.append(panel.key))
    shared.set(system="lb")
    assert sorted(drawn.count(panel.key) for panel in made) == [1, 1, 1, 1]
    shared.set(system="lb")
    assert len([key for key in drawn if key in {panel.key for panel in made}]) == 4, (
        "nothing changed, nobody is told"
    )
