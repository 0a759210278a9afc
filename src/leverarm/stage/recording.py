"""A drawing as data for the page: its text, the rows behind it, and where their numbers go.

:func:`recorded` runs a drawing once on recorded quantities.  What comes out is plain data, fit for
JSON: ``stage.js`` interprets it and knows nothing of what the picture shows.
"""

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, TypeAlias

from leverarm.data import toml_file
from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage.elements import Element, as_text, every_element
from leverarm.stage.recorder import TOKEN, Either, Printed, Recorder

Piece: TypeAlias = str | list[Any]


@dataclass(frozen=True)
class Input:
    """A value that moves: its name, range, start and step, in the unit shown.

    decimals    how its box prints it
    sign        True prints a plus sign too
    """

    name: str
    low: float
    high: float
    start: float
    step: float = 1.0
    decimals: int = 0
    sign: bool = False


@dataclass(frozen=True)
class Handle:
    """A place in the picture to take hold of an input; the page finds out which way it goes.

    moves   the input's name
    sheet   the class of the picture it belongs to
    at      where its center is, in the picture's own units
    """

    moves: str
    sheet: str
    at: tuple[Numeric, Numeric]


@dataclass(frozen=True)
class Drawing:
    """What a drawing function gives: the tree, the handles, and conditions that stay once met.

    latches  input name to condition: once true, the input is 1 for good
    """

    tree: Element
    handles: tuple[Handle, ...] = ()
    latches: Mapping[str, Numeric] = field(default_factory=dict)


Draw: TypeAlias = Callable[[Mapping[str, Numeric]], Drawing]


def start_of(inputs: tuple[Input, ...]) -> dict[str, float]:
    """The state a picture begins with."""
    return {one.name: float(one.start) for one in inputs}


def recorded(draw: Draw, inputs: tuple[Input, ...]) -> dict[str, Any]:
    """Everything the page needs to move a drawing, as plain data.

    markup      the text at the start, elements to be written marked data-b
    numbers, inputs, rows     the arithmetic: constants, names, then [operation, row, ...]
    bindings    [element, attribute or "" for its words, pieces]
    """
    recorder = Recorder()
    moving = {one.name: recorder.input(one.name, one.low, one.high) for one in inputs}
    drawing = draw(moving)
    marks: dict[int, int] = {}
    found: list[list[Any]] = []
    for place, name, pieces in _places(drawing.tree, recorder):
        found.append([marks.setdefault(place, len(marks)), name, pieces])
    row_of = recorder.row_of
    handles: list[list[Any]] = [
        [one.moves, one.sheet, *map(row_of, one.at)] for one in drawing.handles
    ]
    latches: list[list[Any]] = [[name, row_of(met)] for name, met in drawing.latches.items()]
    table, renamed = _needed(recorder, found, handles, latches)
    start = start_of(inputs)
    values = recorder.work_out(start)
    return {
        "markup": as_text(_at(drawing.tree, recorder, values), marks),
        **table,
        "bindings": [[mark, name, _renamed(pieces, renamed)] for mark, name, pieces in found],
        "handles": [[moves, sheet, renamed[x], renamed[y]] for moves, sheet, x, y in handles],
        "latches": [[name, renamed[row]] for name, row in latches],
        "ranges": {
            one.name: [one.low, one.high, one.step, one.decimals, int(one.sign)] for one in inputs
        },
        "start": start,
        "signs": _signs(),
        "ways": _ways(),
    }


def _at(tree: Element, recorder: Recorder, values: list[float]) -> Element:
    """A tree with all its tokens written out."""
    return Element(
        tree.tag,
        tuple((name, fill_token(value, recorder, values)) for name, value in tree.attributes),
        tuple(
            fill_token(one, recorder, values)
            if isinstance(one, str)
            else _at(one, recorder, values)
            for one in tree.inside
        ),
    )


def fill_token(text: str, recorder: Recorder, values: list[float]) -> str:
    """A text with its tokens written out for the numbers of all rows."""

    def one(number: str) -> str:
        piece = recorder.pieces[int(number)]
        if isinstance(piece, Either):
            return fill_token(piece.yes if values[piece.row] else piece.no, recorder, values)
        return printed(values[piece.row], piece)

    return TOKEN.sub(lambda token: one(token[1]), text)


