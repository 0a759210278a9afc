"""The yard page as one file, and the two files that keep it at hand where it is served.

python -m leverarm.yard_page FILE        the page alone, to send to a phone
python -m leverarm.yard_page FOLDER      the page as index.html, and what keeps it offline
"""

import re
import sys
from collections.abc import Mapping, Sequence
from functools import cache
from hashlib import sha256
from importlib.resources import files
from pathlib import Path
from typing import Any

from leverarm.files import write_whole
from leverarm.numerals import Numeric
from leverarm.quantities import SYSTEMS
from leverarm.stage.elements import element
from leverarm.stage.recorder import OPERATIONS
from leverarm.stage.recording import Draw, Drawing, as_json, recorded, start_of
from leverarm.weighing.day_header import FORMAT, FORMAT_KEY
from leverarm.weighing.day_text import DAY_COLUMNS
from leverarm.weighing.facts import GROUNDS, PLACINGS
from leverarm.yard_page.asking import asking_screens
from leverarm.yard_page.customer import customer_sheet
from leverarm.yard_page.readings import YardInputs
from leverarm.yard_page.telling import telling_screens
from leverarm.yard_page.told import YardTold

# The rows as text: a letter for the operation, then the rows it takes in base 36.
LETTERS = dict(zip(OPERATIONS, "abcdefghijklmnopqrstuvwxyz", strict=False))
_DIGITS = "0123456789abcdefghijklmnopqrstuvwxyz"


def all_screens(typed: YardInputs) -> Draw:
    """Every screen, and the customer's sheet, of one unit system."""

    def draw(v: Mapping[str, Numeric]) -> Drawing:
        told = YardTold(typed, v)
        return Drawing(
            element("div", *asking_screens(told), *telling_screens(told), customer_sheet(told))
        )

    return draw


@cache
def page_data(system: str) -> dict[str, Any]:
    """What the page needs of one unit system, as plain data."""
    typed = YardInputs(system)
    data = recorded(all_screens(typed), typed.inputs)
    data["rows"] = " ".join(
        LETTERS[name] + ".".join(_in_36(row) for row in given) for name, *given in data["rows"]
    )
    data["markup"] = _first_and_rest(_without_bound(data["markup"], data["bindings"]))
    return {key: data[key] for key in ("markup", "numbers", "inputs", "rows", "bindings", "signs")}


def _first_and_rest(markup: str) -> list[str]:
    """The first screen, and the others, which may wait; without the element around them."""
    first = markup.index("<section")
    rest = markup.index("<section", first + 1)
    inside = [markup[first:rest], markup[rest : markup.rindex("</div>")]]
    return [part.replace("st@", "yp") for part in inside]


_MARKED = re.compile(r'<([a-z0-9]+) data-b="(\d+)"([^>]*)>([^<]*)')


def _without_bound(markup: str, bindings: list[list[Any]]) -> str:
    """The text without what the page writes anyway as it opens."""
    bound: dict[str, set[str]] = {}
    for mark, name, _ in bindings:
        bound.setdefault(str(mark), set()).add(name)

    def one(found: re.Match[str]) -> str:
        tag, mark, named, words = found.groups()
        for name in bound[mark] - {""}:
            named = re.sub(rf' {name}="[^"]*"', "", named)
        return f'<{tag} data-b="{mark}"{named}>{"" if "" in bound[mark] else words}'

    return _MARKED.sub(one, markup)


def _in_36(number: int) -> str:
    text = ""
    while number:
        number, digit = divmod(number, 36)
        text = _DIGITS[digit] + text
    return text or "0"


def common_data() -> dict[str, Any]:
    """What the first screen needs, and what both unit systems share: the words of a day's file."""
    return {
        "letters": {letter: name for name, letter in LETTERS.items()},
        "format": [FORMAT_KEY, FORMAT],
        "columns": list(DAY_COLUMNS),
        "start": {system: start_of(YardInputs(system).inputs) for system in SYSTEMS},
        "placings": list(PLACINGS),
        "grounds": list(GROUNDS),
        "setups": {
            "bucket": ["loader frame + bucket", "loader frame"],
            "loader frame": ["loader frame", "bare"],
            "whole loader": ["loader frame + bucket", "bare"],
        },
    }


def yard_page() -> str:
    """The page as text."""
    here, stage = files("leverarm.yard_page"), files("leverarm.stage")

    def own(name: str) -> str:
        return here.joinpath(name).read_text("utf-8")

    data = {system: page_data(system) for system in SYSTEMS}
    filled = {
        "/*style*/": _picture_rules() + own("yard.css"),
        "/*stage*/": stage.joinpath("stage.js").read_text("utf-8"),
        "/*record*/": own("record.js"),
        "/*script*/": own("yard.js"),
    }
    plain = {
        "<!-- first -->": data["lb"]["markup"][0].replace(" hidden", "", 1),
        "/*common*/": as_json(common_data()),
        **{f"/*{system}*/": as_json(told) for system, told in data.items()},
    }
    text = own("page.html")
    for place, words in filled.items():
        text = text.replace(place, _lean(words))
    for place, words in plain.items():
        text = text.replace(place, words)
    return text


def _picture_rules() -> str:
    """The stage's rules for its pictures, without those for its controls, which follow them."""
    text = files("leverarm.stage").joinpath("stage.css").read_text("utf-8")
    return text[: text.index(".st-question")]


def _lean(text: str) -> str:
    """A script or style sheet without its indents and its lines of remarks."""
    lines = (line.strip() for line in text.splitlines())
    return "\n".join(line for line in lines if line and not line.startswith(("//", "/* ")))


def offline_cache(text: str) -> str:
    """The script that keeps a served page at hand; its name changes with the page."""
    own = files("leverarm.yard_page").joinpath("offline.js").read_text("utf-8")
    return own.replace("/*edition*/", sha256(text.encode()).hexdigest()[:12])


def main(words: Sequence[str]) -> int:
    """Write the page to the file, or with its offline cache into the folder, named."""
    if len(words) != 1:
        print("Name one file or folder: python -m leverarm.yard_page FILE", file=sys.stderr)
        return 2
    goal, text = Path(words[0]), yard_page()
    if not goal.is_dir():
        write_whole(goal, text.encode())
        return 0
    write_whole(goal / "index.html", text.encode())
    write_whole(goal / "offline.js", offline_cache(text).encode())
    return 0
