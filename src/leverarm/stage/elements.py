"""A picture and its controls as a tree of elements, and the tree as text.

The same drawing function gives the tree from numbers (a still picture) and from recorded
quantities (a picture that moves).  A tree has the same elements at every state: what comes and
goes is hidden, not left out.
"""

from collections.abc import Callable, Iterable, Iterator
from functools import cache
from html import escape
from itertools import count
from typing import NamedTuple

from leverarm.numerals import Numeric

# Attributes that are there or not; an empty text leaves them out.
SWITCHES = ("hidden", "disabled", "checked")
# Elements without an end.
_EMPTY = ("input", "br")
# Most texts are coordinates: a text without any of these stands as it is.
_none_of_these = frozenset("&<>\"'").isdisjoint


class Element(NamedTuple):
    """A tag, its attributes, and what stands inside: elements, or one text."""

    tag: str
    attributes: tuple[tuple[str, str], ...] = ()
    inside: tuple["Element | str", ...] = ()

    @property
    def words(self) -> str:
        """The text of an element that holds nothing else."""
        only = self.inside[0] if len(self.inside) == 1 else ""
        return only if isinstance(only, str) else ""


def element(tag: str, *inside: Element | str | Iterable[Element], **attributes: object) -> Element:
    """An element; ``class_`` and ``stroke_width`` give the attributes class and stroke-width.

    >>> as_text(element("text", "front & rear", x=px(1.25), class_="front"))
    '<text x="1.2" class="front">front &amp; rear</text>'
    """
    parts: list[Element | str] = []
    for one in inside:
        if isinstance(one, (Element, str)):
            parts.append(one)
        else:
            parts.extend(one)
    named = [
        (_attribute(name), str(value)) for name, value in attributes.items() if value is not None
    ]
    return Element(tag, tuple(named), tuple(parts))


@cache
def _attribute(name: str) -> str:
    return name.rstrip("_").replace("_", "-")


def px(value: Numeric) -> str:
    """A coordinate: one decimal, and no minus before zero.

    >>> px(-0.04), px(12.25)
    ('0.0', '12.2')
    """
    text = f"{value:.1f}"
    return "0.0" if text == "-0.0" else text


def angle(degrees: Numeric) -> str:
    """An angle: two decimals, and no minus before zero."""
    text = f"{degrees:.2f}"
    return "0.00" if text == "-0.00" else text


def turning(c: Numeric, s: Numeric, x: Numeric, y: Numeric) -> str:
    """The transform that turns about a point, left end down: by cosine and sine of the angle.

    >>> turning(1.0, 0.0, 20.0, 30.0)
    'matrix(1.0000 0.0000 0.0000 1.0000 0.00 0.00)'
    """

    def cell(value: Numeric, places: int) -> str:
        text = f"{value:.{places}f}"
        return text[1:] if text in ("-0.0000", "-0.00") else text

    along, down = x - c * x - s * y, y + s * x - c * y
    first = (cell(one, 4) for one in (c, 0 - s, s, c))
    return f"matrix({' '.join(first)} {cell(along, 2)} {cell(down, 2)})"


def corners(points: Iterable[tuple[Numeric, Numeric]]) -> str:
    """The points of a polygon.

    >>> corners([(0, 1), (2.5, 3)])
    '0.0,1.0 2.5,3.0'
    """
    return " ".join([f"{px(x)},{px(y)}" for x, y in points])


def every_element(tree: Element) -> Iterator[Element]:
    """The element and all that stand inside it, in the order of the text."""
    waiting = [tree]
    while waiting:
        one = waiting.pop()
        yield one
        waiting += [part for part in reversed(one.inside) if isinstance(part, Element)]


def as_text(tree: Element, numbers: dict[int, int] | None = None) -> str:
    """The tree as text; ``numbers`` marks elements (by place) for the page."""
    parts: list[str] = []
    _write(tree, numbers or {}, count(), parts.append)
    return "".join(parts)


def _escaped(text: str) -> str:
    return text if _none_of_these(text) else escape(text)


def _write(
    tree: Element, numbers: dict[int, int], places: Iterator[int], say: Callable[[str], None]
) -> None:
    number = numbers.get(next(places))
    marked = "" if number is None else f' data-b="{number}"'
    named = [
        f' {name}="{_escaped(value)}"' if name not in SWITCHES else f' {name}=""'
        for name, value in tree.attributes
        if value or name not in SWITCHES
    ]
    say(f"<{tree.tag}{marked}{''.join(named)}>")
    if tree.tag in _EMPTY:
        return
    for one in tree.inside:
        if isinstance(one, Element):
            _write(one, numbers, places, say)
        else:
            say(_escaped(one))
    say(f"</{tree.tag}>")
