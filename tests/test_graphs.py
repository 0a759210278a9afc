"""Graphs: drawn without pyplot, the same bytes every time, never without words."""

import random
import re
import subprocess
import sys
import xml.etree.ElementTree as ET

import pytest

from leverarm import graphs
from leverarm.graphs import without
from leverarm.quantities import Refusal

RNG = random.Random(5)
DRAWS = [RNG.gauss(1.2, 0.1) for _ in range(2000)]
INTERVAL = (1.0, 1.4)
BOTH = pytest.mark.parametrize(
    "draw", [graphs.histogram, without.histogram], ids=["matplotlib", "without"]
)


@BOTH
def test_a_histogram_shows_itself_with_words(draw):
    shown = draw(DRAWS, unit="m", interval=INTERVAL)
    root = ET.fromstring(shown._repr_html_())
    assert root.get("role") == "img"
    spoken = root.get("aria-label") or root.find("{*}desc").text
    assert spoken == shown.alt_text
    ordered = sorted(DRAWS)
    assert f"from {ordered[50]:.4g} to {ordered[1950]:.4g} m" in spoken
    assert "first order, 95 %: 1 to 1.4." in spoken
    assert "first order" not in draw(DRAWS).alt_text


def test_both_ways_say_the_same():
    one, two = (f(DRAWS, interval=INTERVAL).alt_text for f in (graphs.histogram, without.histogram))
    assert one == two


@BOTH
def test_the_same_numbers_give_the_same_bytes(draw):
    first, second = (draw(DRAWS, interval=INTERVAL)._repr_html_() for _ in range(2))
    assert first == second
    assert not re.search(r"20\d\d-\d\d-\d\d", first), "no date"


def test_counts_hold_every_value_once():
    low, width, found = without.counts(DRAWS, 40)
    assert sum(found) == len(DRAWS) and low == min(DRAWS)
    assert low + 40 * width == pytest.approx(max(DRAWS))
    third = sum(low + 2 * width <= x < low + 3 * width for x in DRAWS)
    assert found[2] == third
    assert without.counts([7.0, 7.0], 3) == (7.0, 1.0, [2, 0, 0]), "all alike"


def printed_by(code):
    """What a fresh interpreter prints."""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return done.stdout.strip()


def test_pyplot_is_never_loaded():
    code = (
        "import sys; from leverarm import graphs; graphs.histogram([1.0, 2.0, 2.5]).svg;"
        "print('matplotlib.pyplot' in sys.modules)"
    )
    assert printed_by(code) == "False"


# Where there is neither numpy nor matplotlib


def test_without_libraries_a_figure_is_refused():
    for ask in (without.figure, without.color):
        with pytest.raises(Refusal, match="whole workbook"):
            ask(3, 2)


def test_without_libraries_nothing_asks_for_them():
    code = (
        "import sys; sys.modules['numpy'] = sys.modules['matplotlib'] = None;"
        "from leverarm import graphs; print(graphs.histogram([1.0, 2.0, 2.5]).html[:4])"
    )
    assert printed_by(code) == "<svg"
