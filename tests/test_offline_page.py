"""The page of lesson 02 without Python: its script agrees with the package, and it asks nothing of
anybody.
"""

import json
import random
import re
import shutil
import subprocess

import pytest

from leverarm import Attachment, Tractor, compare, predict, statics
from leverarm.handouts import offline_page

CALLS = (
    "console.log(JSON.stringify(%s.map(([W, a, L]) => "
    "[front_gain(W, a, L), rear_change(W, a, L), amplification(a, L), overhang_for(2, L)])))"
)


def grid(count=500, seed=2):
    """Weights, overhangs and wheelbases from a fixed seed, the ends of the sliders among them."""
    draw = random.Random(seed)
    ends = [(w, a, length) for w in (10, 400) for a in (0, 2.5) for length in (1.2, 2.2)]
    return ends + [
        (draw.uniform(10, 400), draw.uniform(0, 2.5), draw.uniform(1.2, 2.2)) for _ in range(count)
    ]


def changes(weight, ahead, wheelbase):
    """What the package says, by its longest way: two predicted states compared."""
    plot = Tractor("plot", wheelbase, 5000, 5000)
    told = compare(predict(plot), predict(plot, Attachment("bucket", weight, ahead)))
    return told.front_kg, told.rear_kg


def test_the_script_says_what_the_package_says():
    node = shutil.which("node")
    if node is None:
        pytest.skip("no Node.js here to run the script; tests/browser runs the whole page")
    script = (
        "\n".join(map(offline_page.in_script, offline_page.FORMULAS))
        + "\n"
        + CALLS % json.dumps(grid())
    )
    told = subprocess.run(
        [node, "-e", script], capture_output=True, text=True, timeout=60, check=True
    )
    for (weight, ahead, wheelbase), (front, rear, factor, doubles) in zip(
        grid(), json.loads(told.stdout), strict=True
    ):
        assert (front, rear) == pytest.approx(changes(weight, ahead, wheelbase), abs=1e-9)
        assert factor == pytest.approx(front / weight) and doubles == pytest.approx(wheelbase)


def test_a_formula_that_a_script_would_read_otherwise_is_refused():
    def power(W, a, L):
        return W * a**L

    with pytest.raises(ValueError, match="power uses Pow"):
        offline_page.in_script(power)


def test_the_page_is_one_file_that_asks_nothing_of_anybody():
    page = offline_page.page()
    assert not re.search(
        r"https?:|//[a-z]|\bsrc=|@import|url\(|fetch|XMLHttp|import\(|localStorage|cookie", page
    )
    assert "default-src 'none'" in page and "/*" not in page.split("<script>")[1]
    assert len(page) < 20_000


def test_every_control_has_a_name_and_every_formula_comes_from_the_package():
    page = offline_page.page()
    for box in re.findall(r"<input id=\"([^\"$]+)\"", page):
        assert f'<label for="{box}">' in page
    assert statics.front_gain.__name__ in page and "W * (1 + a / L)" in page


def test_the_command_writes_the_file_and_refuses_other_words(tmp_path, capsys):
    assert offline_page.main([str(tmp_path / "page.html")]) == 0
    assert (tmp_path / "page.html").read_text("utf-8") == offline_page.page()
    assert offline_page.main([]) == 2 and "Name one file" in capsys.readouterr().err
