"""A machine from the side, as its problem tells it: on two scales, on a slope, with an arm up."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from leverarm import outline
from leverarm.problem_pictures.columns import axle_columns, column_room, lower_em
from leverarm.problem_pictures.told import Told
from leverarm.scene.machine_drawing import PAD_M, as_shapes, ground, tractor_shapes
from leverarm.scene.shapes import (
    Arrow,
    Circle,
    Dimension,
    Label,
    Line,
    Marker,
    Point,
    Scene,
    Shape,
    extent,
    turned,
)

# How a piece on the loader is drawn, by its name; a weight that is not named is a block.
_DRAWN = {
    "bucket": outline.bucket,
    "pallet fork": outline.forks,
    "weight box": outline.weight_box,
    "stone rake": outline.rake,
}
COLUMN_M = 0.55  # the height of the longest column
# A weight, its distance, from where it is measured: ahead of the front axle or behind it, behind
# the rear axle or ahead of it.
_HUNG = (
    ("W", "a", "ahead"),
    ("W", "a_in", "ahead"),
    ("W", "a_ft", "ahead"),
    ("W", "a_mm", "ahead"),
    ("W1", "a1", "ahead"),
    ("W2", "a2", "ahead"),
    ("W3", "a3", "ahead"),
    ("W3", "d3", "behind"),
    ("W", "c_r", "rear ahead"),
    ("W", "i", "behind"),
    ("Wo", "se", "rear ahead"),
    ("Wo", "i", "behind"),
    ("B", "b", "rear"),
    ("Bm", "bm", "rear"),
    ("", "w", "ahead"),
)
# Parts of the loader, and who sits: how high each pulls, how long its arrow is; words need room.
_LOADER = {"W2": (0.95, 0.5), "W3": (0.62, 1.25), "Wo": (1.35, 0.6)}


@dataclass(frozen=True)
class _Piece:
    """Something hung: where it is, from where that is measured, and what stands beside it.

    block   False for a part of the loader, whose arms are drawn already
    """

    ahead: float
    height: float
    long: float
    start: float
    weight: str
    arm: str
    block: bool = True


def _pieces(told: Told) -> list[_Piece]:
    """What hangs on the machine, with "?" where it is asked."""
    L, found = told.size("L"), []
    for weight, arm, side in _HUNG:
        if not told.label(arm) or (arm == "i" and not told.label(weight)):
            continue
        start = -L if side.startswith("rear") else 0.0
        ahead = start + (1 if side.endswith("ahead") else -1) * told.size(arm)
        u = outline.size_for(L)
        high, long = _LOADER.get(weight, (_height(ahead, L) / u, 0.5))
        words, loader = told.label(weight) or _unknown(told), weight in _LOADER
        found.append(_Piece(ahead, high * u, long * u, start, words, told.label(arm), not loader))
    if told.label("Wo") and not found:
        # Somebody sits there; how far back is not told.
        high, long = (one * outline.size_for(L) for one in _LOADER["Wo"])
        found.append(_Piece(told.size("se") - L, high, long, -L, told.label("Wo"), "", False))
    changed = "F1 R1 k measured_rear_change"
    others = [one for one in found if not one.weight or one.weight != told.label("Wo")]
    if not others and (told.has(changed) or told.label("W")):
        asked = "?" if told.kind == "length" else ""
        weight = told.label("W") or _unknown(told)
        ahead = told.size("a")
        found.append(_Piece(ahead, _height(ahead, L), 0.5, 0.0, weight, asked))
    return found


def _unknown(told: Told) -> str:
    return "?" if told.kind == "weight" else ""


def machine_scene(told: Told) -> Scene:
    """A machine on two scales, what hangs on it, every length that is given."""
    L, pieces = told.size("L"), _pieces(told)
    u = outline.size_for(L)
    hung: list[Point] = [(one.ahead, one.height) for one in pieces if one.block]
    columns, opens = axle_columns(told, L, bool(pieces))
    ahead = max([one.ahead for one in pieces] + [outline.NOSE_M * u]) + 0.4 * u
    behind = min([one.ahead for one in pieces] + [-L - 0.54 * u]) - 0.3 * u
    shapes: list[Shape] = [
        *ground(L, ahead, behind),
        *columns,
        *tractor_shapes(L),
        *_hung(L, hung, None if told.label("w") else told.piece),
        *_center(told),
    ]
    for one in pieces:
        shapes += _pull((one.ahead, one.height), one.weight, one.long)
    lower = lower_em(columns)
    lengths, rows = _lengths(told, pieces, lower)
    shapes += lengths
    low, _, high, _ = extent(shapes)
    desc = told.described(
        f"A machine from the side on two scales, facing left. {opens}".strip(),
        "L a a1 a2 a3 d3 c_r i se b bm x0 h",
    )
    box = (high + 0.1, -PAD_M - COLUMN_M, low - 0.1, 1.95 * u)
    left, right = column_room(columns)
    pad = (left, right, 1.5, 1.7 * rows + 1 + lower)
    return Scene(tuple(shapes), box, "Machine on two scales", desc, pad)


def _hung(L: float, places: Sequence[Point], piece: str | None) -> list[Shape]:
    """What hangs: a piece on the loader's arms, ballast on its hitch, any other weight a block.

    piece   what the piece farthest ahead is called; None where it hangs on no loader
    """
    u, parts = outline.size_for(L), list[outline.Part]()
    out = max((at for at in places if at[0] > outline.LEAST_REACH_M * u), default=None)
    for x, y in places:
        at = x, y
        if piece is not None and at == out:
            parts += [*outline.loader(L, at, u), _DRAWN.get(piece, outline.block)(at, u)]
        elif x < -L - outline.REAR_RADIUS_M * u:
            parts += [*outline.hitch(L, at, u), outline.ballast(at, u)]
        else:
            parts.append(outline.block(at, u))
    return as_shapes(parts)


def _height(ahead: float, L: float) -> float:
    u = outline.size_for(L)
    if ahead >= outline.NOSE_M * u:
        return outline.BUCKET_HEIGHT_M * u
    # On the hood, or beside the operator's feet.
    on = 1.2 if ahead > -0.5 * L else 0.85
    return (on if ahead > -L - 0.3 * u else outline.BALLAST_HEIGHT_M) * u


def _pull(at: Point, text: str, long: float) -> list[Shape]:
    """A weight's arrow; its length says nothing of the weight."""
    tail = (at[0], at[1] + long)
    shapes: list[Shape] = [Arrow(tail, at, "load", width=0.4), Marker(at, "ink", "round", 0.4)]
    if text:
        shapes.append(Label(tail, text, "load", "up", 0.25, text.replace(" ", "\n", 1), bold=True))
    return shapes