def printed(number: float, piece: Printed) -> str:
    """A row's number as it stands in a text; stage.js writes the same."""
    if piece.style == "plain":
        text = f"{number:.{piece.decimals}f}"
        return text if text.strip("-0.") else text.lstrip("-")
    return show_number(number, piece.decimals, sign=piece.style == "signed")


def _places(tree: Element, recorder: Recorder) -> Iterator[tuple[int, str, list[Piece]]]:
    """(element's place in the every_element, attribute or "", pieces) wherever a token stands."""
    for place, one in enumerate(every_element(tree)):
        for name, value in one.attributes:
            if TOKEN.search(value):
                yield place, name, _pieces(value, recorder)
        if TOKEN.search(one.words):
            yield place, "", _pieces(one.words, recorder)
        elif any(isinstance(part, str) and TOKEN.search(part) for part in one.inside):
            raise TypeError(f"<{one.tag}>: moving words stand alone in their element, use a tspan")


def _pieces(text: str, recorder: Recorder) -> list[Piece]:
    """A text as words, [row, decimals, style] and [row, pieces if so, pieces if not]."""
    found: list[Piece] = []
    for at, part in enumerate(TOKEN.split(text)):
        if at % 2 == 0:
            found += [part] if part else []
            continue
        piece = recorder.pieces[int(part)]
        if isinstance(piece, Printed):
            found.append([piece.row, piece.decimals, piece.style])
        else:
            found.append([piece.row, _pieces(piece.yes, recorder), _pieces(piece.no, recorder)])
    return found


def _asked(pieces: list[Piece]) -> Iterator[int]:
    for piece in pieces:
        if isinstance(piece, list):
            yield piece[0]
            if isinstance(piece[1], list):
                yield from _asked(piece[1])
                yield from _asked(piece[2])


def _renamed(pieces: list[Piece], names: dict[int, int]) -> list[Piece]:
    def one(piece: Piece) -> Piece:
        if isinstance(piece, str):
            return piece
        if isinstance(piece[1], list):
            return [names[piece[0]], _renamed(piece[1], names), _renamed(piece[2], names)]
        return [names[piece[0]], *piece[1:]]

    return [one(piece) for piece in pieces]


def _needed(
    recorder: Recorder,
    found: list[list[Any]],
    handles: list[list[Any]],
    latches: list[list[Any]],
) -> tuple[dict[str, list[Any]], dict[int, int]]:
    """The table of the rows somebody asks for, and their new numbers: constants, inputs, rest."""
    wanted = {row for _, _, pieces in found for row in _asked(pieces)}
    wanted |= {row for _, _, *rows in handles for row in rows} | {row for _, row in latches}
    todo = list(wanted)
    while todo:
        name, *given = recorder.rows[todo.pop()]
        if name not in ("input", "number"):
            todo += set(given) - wanted
            wanted |= set(given)
    kinds: dict[str, list[int]] = {"number": [], "input": [], "row": []}
    for at in sorted(wanted):
        name = recorder.rows[at][0]
        kinds[name if name in kinds else "row"].append(at)
    order = [at for kind in kinds.values() for at in kind]
    renamed = {at: new for new, at in enumerate(order)}
    rows = [recorder.rows[at] for at in kinds["row"]]
    return {
        "numbers": [recorder.rows[at][1] for at in kinds["number"]],
        "inputs": [recorder.rows[at][1] for at in kinds["input"]],
        "rows": [[name, *(renamed[at] for at in given)] for name, *given in rows],
    }, renamed


def _signs() -> dict[str, Any]:
    """How `show_number` writes a minus and a thousand, told to the page instead of typed there."""
    grouped = next(n for n in range(3, 9) if not show_number(10.0**n, 0).isdigit())
    return {
        "minus": show_number(-1, 0)[0],
        "group": show_number(10.0**grouped, 0)[grouped - 2],
        "from": 10**grouped,
    }


def _ways() -> dict[str, int]:
    """The words that stand for a sign before a typed number: "down" is -1."""
    told = toml_file("stage").part("ways")
    return {word: int(told.number(word)) for word in told}


def as_json(data: Mapping[str, Any]) -> str:
    """Data as JSON that may stand inside a script element or an attribute."""
    return json.dumps(data, separators=(",", ":"), ensure_ascii=False).replace("</", "<\\/")
