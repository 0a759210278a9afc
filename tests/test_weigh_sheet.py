"""The weigh-day sheet: the cautions first, a cell for each reading, nothing called safe."""

import re

import pytest

from leverarm.handouts.weigh_sheet import CAUTIONS, weigh_sheet
from leverarm.quantities import SYSTEMS


def words(system):
    html = re.sub(r"<style>.*?</style>", "", weigh_sheet(system), flags=re.DOTALL)
    return " ".join(re.sub(r"<[^>]+>", " ", html).split())


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_cautions_come_first_and_promise_nothing(system):
    said = words(system)
    assert said.index("Before you start") < said.index("Readings")
    cautions = " ".join(CAUTIONS).lower()
    for needed in (
        "belt",
        "one height",
        "brakes released",
        "raised loader",
        "hydraulic pressure",
        "stands",
        "operator's manual",
    ):
        assert needed in cautions
    assert "safe" not in said.lower()


def test_there_is_a_cell_for_each_wheel_and_axle_twice_and_the_question_what_changed():
    html, said = weigh_sheet("lb"), words("lb")
    readings = re.search(r"<table>.*?</table>", html, re.DOTALL)[0]
    assert re.findall(r'colspan="3" scope="colgroup">(\w+)<', readings) == ["Front", "Rear"]
    assert re.findall(r'<th scope="col">(\w+)<', readings) == ["left", "right", "axle"] * 2
    rows = re.findall(r"<tr>((?:(?!<tr>).)*<td>.*?)</tr>", readings)
    assert len(rows) == 12 and all(row.count("<td>\u00a0</td>") == 6 for row in rows)
    assert "Fuel, operator and mower the same in all set-ups?" in said
    assert said.index("My bets") < said.index("Readings"), "bets stand before the readings"


@pytest.mark.parametrize(
    "system, own, other", [("lb", ("lb", "in"), ("kg", "m")), ("kg", ("kg", "m"), ("lb", "in"))]
)
def test_each_line_to_write_on_has_its_unit(system, own, other):
    lines = re.findall(r"</span> (\w+)</span>", weigh_sheet(system))
    assert {one for one in lines if one in (*own, *other)} == set(own)
