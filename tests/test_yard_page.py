"""The yard page: its numbers are the workbook's own, its rows say the same in the page, its file
is the workbook's.
"""

import json
import math
import re
import subprocess

import pytest
from stage_in_page import NODE, drawn_by_python, in_page, places_of
from yard_machines import DEMO, random_states, state_of

from leverarm.handouts.page_numbers import page_numbers
from leverarm.quantities import SYSTEMS, to_unit
from leverarm.stage.recorder import Recorder
from leverarm.stage.recording import recorded
from leverarm.weighing.claim_audit import audit_spoken
from leverarm.weighing.claims import read_claim
from leverarm.weighing.day import weigh_day
from leverarm.weighing.facts import machine, scale_facts
from leverarm.weighing.gate import look_over
from leverarm.weighing.readings import axle_reading, weighing, wheel_readings
from leverarm.weighing.results import results
from leverarm.yard_page.claim import rounding_of
from leverarm.yard_page.doubts import CAUSES
from leverarm.yard_page.page import all_screens, main, offline_cache, yard_page
from leverarm.yard_page.readings import ROWS, YardInputs, box_name
from leverarm.yard_page.told import PIECES, YardTold

SETUPS = {
    "bucket": ("loader frame + bucket", "loader frame"),
    "loader frame": ("loader frame", "bare"),
    "whole loader": ("loader frame + bucket", "bare"),
}


def day_of(system, state):
    """The workbook's weigh day of the same inputs."""
    length, weight = ("in", "lb") if system == "lb" else ("m", "kg")
    piece = PIECES[int(state["piece"])]
    rows = []
    for row, name in zip(ROWS, SETUPS[piece], strict=True):
        axles = {}
        for axle in ("front", "rear"):
            sides = [
                axle_reading(state[box_name(row, axle, side)], weight, axle)
                if state[f"has_{box_name(row, axle, side)}"]
                else None
                for side in ("left", "right")
            ]
            both = all(sides)
            axles[axle] = wheel_readings(*sides, axle) if both else sides[0] or sides[1]
        setup = [] if name == "bare" else name.split(" + ")
        rows.append(weighing(setup, axles["front"], axles["rear"], weight))
    scales = scale_facts(
        f"{state['step']!r} {weight}" if state["step_known"] else None,
        f"{state['accuracy']!r} %" if state["accuracy_known"] else None,
        placed="moved" if state["one_set"] else "every wheel",
        ground="on the ground" if state["raised"] else "let in",
    )
    base = f"{state['wheelbase']!r} {length}"
    return weigh_day(machine("Somebody's", base), "2026-10-14", scales, rows, system=system)


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_numbers_and_their_plus_minus_are_those_of_the_workbook(system):
    typed = YardInputs(system)
    for state in random_states(system, 500, 11):
        found = YardTold(typed, state).results
        day = day_of(system, state)
        piece = SETUPS[PIECES[int(state["piece"])]]
        on, off = (set(name.split(" + ")) - {"bare"} for name in piece)
        right = results(day, " + ".join(sorted(on - off, reverse=True)))
        pairs = [(found.front, right.front_change)]
        if state["has_on_rear_left"]:
            pairs += [(found.weight, right.weight), (found.ahead, right.ahead)]
            pairs += [(found.factor, right.factor)]
        for ours, theirs in pairs:
            assert ours.value == pytest.approx(theirs.value, rel=1e-12, abs=1e-9)
            assert ours.half == pytest.approx(theirs.expanded(), rel=1e-6)


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_page_s_script_works_out_what_python_does_at_a_thousand_machines(system, tmp_path):
    typed = YardInputs(system)
    data = recorded(all_screens(typed), typed.inputs)
    states = list(random_states(system, 500, 3))
    shown = in_page(tmp_path, data=data, states=states)["texts"]
    places = places_of(all_screens(typed), typed.inputs)
    assert len(places) == len(data["bindings"]) > 300
    differ = 0
    for state, texts in zip(states, shown, strict=True):
        right = drawn_by_python(all_screens(typed), state, places)
        pairs = zip(texts, right, strict=True)
        # A way not taken may divide by zero; it is hidden.
        differ += sum(a != b for a, b in pairs if "nan" not in b and "inf" not in b)
    assert differ == 0


def test_printed_lines_are_those_of_the_page_to_hand_over():
    typed = YardInputs("lb")
    for state in random_states("lb", 300, 5):
        if not state["has_on_rear_left"] or state["raised"]:
            continue
        told = YardTold(typed, state)
        axle = told.axles
        right = page_numbers(
            *((axle["on", one], axle["off", one]) for one in ("front", "rear")),
            None,
            state["wheelbase"],
        )
        digits = told.digits
        assert digits.came_off.value == float(right.came_off)
        assert digits.weight.value == float(right.weight)
        assert digits.factor.text() == f"{right.factor}"
        assert digits.overhang.text().replace("−", "-") == f"{right.overhang}"
        assert digits.times == right.times


def test_a_claim_is_judged_as_the_workbook_judges_it():
    words = {0.5: "0.5 times", 1.0: "1 times", 1.5: "1.5 times", 2.0: "2 times", 3.0: "3 times"}
    for state in random_states("lb", 200, 8):
        if not state["has_on_rear_left"] or state["claim_axle"] or state["piece"]:
            continue
        told = YardTold(YardInputs("lb"), state)
        said = f"Taking the bucket off takes {words[state['claim']]} its own weight off the front"
        audit = audit_spoken(said, day_of("lb", state))
        assert bool(told.claim.fits) == (audit.truth == "true"), (said, state)


