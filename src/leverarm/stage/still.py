"""A picture of the stage that stands still: one state of a drawing as a file of its own.

The same drawing function that moves in the page draws it, so there is one way to draw a machine.
A picture on paper or in a text has no theme: its colors are those of light paper.
"""

import re
from collections.abc import Iterator, Mapping
from functools import cache
from hashlib import sha1
from importlib.resources import files

from leverarm.numerals import Numeric
from leverarm.quantities import Refusal
from leverarm.stage.elements import Element, as_text, every_element
from leverarm.stage.recording import Draw, Input, start_of
from leverarm.stage.sheet import DESK

# What a group begins with that says what somebody said, or where to take hold.
FOR_A_READER = ("st-tag", "st-ring")
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")


def still_picture(
    draw: Draw,
    inputs: tuple[Input, ...],
    state: Mapping[str, Numeric] | None = None,
    *,
    words: str = "",
    sheet: str = DESK.name,
    top: float = 0.0,
) -> tuple[str, str]:
    """The picture of one state as an SVG text, and its words for who cannot see it.

    What was said and what a hand takes hold of is left out: nobody has answered, nothing moves.
    state   values that differ from the start;  words  the picture's words, if not its own
    sheet   the size of paper
    top     how much of the top is cut off, where the page keeps room for a question
    """
    tree = draw({**start_of(inputs), **(state or {})}).tree
    for one in every_element(tree):
        if one.tag == "svg" and dict(one.attributes).get("data-sheet") == sheet:
            said = words or dict(one.attributes)["aria-label"]
            return _file(one, said, top), said
    raise Refusal("sheet", sheet, "a size of paper of this picture", "choose desk, large or phone")


def _file(svg: Element, said: str, top: float) -> str:
    """The element as a file: what is hidden left out, sizes and colors written in."""
    told = dict(svg.attributes)
    _, _, width, height = (float(number) for number in told["viewBox"].split())
    inside = "".join(as_text(part) for part in _seen(svg.inside))
    key = "st" + sha1(inside.encode()).hexdigest()[:8]
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 {top:g} {width:g} {height - top:g}" '
        f'width="{width:g}" height="{height - top:g}" role="img" aria-labelledby="{key}-t" '
        'font-family="system-ui, sans-serif">'
    )
    title = as_text(Element("title", (("id", f"{key}-t"),), (said,)))
    paper = (
        f'<rect y="{top:g}" width="{width:g}" height="{height - top:g}" class="st-ground"></rect>'
    )
    return f"{head}{title}<style>{light_rules()}</style>{paper}{inside}</svg>".replace("st@", key)


def _seen(inside: tuple[Element | str, ...]) -> Iterator[Element]:
    """What stands in a picture without what is not shown and what only a hand needs."""
    for one in inside:
        if isinstance(one, Element):
            told = dict(one.attributes)
            first = one.inside[0] if one.inside else None
            marks = dict(first.attributes).get("class") if isinstance(first, Element) else None
            unseen = told.get("display") == "none" or told.get("class") == "st-hit"
            if unseen or marks in FOR_A_READER:
                continue
            kept = tuple(part for part in one.inside if isinstance(part, str))
            attributes = tuple(
                (name, value)
                for name, value in one.attributes
                if not name.startswith("data-") and name != "display"
            )
            yield Element(one.tag, attributes, kept or tuple(_seen(one.inside)))


@cache
def light_rules() -> str:
    """The rules of stage.css that a picture needs, with the colors of light paper in them."""
    text = files("leverarm.stage").joinpath("stage.css").read_text("utf-8")
    colors = dict(re.findall(r"(--[a-z-]+): light-dark\((#[0-9A-Fa-f]{6}),", text))
    rules = []
    for where, told in _RULE.findall(text):
        name = where.strip()
        if re.fullmatch(r"(\.st-|\[class\^=st-line\])[a-z-]*", name) and name != ".st-hit":
            filled = re.sub(r"var\((--[a-z-]+)\)", lambda one: colors[one[1]], told.strip())
            rules.append(f"{name}{{{filled}}}")
    rules.append(f".st-ground{{fill: {colors['--ground']};}}")
    return "".join(rule for rule in rules if re.search(r"fill|stroke", rule))
