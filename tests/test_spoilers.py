"""No answer before its question: the whole page of a lesson that nobody has answered.

Every cell is run as the page would run it; then everything a reader could see or hear is read:
cells of text, figures' words, pictures, panels.  The lesson's own data says what gives it away.
"""

import json
import re
from html import unescape
from pathlib import Path

import pytest
from IPython.utils.capture import capture_output

from leverarm.data import lessons as lesson_files
from leverarm.panels.base import Panel, shared
from leverarm.panels.on_stage import OnStage, Shut
from leverarm.panels.written import demo_numbers

NOTEBOOKS = Path(__file__).resolve().parents[1] / "notebooks"
FILES = {number: entry for number, entry in lesson_files().items() if "spoilers" in entry}


def notebook(number):
    (path,) = NOTEBOOKS.glob(f"{number:02d}_*.ipynb")
    return json.loads(path.read_text("utf-8"))["cells"]


def spoilers(number, system):
    numbers = demo_numbers(system)
    texts = FILES[number].part("spoilers").texts("texts")
    return [text.format(**numbers).lower() for text in texts]


def words_of(widget):
    """Every text of a widget and of all in it."""
    for name in ("value", "description", "placeholder", "tooltip"):
        value = getattr(widget, name, None)
        if isinstance(value, str):
            yield value
    for option in getattr(widget, "options", None) or ():
        yield str(option)
    for child in getattr(widget, "children", ()):
        yield from words_of(child)


def run(cells):
    """Run the code cells; the page as it then stands, and the panels on it."""
    page, panels, names = [], [], {"__name__": "__main__"}
    for cell in cells:
        source = "".join(cell["source"])
        if cell["cell_type"] == "markdown":
            page.append(source)
            continue
        *before, last = source.rstrip().splitlines()
        code, result = "\n".join(before), None
        with capture_output() as shown:
            try:
                value = compile(last, "cell", "eval")
            except SyntaxError:
                exec(source, names)
            else:
                exec(code, names)
                result = eval(value, names)
        page.append(shown.stdout)
        if isinstance(result, Panel):
            panels.append(result)
    return page, panels


def whole_page(page, panels):
    parts = list(page)
    for panel in panels:
        parts += words_of(panel.widget)
        if isinstance(panel, OnStage):
            parts.append(panel._shown_html)
    # Style rules and the names of columns in data are not seen by anybody.
    text = unescape(unescape(" ".join(part for part in parts if "<style>" not in part)))
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*class=[^>]*>", " \\g<0> ", text)).lower()


def given_away(text, number, system):
    return [
        spoiler
        for spoiler in spoilers(number, system)
        if re.search(rf"(?<![\d.,]){re.escape(spoiler)}", text)
    ]


@pytest.fixture(params=["lb", "kg"])
def system(request, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    before = shared.system
    shared.set(system=request.param)
    yield request.param
    shared.set(system=before)


@pytest.mark.parametrize("number", FILES)
def test_an_unanswered_page_gives_nothing_away(number, system):
    text = whole_page(*run(notebook(number)))
    assert len(text) > 5000
    assert given_away(text, number, system) == []


@pytest.mark.parametrize("number", FILES)
def test_every_planted_spoiler_is_found(number, system):
    page, panels = run(notebook(number)[:3])
    for spoiler in spoilers(number, system):
        assert given_away(whole_page([*page, f"So {spoiler} it is."], panels), number, system)


def test_the_answers_come_with_the_lock(system):
    page, panels = run(notebook(2))
    (stage,) = [one for one in panels if isinstance(one, OnStage)]
    numbers = demo_numbers(system)
    stage.lock_in(front=numbers["bucket"], rear="-10 lb")
    stage.explain("The front gained more than the bucket.")
    stage.free()
    assert all(one.panel for one in panels if isinstance(one, Shut))
    found = given_away(whole_page(page, panels), 2, system)
    assert numbers["bucket_front"] in found and len(found) >= 4


def test_the_answers_of_the_weigh_day_come_with_the_lock(system):
    page, panels = run(notebook(5))
    (stage,) = [one for one in panels if isinstance(one, OnStage)]
    stage.lock_in(weight="520 lb", overhang="50 in")
    stage.explain("The rear went down.")
    assert all(one.panel for one in panels if isinstance(one, Shut))
    found = given_away(whole_page(page, panels), 5, system)
    numbers = demo_numbers(system)
    assert {numbers["forks"], numbers["forks_ahead"]} <= set(found) and len(found) >= 8