@pytest.mark.parametrize("number", [0.5, 1.7, 2, 3, 10, 15, 25, 34, 150, 155, 1200, 2000])
def test_a_spoken_number_is_rounded_as_in_a_typed_claim(number):
    claim = read_claim(f"{number:g} lb").value
    half = next(iter(claim.slopes)).u * math.sqrt(3) / to_unit(1.0, "weight", "lb") ** -1
    assert rounding_of(float(number)) == pytest.approx(half)


def swapped(row, *which):
    a, b, c, d = DEMO[row]
    return {**DEMO, row: (c, d, a, b)}


@pytest.mark.parametrize(
    ("readings", "cause"),
    [
        (DEMO, None),
        (swapped("on"), "swapped on"),
        ({"on": DEMO["off"], "off": DEMO["on"]}, "rows exchanged"),
        # Swapped once or twice, it is the same 246 lb: the sentence says to look at both.
        ({row: (c, d, a, b) for row, (a, b, c, d) in DEMO.items()}, "swapped on"),
        ({**DEMO, "on": (2964, 2956, 452, 458)}, "too heavy"),
        ({**DEMO, "on": (1900, 1880, 20, 10)}, "nothing on it"),
        ({**DEMO, "on": (1500, 420, 652, 658)}, "uneven"),
        ({"on": (754, 748, None, None), "off": (964, 956, None, None)}, "cannot be"),
        ({"on": (964, 956, None, None), "off": (754, 748, None, None)}, None),
        # Front and rear nearly equal: nothing odd, as the person who weighed is told nowhere.
        ({**DEMO, "off": (738, 744, 754, 748)}, None),
    ],
)
def test_what_cannot_be_is_asked_about(readings, cause):
    state = state_of("lb", readings, wheelbase=65, step=2, step_known=1, accuracy=0.5)
    marks = YardTold(YardInputs("lb"), state).doubts.marks
    assert [name for name in CAUSES if marks[name]] == ([cause] if cause else [])


@pytest.mark.parametrize(
    ("readings", "weighs"),
    [
        (DEMO, 1),
        (swapped("on"), 1),  # 1,920 and 1,310 trade places: their sum is the same
        ({"on": DEMO["off"], "off": DEMO["on"]}, 0),
        ({"on": DEMO["on"], "off": DEMO["on"]}, 0),
        ({"on": (964, 956, None, None), "off": (964, 956, None, None)}, 0),
        ({"on": (964, 956, None, None), "off": (754, 748, None, None)}, 1),
    ],
)
def test_what_weighs_nothing_is_not_kept_as_typed(readings, weighs):
    state = state_of("lb", readings, wheelbase=65, step=2, step_known=1)
    recorder = Recorder()
    inputs = YardInputs("lb").inputs
    moving = {one.name: recorder.input(one.name, one.low, one.high) for one in inputs}
    told = YardTold(YardInputs("lb"), moving)
    row = recorder.row_of(told.doubts.weighs)
    assert bool(recorder.work_out(state)[row]) == bool(weighs)


def test_the_page_stops_where_the_gate_of_the_workbook_does():
    for readings in (swapped("on"), {"on": DEMO["off"], "off": DEMO["on"]}):
        state = state_of("lb", readings, wheelbase=65, step=2, step_known=1, has_wheelbase=1)
        assert look_over(day_of("lb", state))


def test_the_page_is_one_small_file_that_asks_nothing_of_anybody(tmp_path, capsys):
    text = yard_page()
    assert len(text.encode()) < 300_000
    assert not re.search(r"https?://(?!www\.w3\.org)|\bsrc=|@import|XMLHttp|\beval\b|cookie", text)
    assert "default-src 'none'" in text
    assert not [
        one
        for one in ("style", "stage", "record", "script", "common", *SYSTEMS)
        if f"/*{one}*/" in text
    ]
    used = set(re.findall(r'class=\\"(st-(?:area|line|text|solid)-[a-z-]+)', text))
    assert used and [one for one in used if f".{one}" not in text] == ["st-line-floor"]
    hides, says = re.findall(r"<noscript>(.*?)</noscript>", text)
    assert "#yard { display: none; }" in hides and "scripts" in says
    # The first screen stands in the file, and nothing in it waits for the rows.
    (first,) = re.findall("<section.*?</section>", text[: text.index('id="common"')], re.DOTALL)
    assert 'data-screen="machine"' in first and " hidden" not in first and "data-b=" not in first
    goal = tmp_path / "yard.html"
    assert main([str(goal)]) == 0 and goal.read_text("utf-8") == text
    assert main([str(tmp_path)]) == 0 and (tmp_path / "index.html").read_text("utf-8") == text
    kept = (tmp_path / "offline.js").read_text("utf-8")
    assert kept == offline_cache(text) != offline_cache(text + " ")
    assert main([]) == 2 and "Name one file" in capsys.readouterr().err


@pytest.mark.skipif(NODE is None, reason="no node here to run the page's script")
def test_the_scripts_parse(tmp_path):
    for number, script in enumerate(re.findall(r"<script>(.*?)</script>", yard_page(), re.DOTALL)):
        one = tmp_path / f"{number}.js"
        one.write_text(script, "utf-8")
        subprocess.run([NODE, "--check", str(one)], check=True, timeout=60)
    for name in ("common", *SYSTEMS):
        assert json.loads(re.search(rf'id="{name}">(.*?)</script>', yard_page(), re.DOTALL)[1])