def _center(told: Told) -> list[Shape]:
    """The center of gravity of the machine, where the problem speaks of it."""
    if not told.has("T x0 h"):
        return []
    at = _center_at(told)
    u = outline.size_for(told.size("L"))
    shapes = _pull(at, told.label("T"), 0.8 * u)
    if told.label("h"):
        x, y = at
        foot = (x, -PAD_M)
        shapes.append(Line(((x, y), foot), "muted", 0.1, True))
        shapes.append(Label((x, 0.5 * y), told.label("h"), "ink", "right", 0.3, backed=True))
    if force := told.label("slowing_force"):
        tip = (at[0] - 0.6 * u, at[1])
        shapes += [Arrow(at, tip, "load", width=0.4), Label(tip, force, "load", "up", bold=True)]
    return shapes


def _center_at(told: Told) -> Point:
    return -told.size("x0"), told.size("h")


def _lengths(told: Told, pieces: Sequence[_Piece], lower: float) -> tuple[list[Shape], int]:
    """Every given length in a row under the columns, and how many rows there are.

    lower   ems that all of them stand lower
    """
    spans = [(-told.size("L"), 0.0, told.label("L"), "ink")] if told.label("L") else []
    spans += [(one.ahead, one.start, one.arm, "load") for one in pieces if one.arm]
    if told.label("x0"):
        spans.append((-told.size("x0"), 0.0, told.label("x0"), "load"))
    if told.label("p"):
        spans.append((-told.size("p"), 0.0, told.label("p"), "load"))
    shapes: list[Shape] = []
    rows: list[list[tuple[float, float]]] = []
    for start, end, text, role in spans:
        low, high = sorted((start, end))
        row = next(
            (at for at, taken in enumerate(rows) if all(high <= a or low >= b for a, b in taken)),
            len(rows),
        )
        if row == len(rows):
            rows.append([])
        rows[row].append((low, high))
        up, level = -1.1 - 1.7 * row - lower, -PAD_M - COLUMN_M
        shapes.append(Dimension((start, level, 0.0, up), (end, level, 0.0, up), text, role))
        for x in (start, end):
            top = (x, -PAD_M) if x not in (0.0, -told.size("L")) else (x, level)
            shapes.append(Line((top, (x, level, 0.0, up - 0.4)), "muted", 0.06, True))
    return shapes, max(1, len(rows))


