"""The cautions against what their sources say, in this project's words."""

import re
from pathlib import Path

import pytest

from leverarm.data import cautions

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "lessons" / "cautions.md").read_text("utf-8")


def line_with(source):
    """The lines of the page of cautions that name a source."""
    return " ".join(line for line in PAGE.splitlines() if source in line)


@pytest.mark.parametrize(
    "source, says",
    [
        # 29 CFR 1928.51: roll-over protective structure and a seat belt with it.
        ("OSHA 29 CFR 1928.51", ("ROPS", "belt")),
        # CCOHS, tractor overturns: most are sideways; a rearward one takes less than 1.5 s.
        ("CCOHS", ("Most overturns are sideways", "less than a second and a half")),
        # CCOHS, front-end loaders: off when not in use, nobody under a raised one.
        ("CCOHS", ("Take it off when it is not needed", "Nobody under a raised loader")),
        # NASD and extension sheets on stability: loader low, counterweight on, from the seat only.
        ("NASD", ("from the seat only", "Carry the load low", "Counterweight on")),
        # LSU AgCenter: bucket down before dismounting; pressure off before a coupler is opened.
        ("LSU AgCenter", ("bucket down", "hydraulic pressure before a coupler")),
        # Ohio State 2015: front attachments off for roadside mowing, or carried low.
        ("Ohio State, 2015", ("carry it low",)),
        # AMT Handbook FAA-8083-30, weighing: brakes released, side loads upset the reading.
        ("FAA-8083-30", ("Brakes released while you read",)),
        # Extension turf advice: no heavy equipment on a saturated lawn.
        ("extension advice on turf", ("soaked lawn",)),
    ],
)
def test_a_caution_says_what_its_source_says(source, says):
    assert all(one in line_with(source) for one in says), line_with(source)


def test_no_slope_in_degrees_is_printed_and_the_manual_decides():
    """Printed slope limits differ between sources, so none is given as one to drive on."""
    slope = PAGE[PAGE.index("## On a slope") :].split("\n## ")[0]
    assert "The manual decides." in slope
    assert not re.search(r"\d+ ?(?:°|degrees|%|percent)", slope)
    assert not any(re.search(r"\d+ ?(?:°|degrees)", one) for one in cautions("slopes"))


def test_what_no_source_says_is_marked():
    """A line with no source of its own is marked as practice of the trade."""
    for subject in ("Bystanders and children", "go on turning", "through the skin"):
        (line,) = (one for one in PAGE.splitlines() if subject in one)
        assert "common practice, no source" in line
