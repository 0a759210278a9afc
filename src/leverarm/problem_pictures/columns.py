"""What a scale pushes up, as a column under it; open at the bottom where it is not given."""

from collections.abc import Iterable

from leverarm.outline import size_for
from leverarm.problem_pictures.told import Told
from leverarm.scene.layout import LINE_HEIGHT, text_width
from leverarm.scene.machine_drawing import PAD_M
from leverarm.scene.shapes import Label, Line, Point, Polygon, Shape

TALLEST_M = 0.5
_WHEN = {1: "unloaded", -1: "loaded"}  # which reading stands on which side
_UNDER_GROUND_EM = 0.3
_BESIDE_EM = 1.9  # of a column's words, what stands beside the machine on a small drawing too


def scale_column(x: float, width: float, role: str, height: float | None) -> list[Shape]:
    """A column down from a scale; None leaves it open at the bottom."""
    left, right, top = x - width / 2, x + width / 2, -PAD_M
    if height is None:
        return [Line(((edge, top), (edge, top - TALLEST_M)), role, 0.2) for edge in (left, right)]
    corners = ((left, top), (right, top), (right, top - height), (left, top - height))
    return [Polygon(corners, role)]


def axle_columns(told: Told, wheelbase_m: float, hung: bool) -> tuple[list[Shape], str]:
    """The columns of both axles, and a sentence on those that are open."""
    shapes: list[Shape] = []
    most = max([told.sizes.get(name, 0.0) for name in ("F0", "F1", "R0", "R1")] + [1e-9])
    # Where somebody got off meanwhile, the load is not all that tells the two apart.
    when = {1: "before", -1: "now"} if told.label("Wo") and told.label("F1") else _WHEN
    width, opened = 0.17 * size_for(wheelbase_m), []
    for axle, x, outer in (("front", 0.0, 1), ("rear", -wheelbase_m, -1)):
        letter = axle[0].upper()
        before, now = told.label(f"{letter}0"), told.label(f"{letter}1")
        if not before and not now:
            # A change that is given has no size of its own.
            change = told.label(f"measured_{axle}_change")
            shapes += scale_column(x, width, axle, None)
            if change:
                shapes.append(_text(x, change, axle, outer, width))
            opened.append(axle)
            continue
        both = bool(before) and (hung or bool(now))
        texts = []
        for name, text, side in ((f"{letter}0", before, 1), (f"{letter}1", now, -1)):
            place = x + (0.6 * width * side * outer if both else 0.0)
            if text:
                height = TALLEST_M * told.sizes.get(name, most) / most
                shapes += scale_column(place, width, axle, height)
                texts.append([when[side], text] if both else [text])
            elif both:
                shapes += scale_column(place, width, axle, None)
                opened.append(axle)
        edge = 1.6 * width if both else width
        # Where both are given their letters tell them apart, and the drawing stays large.
        rows = texts[0] if len(texts) == 1 else [row[-1] for row in texts]
        shapes.append(_text(x, "\n".join(rows), axle, outer, edge))
    if not opened:
        return shapes, ""
    which = " and the ".join(opened)
    if len(opened) > 1:
        ends = "columns are open at the bottom: what the scales show is not given."
    else:
        ends = "column is open at the bottom: what that scale shows is not given."
    return shapes, f"The {which} {ends}"


def lower_em(shapes: Iterable[Shape]) -> float:
    """Ems by which lengths stand lower, where the words beside a column take two lines."""
    words = (one.text for one in shapes if isinstance(one, Label))
    return max((0.5 * text.count("\n") for text in words), default=0.0)


def column_room(shapes: Iterable[Shape]) -> tuple[float, float]:
    """Ems left and right of a drawing for the words beside its columns."""
    room = {"left": 1.5, "right": 1.5}
    for one in shapes:
        if isinstance(one, Label):
            wide = max(text_width(line, one.bold) for line in one.text.split("\n"))
            room[one.side] = max(room[one.side], wide - _BESIDE_EM)
    return room["left"], room["right"]


def _text(x: float, text: str, role: str, side: int, width: float) -> Label:
    """Words beside a column; side 1 is the one ahead, at the left on the page.

    Two lines begin under the ground: on a small drawing they are higher than half a column.
    """
    lines = text.count("\n") + 1
    edge: Point = (x + side * width * 0.6, -PAD_M - 0.5 * TALLEST_M)
    if lines > 1:
        edge = (edge[0], -PAD_M, 0.0, -0.5 * LINE_HEIGHT * lines - _UNDER_GROUND_EM)
    return Label(edge, text, role, "left" if side > 0 else "right", 0.3, None, True, bold=True)