def slope_scene(told: Told) -> Scene:
    """A machine on a slope, nose downhill, with its center of gravity."""
    L, angle = told.size("L"), told.size("j")
    u = outline.size_for(L)
    long = Line(((0.9 * u, 0.0), (-L - 0.9 * u, 0.0)), "ground", 0.16)
    standing: list[Shape] = [long, *tractor_shapes(L)]
    if told.label("h"):
        at, foot = _center_at(told), (_center_at(told)[0], 0.0)
        standing.append(Line((at, foot), "muted", 0.12, True))
    for name, up in (("L", -0.42), ("x0", -0.2)):
        if text := told.label(name):
            size, role = told.size(name), "ink" if name == "L" else "load"
            standing.append(Dimension((-size, up), (0.0, up), text, role))
    shapes: list[Shape] = list(turned(standing, (0.0, 0.0), -angle))
    (center,) = turned([Marker(_center_at(told), "ink", "diamond", 0.6)], (0.0, 0.0), -angle)
    (low_end,) = turned([Marker((0.9 * u, 0.0))], (0.0, 0.0), -angle)
    x, y = low_end.at
    reach = 0.75 * u
    shapes += [
        Line(((x, y), (x - reach, y)), "muted", 0.1, True),
        Label((x, y), told.label("j"), "ink", "down", 0.4, bold=True),
        center,
        *_pull(center.at, told.label("T"), 0.75 * u),
    ]
    if told.label("h"):
        (middle,) = turned([Marker((-told.size("x0"), 0.45 * told.size("h")))], (0.0, 0.0), -angle)
        shapes.append(Label(middle.at, told.label("h"), "ink", "right", 0.4, backed=True))
    desc = told.described("A machine from the side on a slope, its nose downhill.", "L x0 h j")
    low, bottom, high, top = extent(shapes)
    return Scene(
        tuple(shapes), (high, bottom - 0.1, low, top), "Machine on a slope", desc, (3, 4, 2, 2)
    )


def arc_scene(told: Told) -> Scene:
    """A machine with its arm up: the pivot, the reach, and the angle above level."""
    L, p, r, angle = told.size("L"), told.size("p"), told.size("r"), told.size("o")
    u = outline.size_for(L)
    pivot = (-p, outline.PIN[2] * u)
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    tip = (pivot[0] + r * c, pivot[1] + r * s)
    middle = (pivot[0] + 0.55 * r * c, pivot[1] + 0.55 * r * s)
    shapes: list[Shape] = [
        *ground(L, outline.NOSE_M * u + 1.4 * u, -L - 0.9 * u),
        *tractor_shapes(L),
        *as_shapes([outline.lift_mast(pivot, u), outline.lift_arms(pivot, r, (c, s))]),
        *as_shapes([outline.bucket(tip, u)]),
        Line((pivot, tip), "ink", 0.1),
        Line((pivot, (pivot[0] + 0.6 * r, pivot[1])), "muted", 0.1, True),
        Circle(pivot, 0.06 * u, "load"),
        Marker(tip, "ink", "round", 0.4),
        Label(middle, told.label("r"), "load", "right", 0.5, bold=True, backed=True),
        Label((pivot[0] + 0.6 * r, pivot[1]), told.label("o"), "ink", "left", 0.4, bold=True),
    ]
    for x, top in ((-p, pivot[1]), (0.0, 0.0)):
        shapes.append(Line(((x, top), (x, -PAD_M, 0.0, -1.6)), "muted", 0.06, True))
    low, high = (-p, -PAD_M, 0.0, -1.2), (0.0, -PAD_M, 0.0, -1.2)
    shapes.append(Dimension(low, high, told.label("p"), "load"))
    desc = told.described("A machine from the side, its loader up ahead of it.", "p r o")
    left, _, right, top = extent(shapes)
    box = (max(right, tip[0]) + 0.2, -PAD_M, left, max(top, tip[1]) + 0.2)
    return Scene(tuple(shapes), box, "Machine with its arm up", desc, (1, 1, 1, 2.6))
